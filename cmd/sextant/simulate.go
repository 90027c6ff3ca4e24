package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/spf13/cobra"

	"sextant/motor"
	"sextant/motor/drive"
)

// simulation is what the run command was asked for.
type simulation struct {
	json     bool
	csv      string // file; - is standard output
	points   int
	settling bool
}

func runCommand() *cobra.Command {
	var r simulation
	cmd := &cobra.Command{
		Use:   "run FILE",
		Short: "Simulate a scenario and sum it up",
		Long: `Simulate a scenario, from switching event to switching event, and sum up the
measured window: currents, torque, power and where the energy went.

FILE is a path, the name of a built-in scenario, or - for standard input.

--csv writes the waveforms of the measured window: a row on either side of
every switching event, and rows between them.`,
		Example: `  sextant run hauler-climb
  sextant run hill.toml --json
  sextant run trainer-pwm --csv trainer.csv --points 360`,
		Args:              oneFile,
		ValidArgsFunction: completeScenario,
		RunE:              func(c *cobra.Command, args []string) error { return r.do(c, args[0]) },
	}
	f := cmd.Flags()
	f.BoolVar(&r.json, "json", false, "print the summary as JSON")
	f.StringVar(&r.csv, "csv", "", "write the waveforms to this `file`; - prints them instead of the summary")
	f.IntVar(&r.points, "points", 360, "at least so `many` rows in a turn of the fundamental")
	f.BoolVar(&r.settling, "settling", false, "write the settling, too")
	return cmd
}

func (r *simulation) do(c *cobra.Command, file string) error {
	switch {
	case r.points < 1 || r.points > 1e6:
		return usage("--points: %d is out of range; give 1 to 1000000", r.points)
	case r.json && r.csv == "-":
		return usage("--csv: - and --json cannot both be printed; give --csv a file")
	case r.settling && r.csv == "":
		return usage("--settling: adds to the rows of --csv; give that too")
	}
	s, err := openScenario(c, file)
	if err != nil {
		return err
	}
	out := c.OutOrStdout()
	var sum drive.Summary
	simulate := func(w io.Writer) error {
		sim := drive.Simulation{Scenario: s}
		var rows *waveforms
		if w != nil {
			rows = newWaveforms(w, &s, r.points)
			sim.Window = []drive.Observer{rows}
			if r.settling {
				sim.Settling = sim.Window
			}
		}
		var err error
		if sum, err = sim.Run(); err == nil && rows != nil {
			err = rows.err
		}
		return err
	}
	switch r.csv {
	case "":
		err = simulate(nil)
	case "-":
		buffered := bufio.NewWriter(out)
		return errors.Join(simulate(buffered), buffered.Flush())
	default:
		err = writeAside(r.csv, simulate)
	}
	if err != nil {
		return err
	}
	if r.json {
		return printJSON(out, sum)
	}
	if sum.Title == "" {
		sum.Title = file
	}
	return printSummary(out, s, sum)
}

// printSummary prints a summary for people.
func printSummary(w io.Writer, s drive.Scenario, sum drive.Summary) error {
	fmt.Fprintf(w, "%s\n", sum.Title)
	fmt.Fprintf(w, "%s, measured from %.6g to %.6g s; %d events in all\n\n", s.Gating.Kind, sum.From, sum.To, sum.Events)
	most := 0.0
	for _, p := range sum.Phases {
		most = max(most, p.CurrentPeak)
	}
	amps := scaleFor(most, "A", 5)
	rows := [][]string{{"current " + amps.unit, "mean", "rms", "peak", "fundamental peak"}}
	for _, p := range sum.Phases {
		rows = append(rows, []string{p.Phase.String(), amps.of(p.CurrentMean), amps.of(p.CurrentRMS), amps.of(p.CurrentPeak), amps.of(p.FundamentalPeak)})
	}
	rows = append(rows, []string{"supply", amps.of(sum.Supply.CurrentMean), amps.of(sum.Supply.CurrentRMS)}, nil,
		[]string{"switch " + amps.unit, "channel mean", "rms", "diode mean", "rms", "conduction W"})
	for _, x := range sum.Switches {
		rows = append(rows, []string{x.Switch.String(), amps.of(x.ChannelMean), amps.of(x.ChannelRMS), amps.of(x.DiodeMean), amps.of(x.DiodeRMS), fixed(x.Conduction, 3)})
	}
	if err := table(w, rows); err != nil {
		return err
	}
	m, e := sum.Machine, sum.Energy
	if s.Machine.Kind != motor.Passive {
		fmt.Fprintf(w, "\ntorque  %.5g N m mean, %.4g N m ripple peak to peak, at %.6g rpm\n", m.TorqueMean, m.TorqueRipple, m.SpeedMean)
		fmt.Fprintf(w, "current in the rotor's frame  id %.5g A, iq %.5g A\n", m.IDMean, m.IQMean)
	} else {
		fmt.Fprintln(w)
	}
	t := sum.To - sum.From
	watts := scaleFor(max(math.Abs(sum.Supply.Power), math.Abs(m.ShaftPower), m.CopperLoss), "W", 5)
	fmt.Fprintf(w, "link    %.6g V mean\n", sum.Supply.VoltageMean)
	way := "from the supply"
	if sum.Supply.Power < 0 {
		way = "into the supply"
	}
	fmt.Fprintf(w, "power   %s %s: %s shaft, %s copper, %s bridge\n", watts.with(math.Abs(sum.Supply.Power)), way,
		watts.with(m.ShaftPower), watts.with(m.CopperLoss), watts.with(e.Bridge/t))
	_, err := fmt.Fprintf(w, "energy  %.6g J supplied, unaccounted for %.1e J\n", e.Supplied, e.Residual)
	return err
}
