package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter/device"
	"sextant/inverter/pattern"
	"sextant/motor/duty"
	"sextant/motor/scenario"
	"sextant/render/lesson"
)

// listing is what the list command prints, by kind.
type listing struct {
	Scenarios []listed `json:"scenarios"`
	Machines  []listed `json:"machines"`
	Devices   []listed `json:"devices"`
	Patterns  []listed `json:"patterns"`
	Vehicles  []listed `json:"vehicles"`
	Cycles    []listed `json:"cycles"`
	Lessons   []listed `json:"lessons"`
}

type listed struct {
	Name  string `json:"name"`
	Title string `json:"title"`
}

func listCommand() *cobra.Command {
	var asJSON bool
	kinds := []string{"scenarios", "machines", "devices", "patterns", "vehicles", "cycles", "lessons"}
	cmd := &cobra.Command{
		Use:   "list [KIND]",
		Short: "List what is built in",
		Long: `List the built-in scenarios, machines, devices, vehicles, duty cycles and
lessons, whose names stand for files wherever a file is asked for, and the
gating patterns. All but the patterns are invented. KIND is one of scenarios,
machines, devices, patterns, vehicles, cycles, lessons.`,
		Example:   "  sextant list\n  sextant list scenarios",
		ValidArgs: kinds,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return fmt.Errorf("list takes one kind at most: %s", strings.Join(kinds, ", "))
			}
			if len(args) == 1 && !slices.Contains(kinds, args[0]) {
				return fmt.Errorf("there is no list of %q; lists are %s", args[0], strings.Join(kinds, ", "))
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			all, err := builtIn()
			if err != nil {
				return err
			}
			if asJSON {
				return printJSON(c.OutOrStdout(), all)
			}
			return all.print(c.OutOrStdout(), args)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON, of all kinds")
	return cmd
}

func builtIn() (l listing, err error) {
	for _, name := range scenario.Names() {
		s, err := scenario.Open(name)
		if err != nil {
			return l, err
		}
		l.Scenarios = append(l.Scenarios, listed{name, s.Title})
	}
	for _, name := range scenario.Machines() {
		title, _, err := scenario.OpenMachine(name)
		if err != nil {
			return l, err
		}
		l.Machines = append(l.Machines, listed{name, title})
	}
	for _, name := range device.Names() {
		title, err := device.Title(name)
		if err != nil {
			return l, err
		}
		l.Devices = append(l.Devices, listed{name, title})
	}
	for _, k := range pattern.Kinds() {
		l.Patterns = append(l.Patterns, listed{k.String(), about[k]})
	}
	for _, name := range duty.Vehicles() {
		v, err := duty.OpenVehicle(name)
		if err != nil {
			return l, err
		}
		l.Vehicles = append(l.Vehicles, listed{name, v.Title})
	}
	for _, name := range duty.Cycles() {
		c, err := duty.Open(name)
		if err != nil {
			return l, err
		}
		of := "speed and torque"
		if c.Road {
			of = "road speed and grade"
		}
		l.Cycles = append(l.Cycles, listed{name, fmt.Sprintf("%s, %d rows, %s", of, len(c.Rows), minutes(c.Duration()))})
	}
	for _, name := range lesson.Names() {
		title, err := lesson.Title(name)
		if err != nil {
			return l, err
		}
		l.Lessons = append(l.Lessons, listed{name, title})
	}
	return l, nil
}

// about says what each pattern does, in half a line.
var about = map[pattern.Kind]string{
	pattern.SixStep180:    "three switches on, each for 180 degrees",
	pattern.SixStep120:    "two switches on, each for 120 degrees",
	pattern.TwelveStep150: "three and two switches on by turns, each for 150 degrees",
	pattern.SineTriangle:  "sine references against a triangle carrier",
	pattern.ThirdHarmonic: "the same, with a sixth of third harmonic added",
	pattern.SpaceVector:   "the same, centred between the rails (min-max)",
	pattern.Clamped60:     "the leg of greatest magnitude tied to its rail, 60 degrees",
	pattern.Clamped30:     "the outer leg nearer mid-rail tied, 30 degrees",
	pattern.ClampedHigh:   "the highest leg tied to the positive rail, 120 degrees",
	pattern.ClampedLow:    "the lowest leg tied to the negative rail, 120 degrees",
	pattern.AllOff:        "no switch on: diodes only",
	pattern.AllLow:        "all lower switches on: three-phase short",
	pattern.AllHigh:       "all upper switches on: three-phase short",
	pattern.PulsedLow:     "lower switches on together for part of each carrier period",
	pattern.ByHand:        "the switches that you name",
}

func (l listing) print(w io.Writer, kinds []string) error {
	for i, part := range []struct {
		name string
		list []listed
	}{{"scenarios", l.Scenarios}, {"machines", l.Machines}, {"devices", l.Devices}, {"patterns", l.Patterns}, {"vehicles", l.Vehicles}, {"cycles", l.Cycles}, {"lessons", l.Lessons}} {
		if len(kinds) > 0 && part.name != kinds[0] {
			continue
		}
		if len(kinds) == 0 {
			if i > 0 {
				fmt.Fprintln(w)
			}
			fmt.Fprintln(w, part.name)
		}
		width := 0
		for _, x := range part.list {
			width = max(width, len(x.Name))
		}
		for _, x := range part.list {
			if _, err := fmt.Fprintf(w, "  %-*s  %s\n", width, x.Name, x.Title); err != nil {
				return err
			}
		}
	}
	return nil
}
