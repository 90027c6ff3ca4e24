package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter/si"
	"sextant/motor/drive"
	"sextant/motor/fault/symptom"
	"sextant/render/picture"
)

// symptoms is what the symptoms command was asked for.
type symptoms struct {
	scenario string
	value    string
	json     bool
	every    bool
	chart    string
	plot     plotting
}

func symptomsCommand() *cobra.Command {
	var s symptoms
	cmd := &cobra.Command{
		Use:   "symptoms FAULT[:AT] | --all",
		Short: "Predict what a fault does to currents, torque, link and meters",
		Long: `Predict what a fault does: the drive is run healthy and faulty, motoring and
generating with its shaft held at its speed, and its start is tried from every
rotor angle. Signs are told in sentences with numbers; de-energised meter
readings follow from the circuit.

FAULT is a kind that scenario files have, AT the phase or the switch that has
it, like phase-open:U or switch-open:W-. A kind that takes a value has one that
shows, unless --value gives another. Faults of the scenario itself are left out.

--plot draws currents and torque without and with the fault side by side, and
the torque to start with by rotor angle, where it will not start marked.

--all tells which signs go with every fault; --chart writes that as a table, its
file ending in .csv, .html, .pdf, .svg or .png, for the wall or the toolbox.

It is for learning and reasoning and certifies nothing. Before working on a
drive follow local codes, the maker's procedure and a qualified person.`,
		Example: `  sextant symptoms switch-open:U+
  sextant symptoms phase-open:V --scenario trainer-start --json
  sextant symptoms phase-resistance:U --value 50mohm
  sextant symptoms --all --chart signs.pdf`,
		Args:              s.args,
		ValidArgsFunction: completeFault,
		RunE:              func(c *cobra.Command, args []string) error { return s.do(c, args) },
	}
	f := cmd.Flags()
	f.StringVar(&s.scenario, "scenario", "hauler-climb", "the healthy drive, a `file` or a built-in name")
	f.StringVar(&s.value, "value", "", "how severe the fault is, a `quantity` like 50mohm or 0.7")
	f.BoolVar(&s.json, "json", false, "print JSON")
	f.BoolVar(&s.every, "all", false, "tell of all faults together")
	f.StringVar(&s.chart, "chart", "", "write the table of all faults and signs to this `file`")
	s.plot.flags(cmd, "currents, torque and start", picture.Size{Width: 1600, Height: 1200})
	if err := cmd.RegisterFlagCompletionFunc("scenario", func(c *cobra.Command, _ []string, toComplete string) ([]string, cobra.ShellCompDirective) {
		return completeScenario(c, nil, toComplete)
	}); err != nil {
		panic("sextant: " + err.Error()) // there is no such flag: ours to know
	}
	return cmd
}

func (s *symptoms) args(_ *cobra.Command, args []string) error {
	switch {
	case s.chart != "" && !s.every:
		return errors.New("--chart: is a table of all faults; give --all in place of one")
	case s.every && (len(args) > 0 || s.value != "" || s.plot.file != ""):
		return errors.New("--all: tells of all faults as severe as shows; leave out FAULT, --value and --plot")
	case !s.every && len(args) != 1:
		return fmt.Errorf("symptoms speaks of one fault, like switch-open:U+; faults are %s", faultWords())
	}
	return nil
}

func faultWords() string {
	var words []string
	for _, k := range drive.FaultKinds() {
		words = append(words, k.String())
	}
	return strings.Join(words, ", ")
}

// completeFault offers the kinds of faults.
func completeFault(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return strings.Split(faultWords(), ", "), cobra.ShellCompDirectiveNoFileComp
}

func (s *symptoms) do(c *cobra.Command, args []string) error {
	if err := s.plot.check(c); err != nil {
		return err
	}
	if s.every {
		return s.all(c)
	}
	f, err := s.fault(args[0])
	if err != nil {
		return err
	}
	healthy, err := openScenario(c, s.scenario)
	if err != nil {
		return err
	}
	x, err := symptom.Of(healthy, f)
	if err != nil {
		return s.blame(err)
	}
	if err := s.draw(x); err != nil {
		return err
	}
	if s.json {
		return printJSON(c.OutOrStdout(), x)
	}
	return printSymptoms(c.OutOrStdout(), x)
}

// fault reads the fault and its value.
func (s *symptoms) fault(name string) (drive.Fault, error) {
	f, err := symptom.Parse(name)
	if err != nil {
		return f, usageError{err}
	}
	if s.value == "" {
		return f, nil
	}
	if !f.Kind.TakesValue() {
		return f, usage("--value: %v takes none; leave it out", f.Kind)
	}
	if f.Value, err = f.Kind.Dimension().Parse(s.value); err != nil {
		return f, usage("--value: %w", err)
	}
	return f, nil
}

// blame tells what is wrong with the fault from what is wrong with the scenario.
func (s *symptoms) blame(err error) error {
	var wrong *drive.KeyError
	if errors.As(err, &wrong) && strings.HasPrefix(wrong.Key, "fault.") {
		return usage("--value: %w", wrong.Err)
	}
	return named(err, s.scenario)
}

// printSymptoms prints for people, cautions first.
func printSymptoms(w io.Writer, x *symptom.Symptoms) error {
	fmt.Fprintf(w, "%s on: %s\n", symptom.Name(x.As), x.Healthy.Title)
	if x.Value != nil {
		fmt.Fprintf(w, "taken to be %s\n", severity(x.As))
	}
	printPoints(w, "Before you act", x.Cautions)
	fmt.Fprintln(w)
	if err := table(w, comparison(x)); err != nil {
		return err
	}
	printPoints(w, "Signs", x.Signs)
	printPoints(w, "De-energised, proved dead, shaft held: what meters read", x.Meter.Says)
	return nil
}

// printPoints prints a list under a heading.
func printPoints(w io.Writer, heading string, points []string) {
	fmt.Fprintf(w, "\n%s\n", heading)
	for _, p := range points {
		for i, line := range fold(p, columns-4) {
			lead := "  - "
			if i > 0 {
				lead = "    "
			}
			fmt.Fprintln(w, lead+line)
		}
	}
}

// comparison returns the figures of healthy and faulty drive side by side.
func comparison(x *symptom.Symptoms) [][]string {
	head, kinds := []string{""}, []string{""}
	var runs []symptom.Figures
	for _, c := range x.States {
		if c.Failed != "" {
			continue
		}
		head = append(head, c.State.String(), "")
		kinds = append(kinds, "healthy", "faulty")
		runs = append(runs, c.Healthy, c.Faulty)
	}
	rows := [][]string{head, kinds}
	row := func(name string, decimals int, of func(*symptom.Figures) float64) {
		cells := []string{name}
		for i := range runs {
			cells = append(cells, fixed(of(&runs[i]), decimals))
		}
		rows = append(rows, cells)
	}
	amps := 1
	if len(runs) > 0 && runs[0].Phases[0].CurrentRMS < 20 {
		amps = 3
	}
	for k, name := range []string{"U rms A", "V rms A", "W rms A"} {
		row(name, amps, func(f *symptom.Figures) float64 { return f.Phases[k].CurrentRMS })
	}
	row("vector of means A", amps, func(f *symptom.Figures) float64 { return f.Mean })
	row("negative sequence A", amps, func(f *symptom.Figures) float64 { return f.Against })
	row("torque mean N m", amps+1, func(f *symptom.Figures) float64 { return f.Torque })
	row("peak to peak N m", amps+1, func(f *symptom.Figures) float64 { return f.Ripple })
	row("loudest tone Hz", 1, func(f *symptom.Figures) float64 {
		if len(f.Tones) == 0 || f.Tones[0].Peak == 0 {
			return 0
		}
		return f.Tones[0].Frequency
	})
	row("supply A", amps, func(f *symptom.Figures) float64 { return f.Link })
	row("link V", 1, func(f *symptom.Figures) float64 { return f.LinkVolts })
	row("worst device A rms", amps, func(f *symptom.Figures) float64 {
		most := 0.0
		for _, d := range f.Devices {
			most = math.Max(most, d.Current)
		}
		return most
	})
	return rows
}

// severity writes the value of a fault.
func severity(f drive.Fault) string {
	d := f.Kind.Dimension()
	switch {
	case f.Kind == drive.PositionSensorStuck && f.Value == 0:
		return "low"
	case f.Kind == drive.PositionSensorStuck:
		return "high"
	case d == si.Angle:
		return fmt.Sprintf("%.3g deg", f.Value*180/math.Pi)
	}
	return d.Format(f.Value, 3)
}
