package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/scenario"
)

// printSummary prints a summary for people.
func printSummary(w io.Writer, s drive.Scenario, sum drive.Summary) error {
	fmt.Fprintf(w, "%s\n", sum.Title)
	fmt.Fprintf(w, "%s\nmeasured from %.6g to %.6g s; %d events in all\n", gatingWords(&s), sum.From, sum.To, sum.Events)
	for _, doubt := range scenario.Doubts(s) {
		paragraph(w, "note    ", doubt)
	}
	printNotices(w, sum.Notices)
	fmt.Fprintln(w)
	if err := printCurrents(w, sum); err != nil {
		return err
	}
	if err := printHeat(w, sum); err != nil {
		return err
	}
	fmt.Fprintln(w)
	if m := sum.Machine; s.Machine.Kind != motor.Passive {
		fmt.Fprintf(w, "torque  %.5g N m mean, %.4g N m ripple peak to peak, at %.6g rpm\n", m.TorqueMean, m.TorqueRipple, m.SpeedMean)
		amps := ampsOf(&sum)
		fmt.Fprintf(w, "current in the rotor's frame  id %s %s, iq %[3]s %[2]s; it turns at %.5[4]g Hz\n", amps.of(m.IDMean), amps.unit, amps.of(m.IQMean), m.SpeedMean*float64(s.Machine.PolePairs)/60)
	}
	printLink(w, &s, sum)
	fmt.Fprintln(w)
	return printPower(w, sum)
}

// gatingWords says what commands the gates.
func gatingWords(s *drive.Scenario) string {
	switch g := &s.Gating; g.Follow {
	case drive.Rotor:
		return g.Kind.String() + " by the rotor's sensors"
	case drive.Current:
		if g.SpeedLoop {
			return g.Kind.String() + " under speed control"
		}
		return g.Kind.String() + " under current control"
	}
	return s.Gating.Kind.String()
}

// mostNotes is how many notices people are shown; --json has all.
const mostNotes = 5

func printNotices(w io.Writer, notices []drive.Notice) {
	for _, n := range notices[:min(len(notices), mostNotes)] {
		for i, line := range fold(n.Text, columns-8) {
			lead := "note    "
			if i > 0 {
				lead = "        "
			}
			fmt.Fprintln(w, lead+line)
		}
	}
	if more := len(notices) - mostNotes; more > 0 {
		fmt.Fprintf(w, "        and %d more notes, which --json lists\n", more)
	}
}

// fold breaks a text into lines of so many characters at most.
func fold(text string, width int) (lines []string) {
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case len(line)+1+len(word) > width:
			lines = append(lines, line)
			line = word
		default:
			line += " " + word
		}
	}
	return append(lines, line)
}

// ampsOf returns the scale of a summary's currents.
func ampsOf(sum *drive.Summary) scale {
	most := 0.0
	for _, p := range sum.Phases {
		most = max(most, p.CurrentPeak)
	}
	return scaleFor(most, "A", 5)
}

func printCurrents(w io.Writer, sum drive.Summary) error {
	amps := ampsOf(&sum)
	rows := [][]string{{"current " + amps.unit, "mean", "rms", "peak", "fundamental peak"}}
	for _, p := range sum.Phases {
		rows = append(rows, []string{p.Phase.String(), amps.of(p.CurrentMean), amps.of(p.CurrentRMS), amps.of(p.CurrentPeak), amps.of(p.FundamentalPeak)})
	}
	rows = append(rows, []string{"supply", amps.of(sum.Supply.CurrentMean), amps.of(sum.Supply.CurrentRMS)}, nil,
		[]string{"switch " + amps.unit, "channel mean", "rms", "diode mean", "rms", "conduction W"})
	for _, x := range sum.Switches {
		rows = append(rows, []string{x.Switch.String(), amps.of(x.ChannelMean), amps.of(x.ChannelRMS), amps.of(x.DiodeMean), amps.of(x.DiodeRMS), fixed(x.Conduction, 3)})
	}
	return table(w, rows)
}

// printHeat prints, where the scenario uses a device, what each switch and its diode turn to heat and how warm that
// makes them.
func printHeat(w io.Writer, sum drive.Summary) error {
	if sum.Device == nil {
		return nil
	}
	rows := [][]string{nil, {"heat W", "conduction", "turn-on", "turn-off", "recovery", "switch C", "diode C"}}
	for _, x := range sum.Switches {
		rows = append(rows, []string{
			x.Switch.String(), fixed(x.Conduction, 2), fixed(x.TurnOn, 2), fixed(x.TurnOff, 2), fixed(x.Recovery, 2),
			fixed(x.Junction, 1), fixed(x.DiodeJunction, 1),
		})
	}
	return table(w, rows)
}

// printLink says what the link does: the voltage, and what alternates where the bridge draws anything.
func printLink(w io.Writer, s *drive.Scenario, sum drive.Summary) {
	x := sum.Supply
	fmt.Fprintf(w, "link    %.6g V mean", x.VoltageMean)
	if x.LinkRipple > 1e-9*x.VoltageMean {
		fmt.Fprintf(w, ", from least to most %.4g V", x.LinkRipple)
	}
	fmt.Fprintln(w)
	if x.LinkRMS == 0 {
		return
	}
	fmt.Fprintf(w, "        %.5g A rms into the bridge", x.LinkRMS)
	if s.Supply.Capacitance > 0 {
		fmt.Fprintf(w, ", %.5g A rms in the capacitor", x.Capacitor)
		if sum.Energy.Capacitor > 0 {
			fmt.Fprintf(w, ",\n        %s W of heat in it", fixed(sum.Energy.Capacitor/(sum.To-sum.From), 1))
		}
		fmt.Fprintln(w)
	} else {
		fmt.Fprintf(w, ", %.5g A rms of it alternating\n", x.Capacitor)
	}
}

// printPower prints where the power goes, and how well the account of energy closes.
func printPower(w io.Writer, sum drive.Summary) error {
	m, e, t := sum.Machine, sum.Energy, sum.To-sum.From
	watts := scaleFor(max(math.Abs(sum.Supply.Power), math.Abs(m.ShaftPower), m.CopperLoss), "W", 5)
	if err := table(w, [][]string{
		{"power " + watts.unit, "from supply", "to shaft", "copper", "bridge", "stored"},
		{"mean", watts.of(sum.Supply.Power), watts.of(m.ShaftPower), watts.of(m.CopperLoss), watts.of(e.Bridge / t), watts.of((e.StoredChange + e.Broken) / t)},
	}); err != nil {
		return err
	}
	if x := sum.Turns; x != nil {
		lines := fold(fmt.Sprintf("%.3g %% of %v's are shorted: %.5g A rms, %.5g A peak; %s W of the copper's heat",
			100*x.Share, x.Phase, x.CurrentRMS, x.CurrentPeak, fixed(x.Loss, 1)), columns-8)
		fmt.Fprintf(w, "\nturns   %s\n", strings.Join(lines, "\n        "))
	}
	if d := sum.Device; d != nil {
		lines := fold(fmt.Sprintf("six of %s: bridge %s W by conduction; switching %s W more, which the account leaves out",
			d.Name, fixed(d.Conduction, 1), fixed(d.Switching, 1)), columns-8)
		fmt.Fprintf(w, "\ndevices %s\n", strings.Join(lines, "\n        "))
	}
	passed := math.Abs(e.Supplied) + math.Abs(e.ToShaft) + e.Copper + e.Bridge + math.Abs(e.Broken) + math.Abs(e.StoredChange)
	if passed == 0 {
		_, err := fmt.Fprintln(w, "\nenergy  none passed")
		return err
	}
	_, err := fmt.Fprintf(w, "\nenergy  %.6g J supplied; the account closes to %s of what passed\n", e.Supplied, closeness(math.Abs(e.Residual)/passed))
	return err
}

// closeness says how small a part is, rounded up to a power of ten.
func closeness(part float64) string {
	if part <= 1e-15 {
		return "1e-15"
	}
	return fmt.Sprintf("%.0e", math.Pow(10, math.Ceil(math.Log10(part))))
}
