package main

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
	"sextant/inverter/si"
	"sextant/render/picture"
)

// losses is what the command of that name was asked for.
type losses struct {
	names       []string // of devices
	point       loss.Point
	powerFactor float64
	leading     bool
	sweep       sweep
	limit       junctionLimit
	plot        plotting
	csv         string
	json        bool

	devices []namedDevice
}

// A namedDevice is a device under the name that it was asked for by.
type namedDevice struct {
	asked  string
	device device.Device
}

// short is the name that tables have room for.
func (n *namedDevice) short() string { return strings.TrimSuffix(filepath.Base(n.asked), ".toml") }

func lossesCommand() *cobra.Command {
	l := losses{
		powerFactor: 0.85,
		point: loss.Point{
			Supply: 350, Current: 300, Modulation: 0.8, Frequency: 200, Carrier: 10e3, Sink: device.UsualSink,
		},
	}
	cmd := &cobra.Command{
		Use:   "losses",
		Short: "Compare the heat of silicon and silicon-carbide devices",
		Long: `Work out what the switches and diodes of a bridge turn to heat at one operating
point, and how warm their junctions get, for one device or several side by side.

A device is a file, or a name that "sextant list devices" shows. Without
--device a silicon IGBT and a silicon-carbide MOSFET are compared.

What is called a SiC IGBT in traction is a MOSFET: its channel conducts both
ways while it is gated, so that its diode carries current only in dead time. A
silicon IGBT's channel conducts one way; the way back is always its diode's.

Phase currents are taken to be sines and averages taken over carrier periods.
At --frequency 0Hz the rotor stands and each position has its own heat;
--angle says where. --limit finds the greatest current and carrier that keep
the hottest junction, at its peak, below a temperature.`,
		Example: `  sextant losses
  sextant losses --device igbt-750 --device sic-750 --carrier 20kHz
  sextant losses --sweep carrier=2kHz..40kHz:20 --plot carrier.svg
  sextant losses --device my.toml --limit junction=150C --frequency 1Hz`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return l.do(c) },
	}
	f, p := cmd.Flags(), &l.point
	f.StringArrayVar(&l.names, "device", nil, "`device`, built-in or file; give several to compare them (default igbt-750 and sic-750)")
	f.TextVar(&p.Pattern, "pattern", pattern.SpaceVector, "gating `pattern`; \"sextant list patterns\" shows them")
	f.Var(si.Voltage.Into(&p.Supply), "supply", "supply `voltage`")
	f.Var(si.Current.Into(&p.Current), "current", "peak of the phase `current`")
	f.Var(si.Number.Into(&p.Modulation), "modulation", "modulation `index` of the reference, before dead time, 0 to 4/pi")
	f.Var(si.Number.Into(&l.powerFactor), "power-factor", "`cosine` of the angle between voltage and current, from -1 (generating) to 1")
	f.BoolVar(&l.leading, "leading", false, "the current leads the voltage; else it lags")
	f.Var(si.Frequency.Into(&p.Frequency), "frequency", "`frequency` of the fundamental; 0Hz is standstill")
	f.Var(si.Frequency.Into(&p.Carrier), "carrier", "carrier `frequency`")
	f.Var(si.Time.Into(&p.DeadTime), "dead-time", "`time` by which turn-ons are delayed")
	f.Var(si.Number.Into(&p.Duty), "duty", "`share` of the carrier period, for pulsed-low")
	f.Var(si.Angle.Into(&p.Angle), "angle", "`angle` of the current vector at standstill; at 0deg phase U carries the peak")
	f.Var(si.Temperature.Into(&p.Sink), "sink", "`temperature` of the heat sink")
	f.Var(si.Temperature.Into(&p.Junction), "junction", "fix all junctions at this `temperature` instead of solving for it from the sink's")
	f.Var(&l.sweep, "sweep", "vary a `quantity`, like carrier=2kHz..40kHz:20 for 20 points; also current, modulation, power-factor, supply, frequency")
	f.Var(&l.limit, "limit", "find the greatest current and carrier that keep to a `temperature`, like junction=150C")
	l.plot.flags(cmd, "the losses", picture.Size{Width: 1600, Height: 900})
	f.StringVar(&l.csv, "csv", "", "write the losses to this `file`, a row for each device and each point of --sweep; - prints them")
	f.BoolVar(&l.json, "json", false, "print JSON")
	optional(cmd, "duty", "junction", "angle", "dead-time")
	complete(cmd, "device", device.Names()...)
	var kinds []string
	for _, k := range pattern.Kinds() {
		kinds = append(kinds, k.String())
	}
	complete(cmd, "pattern", kinds...)
	return cmd
}

// ask completes what was asked for, and refuses what does not go together.
func (l *losses) ask(c *cobra.Command) error {
	given := c.Flags().Changed
	if math.Abs(l.powerFactor) > 1 {
		return usage("--power-factor: %g is out of range; give -1 to 1", l.powerFactor)
	}
	l.point.Lag = math.Acos(l.powerFactor)
	if l.leading {
		l.point.Lag = -l.point.Lag
	}
	l.point.Fixed = given("junction")
	switch {
	case l.point.Fixed && given("limit"):
		return usage("--limit: has no meaning where --junction fixes the temperature; give one or the other")
	case given("angle") && l.point.Frequency != 0:
		return usage("--angle: is where the rotor stands; give --frequency 0Hz, too")
	case l.json && l.csv == "-":
		return usage("--csv: - and --json cannot both be printed; give --csv a file")
	case len(l.names) > mostDevices:
		return usage("--device: %d devices are too many; give %d at most", len(l.names), mostDevices)
	}
	if err := l.plot.check(c); err != nil {
		return err
	}
	if err := writable(l.csv); err != nil {
		return err
	}
	if err := l.sweep.check(&l.point); err != nil {
		return err
	}
	if len(l.names) == 0 {
		l.names = []string{"igbt-750", "sic-750"}
	}
	for _, name := range l.names {
		d, err := device.Open(name)
		if err != nil {
			return err
		}
		l.devices = append(l.devices, namedDevice{name, d})
	}
	return nil
}

// mostDevices is how many devices are compared at most.
const mostDevices = 24

func (l *losses) do(c *cobra.Command) error {
	if err := l.ask(c); err != nil {
		return err
	}
	found, err := l.at(l.point)
	if err != nil {
		return flagError(err)
	}
	if err := l.sweep.run(l); err != nil {
		return flagError(err)
	}
	limits, err := l.limit.find(l)
	if err != nil {
		return flagError(err)
	}
	if l.plot.file != "" {
		if err := l.plot.paint("What the bridge turns to heat", l.figure(found).Draw); err != nil {
			return err
		}
	}
	return answer{
		rows:   func(w io.Writer) error { return l.rows(w, found) },
		report: func() any { return l.report(found, limits) },
		text:   func(w io.Writer) error { return l.print(w, found, limits) },
	}.write(c.OutOrStdout(), l.csv, l.json)
}

// at returns the results of all devices at a point.
func (l *losses) at(p loss.Point) ([]loss.Result, error) {
	results := make([]loss.Result, len(l.devices))
	for i := range l.devices {
		var err error
		if results[i], err = loss.Of(&l.devices[i].device, p); err != nil {
			return nil, err
		}
	}
	return results, nil
}

// described says what the operating point is, in lines for people.
func (l *losses) described() string {
	p := &l.point
	text := p.Pattern.String()
	side := "lagging"
	if l.leading {
		side = "leading"
	}
	if math.Abs(l.powerFactor) == 1 {
		side = ""
	}
	text += fmt.Sprintf(", supply %s, %s peak, power factor %g %s", si.Voltage.Text(p.Supply), si.Current.Text(p.Current), l.powerFactor, side)
	text = strings.TrimSpace(text) + "\n"
	if p.Pattern.Compares() {
		text += fmt.Sprintf("modulation %g, ", p.Modulation)
	}
	if p.Pattern.NeedsCarrier() {
		text += fmt.Sprintf("carrier %s, ", si.Frequency.Text(p.Carrier))
	}
	if p.Pattern == pattern.PulsedLow {
		text += fmt.Sprintf("duty %g, ", p.Duty)
	}
	if p.Frequency == 0 {
		text += "standstill"
	} else {
		text += fmt.Sprintf("frequency %s", si.Frequency.Text(p.Frequency))
	}
	text += fmt.Sprintf(", dead time %s, ", si.Time.Text(p.DeadTime))
	if p.Fixed {
		return text + "junctions at " + si.Temperature.Text(p.Junction)
	}
	return text + "sink " + si.Temperature.Text(p.Sink)
}
