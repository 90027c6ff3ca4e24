package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter/device"
	"sextant/inverter/pattern"
	"sextant/inverter/si"
	"sextant/motor/pair"
)

// flagsOfPair adds the flags for what feeds a machine.
func flagsOfPair(cmd *cobra.Command, p *pair.Pair) {
	f := cmd.Flags()
	f.Var(si.Voltage.Into(&p.Supply), "supply", "supply `voltage`")
	f.Var(si.Current.Into(&p.Current), "current", "greatest peak of a phase's `current`")
	f.TextVar(&p.Pattern, "pattern", pattern.SpaceVector, "gating `pattern`, one with a carrier")
	f.Var(si.Number.Into(&p.Modulation), "modulation", "greatest modulation `index`; that up to which the pattern is linear if not given")
	f.Var(si.Frequency.Into(&p.Carrier), "carrier", "carrier `frequency`")
	f.Var(si.Time.Into(&p.DeadTime), "dead-time", "`time` by which turn-ons are delayed")
	f.Var(si.Torque.Into(&p.Drag), "drag", "`torque` that iron and friction take of the machine's at any speed")
	f.Var(si.Friction.Into(&p.DragSlope), "drag-slope", "`slope` by which that grows with speed, like \"2 mN m s/rad\"")
	optional(cmd, "supply", "current", "modulation", "drag", "drag-slope")
	var kinds []string
	for _, k := range pattern.Kinds() {
		if k.Compares() {
			kinds = append(kinds, k.String())
		}
	}
	complete(cmd, "pattern", kinds...)
}

// checkPair completes p and says what is wrong with it.
func checkPair(c *cobra.Command, p *pair.Pair) error {
	if !c.Flags().Changed("modulation") {
		p.Modulation = p.Pattern.Linear()
	}
	if p.Supply == 0 && !c.Flags().Changed("supply") {
		return usage("--supply: is missing; give %s", si.Voltage.Advice())
	}
	if p.Current == 0 && !c.Flags().Changed("current") {
		return usage("--current: is missing; give the greatest peak of a phase's current, like \"300 A\"")
	}
	if err := p.Validate(); err != nil {
		return flagError(err)
	}
	return nil
}

// openDevices opens devices by names; paths start where a file lies that has them.
func openDevices(from string, names []string) ([]namedDevice, error) {
	if len(names) > mostDevices {
		return nil, usage("--device: %d devices are too many; give %d at most", len(names), mostDevices)
	}
	var devices []namedDevice
	for _, name := range names {
		path := name
		if strings.ContainsAny(name, `./\`) && !filepath.IsAbs(name) {
			path = filepath.Join(filepath.Dir(from), name)
		}
		d, err := device.Open(path)
		if err != nil {
			return nil, err
		}
		devices = append(devices, namedDevice{name, d})
	}
	return devices, nil
}

// printDescription prints what was worked, and what makes it doubtful.
func printDescription(w io.Writer, described, notices []string) {
	for _, text := range described {
		for _, line := range fold(text, columns) {
			fmt.Fprintln(w, line)
		}
	}
	for _, n := range notices {
		lead := "note    "
		for _, line := range fold(n, columns-len(lead)) {
			fmt.Fprintln(w, lead+line)
			lead = "        "
		}
	}
}
