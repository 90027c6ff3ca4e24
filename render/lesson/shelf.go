package lesson

import (
	"path/filepath"
	"slices"

	"sextant/inverter/file"
)

var (
	lessonShelf   = file.Shelf{Folder: "lessons", Noun: "lesson"}
	scenarioShelf = file.Shelf{Folder: "scenarios", Noun: "scenario"}
)

// Names lists the built-in lessons.
func Names() []string { return lessonShelf.Names() }

// course is the built-in lessons in the order in which they build on each other.
var course = []string{
	"one-switch", "six-steps", "two-numberings", "three-sequences", "steps-to-sine", "dead-time", "frequency-and-voltage", "lead-lag",
	"off-low-high", "full-battery", "phase-lost", "guess-lead", "guess-joint", "guess-switch", "silicon-and-carbide",
	"one-lecture",
}

// Course lists the built-in lessons in the order in which they build on each other.
func Course() []string { return slices.Clone(course) }

// Find returns the file that name means, a built-in lesson or a path. An error is [file.Findings].
func Find(name string) (found string, data []byte, err error) { return lessonShelf.Find(name) }

// Open reads the lesson that name means, a built-in one or a file, and works it out. An error is
// [file.Findings].
func Open(name string) (*Lesson, error) {
	found, data, err := Find(name)
	if err != nil {
		return nil, err
	}
	return Load(found, data)
}

// Title returns the title of a lesson without working it out. An error is [file.Findings].
func Title(name string) (string, error) {
	found, data, err := Find(name)
	if err != nil {
		return "", err
	}
	d, wrong := file.Parse(found, data)
	if wrong != nil {
		return "", file.Findings{wrong}
	}
	title, _ := d.Values["title"].(string)
	return title, nil
}

// Is reports whether d is of a lesson: it has scenes.
func Is(d file.Document) bool { return d.Values["scene"] != nil }

// findScenario returns the scenario that name means in lesson from.
func findScenario(from, name string) (found string, data []byte, err error) {
	return scenarioShelf.Read(filepath.Dir(from), name)
}
