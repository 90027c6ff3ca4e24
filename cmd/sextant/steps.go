package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/inverter/si"
)

// steps is what the command of that name was asked for.
type steps struct {
	kind      pattern.Kind
	supply    float64 // V
	numbering inverter.Numbering
	json      bool
}

func stepsCommand() *cobra.Command {
	s := steps{supply: 350}
	cmd := &cobra.Command{
		Use:   "steps",
		Short: "Show one electrical turn of a six-step pattern as a table",
		Long: `Show one electrical turn of a six-step pattern: which switches are on in each
step, the pole, line and phase voltages, and where the field points.

Angles are electrical degrees; 0 is the axis of phase U. Pole voltages are
taken from the negative rail, phase voltages from the star point. A leg with
neither switch on is at the star point of a resistive load.`,
		Example: `  sextant steps --pattern six-step-120 --supply 48V
  sextant steps --pattern twelve-step-150 --numbering firing
  sextant steps --json`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return s.print(c.OutOrStdout()) },
	}
	f := cmd.Flags()
	f.TextVar(&s.kind, "pattern", pattern.SixStep180, "gating `pattern`: six-step-180, six-step-120 or twelve-step-150")
	f.Var(si.Voltage.Into(&s.supply), "supply", "supply `voltage`")
	numberingFlag(cmd, &s.numbering)
	f.BoolVar(&s.json, "json", false, "print JSON")
	complete(cmd, "pattern", "six-step-180", "six-step-120", "twelve-step-150")
	return cmd
}

// numberingFlag adds the flag for how switches are written.
func numberingFlag(cmd *cobra.Command, n *inverter.Numbering) {
	cmd.Flags().TextVar(n, "numbering", inverter.Names,
		"`numbering` of the switches: names, rows (1 2 3 = U+ V+ W+, 4 5 6 = U- V- W-) or firing (1 = U+, 2 = W-, 3 = V+, 4 = U-, 5 = W+, 6 = V-)")
	complete(cmd, "numbering", "names", "rows", "firing")
}

// complete lets the shell complete a flag's value.
func complete(cmd *cobra.Command, flag string, words ...string) {
	if err := cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic("sextant: " + err.Error()) // there is no such flag: ours to know
	}
}

func (s *steps) print(w io.Writer) error {
	t, err := pattern.Steps(s.kind, s.supply)
	if err != nil {
		return flagError(err)
	}
	if s.json {
		return printJSON(w, t)
	}
	volts := scaleFor(t.Supply, "V", 5)
	sequence := [][]string{{"step", "from deg", "to", "on", "field deg"}}
	voltages := [][]string{{"step", "pole U", "V", "W", "line UV", "VW", "WU", "phase U", "V", "W"}}
	for _, x := range t.Steps {
		step := fmt.Sprint(x.Number)
		sequence = append(sequence, []string{step, fixed(x.From, 0), fixed(x.To, 0), labels(x.Gates, s.numbering), fixed(x.Field, 0)})
		row := []string{step}
		for _, v := range []inverter.ABC{x.Pole, x.Line, x.Phase} {
			row = append(row, volts.of(v[inverter.U]), volts.of(v[inverter.V]), volts.of(v[inverter.W]))
		}
		voltages = append(voltages, row)
	}
	fmt.Fprintf(w, "%v, supply %s\n\n", t.Pattern, si.Voltage.Text(t.Supply))
	if err := table(w, sequence); err != nil {
		return err
	}
	fmt.Fprintf(w, "\nVoltages in %s\n", volts.unit)
	if err := spaced(w, 1, voltages); err != nil {
		return err
	}
	_, err = fmt.Fprintf(w, "\nphase voltage  %s fundamental peak, %s rms\nline voltage   %s rms, THD %.2f %%\n",
		volts.with(t.PhaseFundamental), volts.with(t.PhaseRMS), volts.with(t.LineRMS), t.LineTHD)
	return err
}

// labels writes the switches that are on as n does, in the order of their numbers.
func labels(g inverter.Gates, n inverter.Numbering) string {
	if n == inverter.Names {
		return g.String()
	}
	var on []string
	for i := 1; i <= len(inverter.Switches); i++ {
		if s, err := n.Switch(i); err == nil && g.Has(s) {
			on = append(on, n.Label(s))
		}
	}
	return strings.Join(on, " ")
}
