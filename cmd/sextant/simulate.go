package main

import (
	"bufio"
	"errors"
	"io"

	"github.com/spf13/cobra"

	"sextant/inverter/file"
	"sextant/motor/drive"
	"sextant/render/picture"
)

// simulation is what the run command was asked for.
type simulation struct {
	json     bool
	csv      string // file; - is standard output
	points   int
	settling bool
	orders   int
	plot     waveformPlot
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
every switching event, and rows between them.

--plot draws them: voltages, currents, torque and link over one axis of time.
The picture's name says its kind: .png, .svg or .pdf; text in the last two
stays text.

--orders adds the harmonics of currents and torque, taken exactly over the
whole turns of the fundamental within the window.`,
		Example: `  sextant run hauler-climb
  sextant run hill.toml --json --orders 50
  sextant run hauler-pwm --plot hauler.pdf
  sextant run trainer-pwm --csv trainer.csv --points 360`,
		Args:              oneFile,
		ValidArgsFunction: completeScenario,
		RunE:              func(c *cobra.Command, args []string) error { return r.do(c, args[0]) },
	}
	f := cmd.Flags()
	f.BoolVar(&r.json, "json", false, "print the summary as JSON")
	f.StringVar(&r.csv, "csv", "", "write the waveforms to this `file`; - prints them instead of the summary")
	f.IntVar(&r.points, "points", 360, "least `number` of rows in a turn of the fundamental")
	f.BoolVar(&r.settling, "settling", false, "write the settling, too")
	f.IntVar(&r.orders, "orders", 0, "`number` of harmonics of the fundamental to add")
	r.plot.flags(cmd, "the waveforms", picture.Size{Width: 1600, Height: 1200})
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
	case c.Flags().Changed("orders") && (r.orders < 1 || r.orders > mostRunOrders):
		return usage("--orders: %d is out of range; give 1 to %d", r.orders, mostRunOrders)
	}
	if err := r.plot.check(c); err != nil {
		return err
	}
	s, err := openScenario(c, file)
	if err != nil {
		return err
	}
	out := c.OutOrStdout()
	var sum drive.Summary
	simulate := func(w io.Writer) (err error) {
		sim := drive.Simulation{Scenario: s, Orders: r.orders}
		var rows *waveforms
		if w != nil {
			rows = newWaveforms(w, &s, r.points)
			sim.Strides = &rows.left
			sim.Window = append(sim.Window, rows)
			if r.settling {
				sim.Settling = append(sim.Settling, rows)
			}
		}
		sim.Window = append(sim.Window, r.plot.observers(&s)...)
		if sum, err = sim.Run(); rows != nil && rows.err != nil {
			err = rows.err
		}
		if sum.Title == "" && !r.json {
			sum.Title = file
		}
		return err
	}
	switch r.csv {
	case "":
		err = simulate(nil)
	case "-":
		buffered := bufio.NewWriter(out)
		err = errors.Join(simulate(buffered), buffered.Flush())
	default:
		err = writeAside(r.csv, simulate)
	}
	if err == nil {
		err = r.plot.draw(sum)
	}
	switch {
	case err != nil:
		return named(err, file)
	case r.csv == "-":
		return nil
	case r.json:
		return printJSON(out, sum)
	}
	return errors.Join(printSummary(out, s, sum), printOrders(out, s, sum))
}

// named tells which file holds the scenario with a key that is wrong.
func named(err error, name string) error {
	var wrong *drive.KeyError
	if errors.As(err, &wrong) {
		return file.Findings{{File: name, Key: wrong.Key, Err: wrong.Err}}
	}
	return err
}
