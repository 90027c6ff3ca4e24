package device

import (
	"errors"
	"fmt"

	"sextant/inverter/file"
)

// dropCurves reads digitised curves of a voltage by current.
func (r *reader) dropCurves(section string, name any, mosfet bool, rated float64) Drop {
	s, ok := r.sheet(section, name, "voltage_v")
	if !ok {
		return Drop{}
	}
	d := Drop{}
	for _, g := range s.groups {
		d.at = append(d.at, g.temperature)
		x, y := g.column(s, "current_a"), g.column(s, "voltage_v")
		s.covers(g, x, rated)
		s.rises(g, "voltage_v", y, y[0] < 0)
		if mosfet && x[0] == 0 && y[0] != 0 {
			s.report(g.rows[0].line, "voltage_v", errors.New("a MOSFET's channel drops nothing at no current; give 0"))
		}
		d.curves = append(d.curves, s.fit(x, y))
	}
	for i := range d.curves[:max(len(d.curves), 1)-1] {
		// The threshold falls and the slope grows as it gets hotter, so that curves may cross once.
		if n, at := crossings(&d.curves[i], &d.curves[i+1]); n > 1 {
			s.report(s.groups[i+1].rows[at].line, "voltage_v", fmt.Errorf("the curves of %s and %s cross %d times; once is the most that makes sense", celsius(d.at[i]), celsius(d.at[i+1]), n))
		}
	}
	r.findings = append(r.findings, s.findings...)
	return d
}

// energyCurves reads digitised curves of the three energies by current.
func (r *reader) energyCurves(into *Switching, name any, rated float64) {
	var columns []string
	for _, e := range Events {
		columns = append(columns, e.String()+"_j")
	}
	s, ok := r.sheet("energy", name, columns...)
	if !ok {
		return
	}
	for _, g := range s.groups {
		into.at = append(into.at, g.temperature)
		x := g.column(s, "current_a")
		s.covers(g, x, rated)
		for _, e := range Events {
			y := g.column(s, columns[e])
			s.rises(g, columns[e], y, y[0] < 0)
			if x[0] == 0 && y[0] != 0 {
				s.report(g.rows[0].line, columns[e], errors.New("there is energy at zero current; give 0, or start the curve above 0 A"))
			}
			if x[0] > 0 { // from nothing at no current
				into.curves[e] = append(into.curves[e], s.fit(append([]float64{0}, x...), append([]float64{0}, y...)))
				continue
			}
			into.curves[e] = append(into.curves[e], s.fit(x, y))
		}
	}
	for _, e := range Events {
		for i := range s.groups[1:] {
			hotter, rows := &into.curves[e][i+1], s.groups[i+1].rows
			if n, at := crossings(&into.curves[e][i], hotter); n > 0 {
				at -= len(hotter.x) - len(rows) // the point at no current has no row
				s.report(rows[at].line, columns[e], fmt.Errorf("the curves of %s and %s cross; the hotter one is above or below the other all along", celsius(into.at[i]), celsius(into.at[i+1])))
			}
		}
	}
	r.findings = append(r.findings, s.findings...)
}

// crossings counts how often b, at its own points, changes from one side of a to the other within what
// both cover; last is the index of the point where it last did. Differences within the thickness of a
// digitised line do not count.
func crossings(a, b *curve) (n, last int) {
	side := 0
	for i, x := range b.x {
		if x < a.x[0] || x > a.x[len(a.x)-1] {
			continue
		}
		thickness := 1e-3 * a.y[len(a.y)-1]
		now := 0
		switch d := b.y[i] - a.at(x); {
		case d > thickness:
			now = 1
		case d < -thickness:
			now = -1
		}
		if now != 0 && side != 0 && now != side {
			n, last = n+1, i
		}
		if now != 0 {
			side = now
		}
	}
	return n, last
}

// sheet reads a CSV file of curves that a section names; what is wrong with it is among its findings.
func (r *reader) sheet(section string, name any, columns ...string) (*sheet, bool) {
	text, err := file.Prose(name)
	if err != nil {
		r.report(section, "curve", err)
		return nil, false
	}
	found, data, err := r.find(r.doc.File, text)
	if err != nil {
		r.report(section, "curve", err)
		return nil, false
	}
	s := readSheet(found, data, columns)
	if len(s.findings) > 0 {
		r.findings = append(r.findings, s.findings...)
		return nil, false
	}
	return s, true
}
