package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter/device"
	"sextant/inverter/pattern"
	"sextant/motor/drive"
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
	Faults    []listed `json:"faults"`
	Keys      []listed `json:"keys"`
}

type listed struct {
	Name  string `json:"name"`
	Title string `json:"title"`
}

func listCommand() *cobra.Command {
	var asJSON bool
	kinds := []string{"scenarios", "machines", "devices", "patterns", "vehicles", "cycles", "lessons", "faults", "keys"}
	cmd := &cobra.Command{
		Use:   "list [KIND]",
		Short: "List what is built in",
		Long: `List the built-in scenarios, machines, devices, vehicles, duty cycles and
lessons, whose names stand for files wherever a file is asked for; the gating
patterns, the faults, and the keys of a scenario's file. All but these three are
invented. KIND is one of scenarios, machines, devices, patterns, vehicles,
cycles, lessons, faults, keys; the keys are listed only if they are asked for.`,
		Example:   "  sextant list\n  sextant list scenarios\n  sextant list keys",
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
	for _, k := range drive.FaultKinds() {
		l.Faults = append(l.Faults, listed{k.String(), faultTitle(k)})
	}
	for _, k := range scenario.Keys() {
		l.Keys = append(l.Keys, listed{strings.TrimPrefix(k.Section+"."+k.Key, "."), k.About + ": " + k.Takes})
	}
	return l, nil
}

// faultTitle says where a fault is, what it is and what its value means.
func faultTitle(k drive.FaultKind) string {
	text := aboutFault[k]
	switch {
	case k.OfPhase():
		text = "U, V or W: " + text
	case k.OfSwitch():
		text = "U+ to W-: " + text
	}
	return text
}

// aboutFault says what each fault is, in half a line, and what its value is.
var aboutFault = map[drive.FaultKind]string{
	drive.PhaseOpen:             "the lead is off",
	drive.SwitchOpen:            "the switch is dead, its diode is not",
	drive.SwitchShort:           "the device conducts both ways for ever",
	drive.PhaseResistance:       "a bad joint; value: ohms more",
	drive.PhaseSwap:             "the leads of the other two are crossed",
	drive.PositionSensorStuck:   "position sensor; value: it tells 0 or 1",
	drive.GateStuckOn:           "the gate is on for ever",
	drive.GateStuckOff:          "the gate is dead",
	drive.DiodeOpen:             "the diode no longer conducts",
	drive.SupplySag:             "the source falls; value: volts that are left",
	drive.CapacitorAged:         "the link's capacitor; value: part left, 0 to 1",
	drive.PositionSensorOffset:  "the position is told ahead; value: electrical deg",
	drive.PositionSensorSwapped: "the other two position sensors are crossed",
	drive.CurrentSensorOffset:   "the current told; value: amperes too high",
	drive.CurrentSensorGain:     "the current told; value: times as large",
	drive.Demagnetised:          "the magnet is weak; value: part left, 0 to 1",
	drive.ShaftBlocked:          "the shaft stands still",
	drive.TurnsShorted:          "shorted turns; value: part of all, 0 to 1",
	drive.CapacitorResistance:   "the link's capacitor; value: ohms more in series",
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
	if len(kinds) > 0 && kinds[0] == "keys" {
		return printKeys(w)
	}
	for i, part := range []struct {
		name string
		list []listed
	}{{"scenarios", l.Scenarios}, {"machines", l.Machines}, {"devices", l.Devices}, {"patterns", l.Patterns}, {"vehicles", l.Vehicles}, {"cycles", l.Cycles}, {"lessons", l.Lessons}, {"faults", l.Faults}} {
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

// printKeys explains the keys of a scenario's file, by section.
func printKeys(w io.Writer) error {
	section := ""
	for _, k := range scenario.Keys() {
		if k.Section != section {
			section = k.Section
			head := "[" + section + "]"
			if section == "fault" {
				head = "[" + head + "]"
			}
			fmt.Fprintf(w, "\n%s\n", head)
		}
		paragraph(w, fmt.Sprintf("  %-21s", k.Key), k.About+": "+k.Takes)
	}
	_, err := fmt.Fprintln(w, "\nA bare number is in SI units; angles, speeds and temperatures need theirs.")
	return err
}
