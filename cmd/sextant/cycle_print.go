package main

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"

	"github.com/dustin/go-humanize"

	"sextant/motor/duty"
)

// rows writes a row for each interval, at its end, with columns for each device in the order asked.
func (r *cycle) rows(out io.Writer) error {
	w := bufio.NewWriter(out)
	fmt.Fprint(w, cycleColumns)
	for k := range r.accounts {
		fmt.Fprintf(w, ",bridge_%[1]d_w,link_%[1]d_w,switch_%[1]d_c,diode_%[1]d_c,charge_%[1]d_percent", k+1)
	}
	fmt.Fprintln(w)
	var b []byte
	for i := range r.work.Steps {
		s := &r.work.Steps[i]
		d := &s.Done
		b = strconv.AppendFloat(b[:0], s.Asked.To, 'g', -1, 64)
		for _, x := range []float64{
			d.Speed * 30 / math.Pi, d.Torque, s.Asked.Torque, d.Current.D, d.Current.Q,
			math.Hypot(d.Voltage.D, d.Voltage.Q), d.Shaft(), d.Copper, d.Drag,
		} {
			b = appendNumber(b, x)
		}
		for k := range r.accounts {
			m := &r.accounts[k].Moments[i]
			for _, x := range []float64{m.Bridge, m.Link, m.Channel, m.Diode, 100 * m.Charge} {
				b = appendNumber(b, x)
			}
		}
		if _, err := w.Write(append(b, '\n')); err != nil {
			return err
		}
	}
	return w.Flush()
}

// print prints the comparison for people.
func (r *cycle) print(w io.Writer) error {
	fmt.Fprintln(w, r.title)
	printDescription(w, r.described(), r.notices())
	work := &r.work
	fmt.Fprintf(w, "\nshaft   %s driving, %s braking\n", wattHours(work.Motoring), wattHours(work.Braking))
	fmt.Fprintf(w, "machine %s in copper, %s in iron and friction\n\n", wattHours(work.Copper), wattHours(work.Drag))
	const abreast = 5 // devices that fit the width
	for k := 0; k < len(r.accounts); k += abreast {
		if k > 0 {
			fmt.Fprintln(w)
		}
		if err := r.printTable(w, k, min(k+abreast, len(r.accounts))); err != nil {
			return err
		}
	}
	fmt.Fprintln(w)
	for k := 1; k < len(r.accounts); k++ {
		r.printSaving(w, k)
	}
	return nil
}

// printTable prints devices side by side.
func (r *cycle) printTable(w io.Writer, from, to int) error {
	most := 0.0
	for k := range r.accounts {
		most = max(most, r.accounts[k].Drawn, r.accounts[k].Returned+r.accounts[k].Refused)
	}
	energy := scaleFor(most/3600, "Wh", 5)
	heats := scaleFor(r.mostBridge()/3600, "Wh", 4)
	head := []string{"energy " + energy.unit}
	for k := from; k < to; k++ {
		head = append(head, r.devices[k].short())
	}
	rows := [][]string{head}
	line := func(what string, of func(*duty.Account) string) {
		row := []string{what}
		for k := from; k < to; k++ {
			row = append(row, of(&r.accounts[k]))
		}
		rows = append(rows, row)
	}
	in := func(s scale, joules func(*duty.Account) float64) func(*duty.Account) string {
		return func(a *duty.Account) string { return s.of(joules(a) / 3600) }
	}
	line("from the battery", in(energy, func(a *duty.Account) float64 { return a.Drawn }))
	line("back to the battery", in(energy, func(a *duty.Account) float64 { return a.Returned }))
	line("net", in(energy, (*duty.Account).Net))
	line("refused by the battery", in(energy, func(a *duty.Account) float64 { return a.Refused }))
	rows = append(rows, nil, []string{"heat " + heats.unit})
	line("switch conduction", in(heats, func(a *duty.Account) float64 { return a.Conduction }))
	line("turn-on", in(heats, func(a *duty.Account) float64 { return a.TurnOn }))
	line("turn-off", in(heats, func(a *duty.Account) float64 { return a.TurnOff }))
	line("diode conduction", in(heats, func(a *duty.Account) float64 { return a.Diode }))
	line("recovery", in(heats, func(a *duty.Account) float64 { return a.Recovery }))
	line("bridge", in(heats, (*duty.Account).Bridge))
	rows = append(rows, nil)
	line("hottest switch C", func(a *duty.Account) string { return fixed(a.ChannelPeak, 1) })
	line("hottest diode C", func(a *duty.Account) string { return fixed(a.DiodePeak, 1) })
	if r.battery.Capacity > 0 {
		line("battery at the end %", func(a *duty.Account) string { return fixed(100*a.Charge, 2) })
	}
	return table(w, rows)
}

func (r *cycle) mostBridge() float64 {
	most := 0.0
	for k := range r.accounts {
		most = max(most, r.accounts[k].Bridge())
	}
	return most
}

// printSaving says what a device saves against the first, and when it has paid for itself.
func (r *cycle) printSaving(w io.Writer, k int) {
	base, name := r.devices[0].short(), r.devices[k].short()
	p, dearer, known := r.payback(k)
	share := ""
	if net := r.accounts[0].Net(); net > 0 {
		share = fmt.Sprintf(", %s %%", fixed(100*math.Abs(p.Saved)/net, 2))
	}
	verb := "saves"
	if p.Saved < 0 {
		verb = "costs"
	}
	text := fmt.Sprintf("%s %s %s a cycle against %s%s.", name, verb, wattHours(math.Abs(p.Saved)), base, share)
	if p.Saved < 0 {
		text = fmt.Sprintf("%s costs %s more a cycle than %s%s.", name, wattHours(-p.Saved), base, share)
	}
	heat := r.accounts[0].Bridge() - r.accounts[k].Bridge()
	if unused := heat - p.Saved; p.Saved > 0 && unused > 1e-3*heat {
		text += fmt.Sprintf(" Its bridge makes %s less heat; what of that the full battery refused is lost all the same.", wattHours(heat))
	}
	switch {
	case !known && r.prices.energy == 0:
		text += " With --energy-price it is said when it has paid for itself."
	case !known:
		text += " There is no price of one or the other; give --price."
	case dearer <= 0 && p.Ever:
		text += fmt.Sprintf(" Six of it cost %s less, so it is paid for at once.", money(-dearer))
	case !p.Ever:
		text += fmt.Sprintf(" Six of it cost %s, and it never pays for itself.", differing(dearer))
	default:
		text += fmt.Sprintf(" Six of it cost %s; at %s a cycle that is earned after %s cycles, %s of driving.", differing(dearer), money(p.Gain), count(p.Cycles), hours(p.Cycles*r.cycle.Duration()))
	}
	for _, line := range fold(text, columns) {
		fmt.Fprintln(w, line)
	}
}

// differing says how prices differ.
func differing(x float64) string {
	if x < 0 {
		return money(-x) + " less"
	}
	return money(x) + " more"
}

func hours(s float64) string { return count(s/3600) + " hours" }

// count writes a number to three figures, thousands set apart.
func count(x float64) string {
	if x < 1000 {
		return fmt.Sprintf("%.3g", x)
	}
	size := math.Pow(10, math.Floor(math.Log10(x))-2)
	return humanize.CommafWithDigits(math.Round(x/size)*size, 0)
}
