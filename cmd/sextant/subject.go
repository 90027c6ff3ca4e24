package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter/file"
	"sextant/motor/drive"
	"sextant/motor/scenario"
	"sextant/render/lesson"
)

// A subject is what a picture or a film shows: a scenario, or else a lesson.
type subject struct {
	scenario drive.Scenario
	lesson   *lesson.Lesson
}

// openSubject reads the scenario or the lesson that FILE means: a path, a built-in name, or - for standard input.
func openSubject(c *cobra.Command, name string) (s subject, err error) {
	var found string
	var data []byte
	if slices.Contains(lesson.Names(), name) {
		found, data, err = lesson.Find(name)
	} else {
		found, data, err = readScenario(c, name)
	}
	switch {
	case err == nil:
	case name == "-" || strings.ContainsAny(name, `./\`):
		return s, err
	default:
		known := append(lesson.Names(), scenario.Names()...)
		wrong := fmt.Errorf("there is no such file, and %w", file.Unknown("built-in scenario or lesson", name, known))
		return s, file.Findings{{File: name, Err: wrong}}
	}
	if d, wrong := file.Parse(found, data); wrong == nil && lesson.Is(d) {
		s.lesson, err = lesson.Load(found, data)
		return s, err
	}
	s.scenario, err = scenario.Load(found, data)
	return s, err
}

// only leaves of a lesson the scene of a number from 1, or all of them for 0.
func (s *subject) only(scene int) error {
	switch {
	case scene == 0:
		return nil
	case s.lesson == nil:
		return usage("--scene: a scenario has none; give a lesson, or leave it out")
	case scene < 1 || scene > len(s.lesson.Scenes):
		return usage("--scene: there is no scene %d; give 1 to %d", scene, len(s.lesson.Scenes))
	}
	s.lesson.Scenes = s.lesson.Scenes[scene-1 : scene]
	return nil
}

// refuse fails where flags were given that are for scenarios only, and a lesson is shown.
func (s *subject) refuse(c *cobra.Command, flags ...string) error {
	for _, name := range flags {
		if s.lesson != nil && c.Flags().Changed(name) {
			return usage("--%s: the lesson says this itself, scene by scene; leave it out", name)
		}
	}
	return nil
}

// oneSubject is the arguments of commands that show a subject.
func oneSubject(c *cobra.Command, args []string) error {
	switch len(args) {
	case 0:
		return errors.New(c.Name() + " shows a scenario or a lesson: give a file, or a name that \"sextant list\" shows")
	case 1:
		return nil
	}
	return fmt.Errorf("%s shows one scenario or lesson, not %d", c.Name(), len(args))
}

// completeSubject offers the built-in scenarios and lessons, and files.
var completeSubject = completeFirst(scenario.Names, lesson.Names)
