package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter/file"
	"sextant/inverter/si"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/diagnosis"
	"sextant/motor/scenario"
)

// diagnose is what the command of that name was asked for.
type diagnose struct {
	json     bool
	rate     float64 // Hz
	unit     string
	phases   string
	clamp    string
	scenario string
	from, to float64 // s
	signs    signs
}

func diagnoseCommand() *cobra.Command {
	var d diagnose
	cmd := &cobra.Command{
		Use:   "diagnose CSV",
		Short: "Rank the faults that explain a capture of three phase currents",
		Long: `Rank the faults that explain a capture of three phase currents, say why in words
and numbers, and what to look at next. The verdict is healthy, a fault and its
place, or unclear where the signs do not decide.

CSV is what an oscilloscope or a logger wrote, or - for standard input. Its
header names the columns, like time_s,u_a,v_a,w_a, in any order; others are
ignored. Two currents are enough: the third is then their negative sum, and
clamps in error are harder to tell from faults. Units may stand in the header,
as in "U (mA)", or in a row below it. Semicolons with decimal commas, comments,
preambles, gaps, times of day and UTF-16 are read.

Columns with other names are told by --phases, in the order U, V, W. Where they
hold the volts of a clamp, --clamp says what it makes of an ampere.

Record all three leads at once, the arrows of the clamps to the machine, with
clamps and inputs that show the direct part, too: the mean tells an open switch.
The electrical frequency is the speed in rpm times the pole pairs over 60; five
turns of it or more, and 50 samples a turn or more, under as much load as is
safe, make surest. The capture is cut to whole turns.

Phase currents alone show open and shorted switches, open phases, phases of
unlike impedance, sensors in error and a stuck position sensor. Faults that make
the same currents are named behind "or". Weak magnets, a sagging supply, a
misplaced position sensor or a blocked shaft change no more than the size of the
currents, and a recording does not say what size they should have.

--scenario names a scenario of this very drive at this speed and command; it is
simulated healthy and under each fault, and the ranking sharpened by that. Then
faults are told apart that alone look the same, and the size of the currents
counts.

--signs takes what somebody saw, heard or metered in place of a capture; how
often each sign goes with each fault is found by running the scenario's drive.`,
		Example: `  sextant diagnose scope.csv
  sextant diagnose scope.csv --phases CH1,CH2,CH3 --clamp 100mV/A
  sextant diagnose logger.csv --rate 20kHz --unit mA
  sextant diagnose scope.csv --scenario hauler-pwm --from 20ms --to 60ms
  sextant diagnose --signs hums-wont-start,one-clamp-zero,no-trips`,
		Args: func(_ *cobra.Command, args []string) error {
			switch {
			case d.signs.given() && len(args) > 0:
				return errors.New("diagnose goes by a capture or by --signs, not by both")
			case !d.signs.given() && len(args) != 1:
				return fmt.Errorf("diagnose reads one capture, not %d: give a CSV file", len(args))
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			if d.signs.given() {
				return d.signs.do(c, d.scenario, d.json)
			}
			return d.do(c, args[0])
		},
	}
	f := cmd.Flags()
	d.signs.flag(cmd)
	f.BoolVar(&d.json, "json", false, "print JSON")
	f.Var(si.Frequency.Into(&d.rate), "rate", "`samples` a second, for a file without time")
	f.StringVar(&d.unit, "unit", "", "`unit` of the currents, whatever the header says: A, mA, uA or kA")
	f.StringVar(&d.phases, "phases", "", "heads of the `columns` of U, V and W, like CH1,CH2,CH3; - for one not recorded")
	f.StringVar(&d.clamp, "clamp", "", "`volts` that a clamp makes of an ampere, like 100mV/A, where columns hold those")
	f.StringVar(&d.scenario, "scenario", "", "`file` or name of a scenario of this drive, to sharpen the ranking")
	f.Var(si.Time.Into(&d.from), "from", "`time` from which to use the capture")
	f.Var(si.Time.Into(&d.to), "to", "`time` up to which to use it")
	optional(cmd, "rate", "from", "to")
	complete(cmd, "unit", "A", "mA", "uA", "kA")
	complete(cmd, "scenario", scenario.Names()...)
	return cmd
}

func (d *diagnose) do(c *cobra.Command, file string) error {
	given := c.Flags().Changed
	options := capture.Options{Rate: d.rate}
	if given("rate") && !(d.rate > 0 && d.rate <= 1e12) {
		return usage("--rate: %g Hz is out of range; give more than 0, up to 1e12 Hz", d.rate)
	}
	if given("unit") {
		var err error
		if options.Unit, err = capture.Unit(d.unit); err != nil {
			return usage("--unit: %v", err)
		}
	}
	if given("phases") {
		var err error
		if options.Phases, err = capture.Columns(d.phases); err != nil {
			return usage("--phases: %v", err)
		}
	}
	if given("clamp") {
		var err error
		if options.Clamp, err = clampScale(d.clamp); err != nil {
			return usage("--clamp: %v", err)
		}
	}
	if given("unit") && given("clamp") {
		return usage("--unit: says the same as --clamp; give one or the other")
	}
	if given("from") && given("to") && !(d.to > d.from) {
		return usage("--to: %g s is not after --from, %g s", d.to, d.from)
	}
	var expected *diagnosis.Expected
	if d.scenario != "" {
		s, err := openScenario(c, d.scenario)
		if err != nil {
			return err
		}
		if expected, err = diagnosis.Expect(s); err != nil {
			return named(err, d.scenario)
		}
	}
	record, err := readCapture(c, file, options)
	if err != nil {
		return err
	}
	if given("from") || given("to") {
		from, to := record.Time[0], record.Time[record.Len()-1]
		if given("from") {
			from = d.from
		}
		if given("to") {
			to = d.to
		}
		part := record.Between(from, to)
		if part.Len() < 2 {
			return usage("--from: the capture runs from %g s to %g s; give times within", record.Time[0], record.Time[record.Len()-1])
		}
		record = part
	}
	report := diagnosis.Diagnose(&record, expected)
	if d.json {
		return printJSON(c.OutOrStdout(), report)
	}
	return printDiagnosis(c.OutOrStdout(), report)
}

// clampScale reads what a clamp makes of an ampere, in V.
func clampScale(text string) (float64, error) {
	volts, found := strings.CutSuffix(strings.ReplaceAll(text, " ", ""), "/A")
	v, err := si.Voltage.Parse(volts)
	if !found || err != nil || !(v > 0) {
		return 0, fmt.Errorf("%q is not what a clamp makes of an ampere; give volts an ampere, like 100mV/A", text)
	}
	return v, nil
}

// readCapture reads the capture in a file, or from standard input.
func readCapture(c *cobra.Command, name string, o capture.Options) (capture.Capture, error) {
	if name == "-" {
		return capture.Read(name, c.InOrStdin(), o)
	}
	f, err := os.Open(name)
	if err != nil {
		return capture.Capture{}, unreadable(name, err)
	}
	defer f.Close()
	record, err := capture.Read(name, f, o)
	var findings file.Findings
	if err != nil && !errors.As(err, &findings) {
		return record, unreadable(name, err)
	}
	return record, err
}

// unreadable is a finding that a file cannot be read.
func unreadable(name string, err error) error {
	var at *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		err = errors.New("there is no such file")
	case errors.As(err, &at):
		err = fmt.Errorf("cannot be read: %w", at.Err)
	}
	return file.Findings{{File: name, Err: err}}
}

// printDiagnosis prints a report for people.
func printDiagnosis(w io.Writer, r diagnosis.Report) error {
	verdict := string(r.Verdict)
	if r.At != "" {
		verdict += " at " + r.At
	}
	if r.Verdict != diagnosis.Unclear {
		verdict += fmt.Sprintf(", confidence %.0f %%", 100*r.Confidence)
	}
	fmt.Fprintf(w, "%s\n", verdict)
	if len(r.Alike) > 0 && r.Verdict != diagnosis.Healthy {
		paragraph(w, "or      ", lookAlikes(r.Alike)+": phase currents alone cannot tell, what to look at next can")
	}
	paragraph(w, "because ", r.Because)
	if r.Signs != nil {
		fmt.Fprintln(w)
		if err := printSigns(w, r); err != nil {
			return err
		}
	}
	if len(r.Ranked) > 1 {
		fmt.Fprintln(w, "\nranked")
		for _, x := range r.Ranked {
			fmt.Fprintf(w, "%5.0f %%  %v\n", 100*x.Score, x.Suspect)
		}
	}
	if len(r.Notes) > 0 {
		fmt.Fprintln(w)
		for _, note := range r.Notes {
			head, items := listIn(note)
			paragraph(w, "note    ", head)
			for _, item := range items {
				paragraph(w, "        - ", item)
			}
		}
	}
	fmt.Fprintln(w)
	for _, caution := range r.Cautions {
		paragraph(w, "caution ", caution)
	}
	fmt.Fprintln(w, "\nlook next")
	for i, step := range r.Next {
		paragraph(w, fmt.Sprintf("%3d. ", i+1), step)
	}
	return nil
}

// listIn takes a note apart that ends in a list of things with brackets behind them, "these: a (b), c (d)".
func listIn(note string) (head string, items []string) {
	head, list, found := strings.Cut(note, ": ")
	if items = strings.Split(list, "), "); !found || len(items) < 3 {
		return note, nil
	}
	for i := range items[:len(items)-1] {
		items[i] += ")"
	}
	return head + ":", items
}

// lookAlikes lists faults whose currents look the same.
func lookAlikes(all []diagnosis.Suspect) string {
	var names []string
	for _, s := range all {
		names = append(names, s.String())
	}
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " or " + names[n-1]
	}
	return names[0]
}

// paragraph prints text folded behind a lead, its other lines set in by as much.
func paragraph(w io.Writer, lead, text string) {
	for _, line := range fold(text, columns-len(lead)) {
		fmt.Fprintf(w, "%s%s\n", lead, line)
		lead = fmt.Sprintf("%*s", len(lead), "")
	}
}

func printSigns(w io.Writer, r diagnosis.Report) error {
	s := r.Signs
	turns := "turns"
	if r.Turns == 1 {
		turns = "turn"
	}
	fmt.Fprintf(w, "fundamental %.5g Hz, %.4g A peak, sequence %s\n%d whole %s, from %.6g to %.6g s\n", r.Fundamental, s.Amplitude, r.Sequence, r.Turns, turns, r.From, r.To)
	most := 0.0
	for _, p := range s.Phases {
		most = max(most, p.RMS, p.Fundamental)
	}
	amps := scaleFor(most, "A", 4)
	rows := [][]string{{"phase", "mean " + amps.unit, "rms " + amps.unit, "fundamental peak " + amps.unit, "short of 0.5198"}}
	for _, p := range s.Phases {
		rows = append(rows, []string{p.Phase.String(), amps.of(p.Mean), amps.of(p.RMS), amps.of(p.Fundamental), fixed(p.Shortfall, 3)})
	}
	if err := table(w, rows); err != nil {
		return err
	}
	mean := fixed(s.MeanVector, 1) + " %"
	if s.MeanVector >= 0.5 { // a shorter one points nowhere
		mean += " at " + fixed(s.MeanAngle, 0) + " deg"
	}
	fmt.Fprintf(w, "of the fundamental: mean vector %s, negative sequence %s %%,\n", mean, fixed(s.Negative, 1))
	_, err := fmt.Fprintf(w, "even orders %s %%, odd orders %s %%, sum: mean %s %%, fundamental %s %%\n", fixed(s.Even, 1), fixed(s.Odd, 1), fixed(s.SumMean, 1), fixed(s.SumLine, 1))
	return err
}
