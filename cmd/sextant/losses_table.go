package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"sextant/inverter"
	"sextant/inverter/loss"
)

// A lossTable is rows of a name and a cell for each device; a row without cells is a heading.
type lossTable struct {
	names []string
	cells [][]string
}

func (t *lossTable) add(name string, cells []string) {
	t.names, t.cells = append(t.names, name), append(t.cells, cells)
}

// print prints the table for people.
func (l *losses) print(w io.Writer, found []loss.Result, limits []limitReport) error {
	fmt.Fprintf(w, "%s\n", l.described())
	var t lossTable
	each := func(cell func(i int, r *loss.Result) string) []string {
		cells := make([]string, len(found))
		for i := range found {
			cells[i] = cell(i, &found[i])
		}
		return cells
	}
	of := func(heading string, position func(*loss.Result) loss.Position) {
		t.add(heading, nil)
		for _, x := range []struct {
			name string
			of   func(loss.Position) string
		}{
			{"switch conduction W", func(p loss.Position) string { return fixed(p.Conduction, 2) }},
			{"turn-on W", func(p loss.Position) string { return fixed(p.TurnOn, 2) }},
			{"turn-off W", func(p loss.Position) string { return fixed(p.TurnOff, 2) }},
			{"diode conduction W", func(p loss.Position) string { return fixed(p.Diode, 2) }},
			{"recovery W", func(p loss.Position) string { return fixed(p.Recovery, 2) }},
			{"switch junction C", func(p loss.Position) string { return warmth(p.SwitchJunction) }},
			{"diode junction C", func(p loss.Position) string { return warmth(p.DiodeJunction) }},
		} {
			t.add("  "+x.name, each(func(_ int, r *loss.Result) string { return x.of(position(r)) }))
		}
	}
	lopsided := found[0].Differ
	switch {
	case found[0].Standstill != nil:
		for _, s := range inverter.Switches {
			position := func(r *loss.Result) loss.Position { return r.Standstill[s] }
			t.add(s.String(), nil)
			t.add("  switch W", each(func(_ int, r *loss.Result) string { return fixed(position(r).Switch(), 2) }))
			t.add("  diode W", each(func(_ int, r *loss.Result) string { return fixed(position(r).Rectifier(), 2) }))
			t.add("  switch, diode junction C", each(func(_ int, r *loss.Result) string {
				return fixed(position(r).SwitchJunction.Mean, 1) + ", " + fixed(position(r).DiodeJunction.Mean, 1)
			}))
		}
	case lopsided:
		of("an upper switch with its diode", func(r *loss.Result) loss.Position { return r.Upper })
		of("a lower switch with its diode", func(r *loss.Result) loss.Position { return r.Lower })
	default:
		of("one switch with its diode", func(r *loss.Result) loss.Position { return r.Mean })
	}
	t.add("bridge of six", nil)
	t.add("  losses W", each(func(_ int, r *loss.Result) string { return fixed(r.Bridge, 1) }))
	most := 0.0
	for _, r := range found {
		most = max(most, math.Abs(r.Output))
	}
	power := scaleFor(most, "W", 5)
	t.add("  output "+power.unit, each(func(_ int, r *loss.Result) string { return power.of(r.Output) }))
	t.add("  efficiency %", each(func(_ int, r *loss.Result) string {
		if e, ok := r.Efficiency(); ok {
			return fixed(100*e, 3)
		}
		return "-"
	}))
	if limits != nil {
		t.add(fmt.Sprintf("peak junction at %g C", limits[0].Junction), nil)
		t.add("  greatest current A", each(func(i int, _ *loss.Result) string { return bound(limits[i].Current, 1) }))
		t.add("  greatest carrier kHz", each(func(i int, _ *loss.Result) string {
			if !l.point.Pattern.NeedsCarrier() {
				return "-"
			}
			if x := limits[i].Carrier; x != nil {
				kHz := *x / 1e3
				return bound(&kHz, 2)
			}
			return bound(nil, 2)
		}))
	}
	if err := t.write(w, l); err != nil {
		return err
	}
	if err := l.printSweep(w); err != nil {
		return err
	}
	return l.remarks(w, found, limits)
}

// warmth writes the mean and the peak of a junction, once where they round to the same.
func warmth(j loss.Junction) string {
	mean, peak := fixed(j.Mean, 1), fixed(j.Peak, 1)
	if mean == peak {
		return mean
	}
	return mean + ", peak " + peak
}

// bound writes a greatest value; without one any will do.
func bound(x *float64, decimals int) string {
	if x == nil {
		return "any"
	}
	return fixed(*x, decimals)
}

// write prints as many devices side by side as there is room for, then the next ones.
func (t *lossTable) write(w io.Writer, l *losses) error {
	first := 0
	for _, name := range t.names {
		first = max(first, len(name))
	}
	widths := make([]int, len(l.devices))
	for i := range l.devices {
		widths[i] = min(utf8.RuneCountInString(l.devices[i].short()), columns-first-2)
		for _, row := range t.cells {
			if row != nil {
				widths[i] = max(widths[i], len(row[i]))
			}
		}
	}
	for from := 0; from < len(l.devices); {
		to, room := from, columns-first
		for to < len(l.devices) && (to == from || room >= widths[to]+2) {
			room -= widths[to] + 2
			to++
		}
		line := fmt.Sprintf("\n%-*s", first, "")
		for i := from; i < to; i++ {
			line += fmt.Sprintf("  %*s", widths[i], clipped(l.devices[i].short(), widths[i]))
		}
		fmt.Fprintln(w, line)
		for k, name := range t.names {
			line := fmt.Sprintf("%-*s", first, name)
			if t.cells[k] != nil {
				for i := from; i < to; i++ {
					line += fmt.Sprintf("  %*s", widths[i], t.cells[k][i])
				}
			}
			if _, err := fmt.Fprintln(w, strings.TrimRight(line, " ")); err != nil {
				return err
			}
		}
		from = to
	}
	return nil
}

// clipped returns the end of a name that is too long.
func clipped(name string, width int) string {
	if r := []rune(name); len(r) > width {
		return ".." + string(r[len(r)-width+2:])
	}
	return name
}

// printSweep prints the bridge's losses and the hottest junction by the quantity that is varied.
func (l *losses) printSweep(w io.Writer) error {
	s := &l.sweep
	if !s.set {
		return nil
	}
	axis := scaleFor(max(math.Abs(s.from), math.Abs(s.to)), unitOf[s.of], 4)
	const each = 3 // devices side by side
	for from := 0; from < len(l.devices); from += each {
		to := min(from+each, len(l.devices))
		head := []string{strings.TrimSpace(s.of.Label() + " " + axis.unit)}
		for i := from; i < to; i++ {
			head = append(head, clipped(l.devices[i].short(), 14)+" W", "peak C")
		}
		rows := [][]string{head}
		for _, p := range s.points {
			row := []string{axis.of(p.at)}
			for i := from; i < to; i++ {
				row = append(row, fixed(p.results[i].Bridge, 1), fixed(p.results[i].Peak(), 1))
			}
			rows = append(rows, row)
		}
		fmt.Fprintln(w)
		if err := table(w, rows); err != nil {
			return err
		}
	}
	for _, e := range s.evens {
		last := s.points[len(s.points)-1].results
		for _, p := range s.points {
			if p.at > e.at && p.results[e.a].Bridge != p.results[e.b].Bridge {
				last = p.results
				break
			}
		}
		better, worse := e.a, e.b
		if last[e.b].Bridge < last[e.a].Bridge {
			better, worse = worse, better
		}
		fmt.Fprintf(w, "\nbreak-even at %s; above, %s loses less than\n%s\n", s.of.Dimension().Format(e.at, 4), l.devices[better].short(), l.devices[worse].short())
	}
	return nil
}

var unitOf = map[loss.Quantity]string{loss.Carrier: "Hz", loss.Current: "A", loss.Supply: "V", loss.Frequency: "Hz"}

// remarks says what the comparison comes to, and what makes the figures doubtful.
func (l *losses) remarks(w io.Writer, found []loss.Result, limits []limitReport) error {
	if len(found) > 1 {
		least, most := 0, 0
		for i, r := range found {
			if r.Bridge < found[least].Bridge {
				least = i
			}
			if r.Bridge > found[most].Bridge {
				most = i
			}
		}
		if saved := found[most].Bridge - found[least].Bridge; saved > 0 {
			fmt.Fprintf(w, "\n%s loses least: %s W less than %s, %s %% of it\n",
				l.devices[least].short(), fixed(saved, 1), l.devices[most].short(), fixed(100*saved/found[most].Bridge, 1))
		}
	}
	if !l.point.Fixed {
		most := loss.Settling{}
		for _, r := range found {
			most.Rounds, most.Change = max(most.Rounds, r.Settling.Rounds), max(most.Change, r.Settling.Change)
		}
		fmt.Fprintf(w, "\njunctions settled in %d rounds, the last of them within %.0e K\n", most.Rounds, max(most.Change, 1e-12))
	}
	for i, r := range found {
		notices := r.Notices
		if limits != nil {
			notices = append(slices.Clone(notices), limits[i].Notices...)
		}
		for _, n := range notices {
			for _, line := range wrapped(l.devices[i].short()+": "+n, columns) {
				if _, err := fmt.Fprintln(w, line); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// wrapped breaks a text into lines of so many columns, the second and later ones set in.
func wrapped(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width:
			lines, line = append(lines, line), "  "+word
		default:
			line += " " + word
		}
	}
	return append(lines, line)
}
