package diagnosis

import (
	"cmp"
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strings"

	"sextant/motor/fault/capture"
	"sextant/motor/fault/signature"
)

// Expected holds the signatures of a drive under each fault, simulated by [Expect].
type Expected struct {
	hz        float64
	amplitude float64 // of the healthy drive, A
	healthy   point
	believed  float64         // how surely the healthy drive's own currents are called healthy, 0 to 1
	sample    capture.Capture // of the healthy drive
	cases     []expectation   // in lines of growing severity; the first is the healthy drive
	blocked   bool            // with the shaft blocked the currents stand still
}

// An expectation is one case. Where it does not begin a line, severities between it and the case before it lie on
// the line between.
type expectation struct {
	Suspect
	at     point
	begins bool
}

// A point is a signature as it is compared: numbers over the fundamental that keep their place, and last how
// large the fundamental is, as the logarithm of its part of the healthy drive's.
type point [shapes + 1]float64

const shapes = 13

const (
	// unlikeness is the least distance of points at which a suspect's score falls to 0.6 of itself: what clamps
	// good to a hundredth make. Where even the nearest case lies farther, or noise reaches farther, that
	// distance takes its place.
	unlikeness = 0.008
	// foreign is the distance of the nearest beyond which the scenario is not of this drive.
	foreign = 0.2
	// otherLoad is the distance that the size of the currents must add to be of another load rather than of a fault.
	otherLoad = 0.02
	// doubted is what a fault that the signs alone do not suspect, or cannot name, is worth beside one that they do.
	doubted = 0.03
)

func (e *Expected) pointOf(g *signs) point {
	a := g.amplitude
	// The sequences turn together with the start of the record, so that their ratio does not depend on it.
	plus, minus := sequences(g.Fundamental)
	if g.Reversed {
		plus, minus = minus, plus
	}
	skew := minus / plus
	p := point{real(g.meanRaw), imag(g.meanRaw), g.even, g.Odd(), real(skew), imag(skew)}
	for k := range g.shortfall {
		p[6+k] = 2 * g.shortfall[k]
		p[9+k] = cmplx.Abs(g.Fundamental[k]) / a
	}
	p[12] = g.SumMean / a
	p[shapes] = max(-1, min(1, math.Log(a/e.amplitude)))
	return p
}

// from returns the rms difference of the first so many numbers of two points.
func (p point) from(q point, n int) float64 {
	sum := 0.0
	for i := range n {
		sum += (p[i] - q[i]) * (p[i] - q[i])
	}
	return math.Sqrt(sum / float64(n))
}

// fromLine returns the distance of p from the nearest point of the line from a to b.
func (p point) fromLine(a, b point, n int) float64 {
	along, length := 0.0, 0.0
	for i := range n {
		along += (p[i] - a[i]) * (b[i] - a[i])
		length += (b[i] - a[i]) * (b[i] - a[i])
	}
	if length > 0 {
		along = max(0, min(1, along/length))
	}
	for i := range a {
		a[i] += along * (b[i] - a[i])
	}
	return p.from(a, n)
}

// distance returns how far a capture's signs lie from the nearest case of a suspect, or from the line between
// neighbouring ones, which differ in the fault's size; infinite where there is none.
func (e *Expected) distance(p point, s Suspect, n int) float64 {
	nearest := math.Inf(1)
	for i := range e.cases {
		c := &e.cases[i]
		if c.Suspect != s {
			continue
		}
		from := c.at
		if !c.begins {
			from = e.cases[i-1].at
		}
		nearest = min(nearest, p.fromLine(from, c.at, n))
	}
	return nearest
}

// clamp returns how far a capture's signs lie from those of the healthy drive seen by a clamp in error.
func (e *Expected) clamp(g *signs, p point, r Ranked, n int) float64 {
	c := e.sample
	c.Current = slices.Clone(c.Current)
	k := phaseOf(r.At)
	c.Derived, c.Third = g.Derived, g.Third
	for i := range c.Current {
		if r.Fault == SensorGain {
			c.Current[i][k] *= 1 + r.value
		} else {
			c.Current[i][k] += r.value
		}
		if t := g.Third; g.Derived {
			c.Current[i][t] = -c.Current[i][t.Next()] - c.Current[i][t.Next().Next()]
		}
	}
	s, err := signature.Of(&c, e.hz)
	if err != nil || !(s.Amplitude() > 0) {
		return math.Inf(1)
	}
	seen := read(&s)
	return p.from(e.pointOf(&seen), n)
}

// shows reports whether some case of a suspect differs from the healthy drive in the first n numbers by as much as
// clamps can tell.
func (e *Expected) shows(s Suspect, n int) bool {
	return slices.ContainsFunc(e.cases, func(c expectation) bool { return c.Suspect == s && c.at.from(e.healthy, n) > unlikeness })
}

// candidates returns the suspects of the signs, and behind them all others of the simulation that would show.
func (e *Expected) candidates(ranked []Ranked, n int) []Ranked {
	all := slices.Clone(ranked)
	for i := range all {
		all[i].Score += doubted / 3  // what the signs thought impossible may still be
		if all[i].Fault == Healthy { // signs that the healthy drive has do not speak against it
			all[i].Score = min(1, all[i].Score/max(e.believed, doubted))
		}
	}
	var same []Suspect
	if ranked[0].Fault != Healthy { // most healthy currents are a healthy drive's
		same = alike(ranked[0].Suspect)
	}
	for _, c := range e.cases {
		if slices.ContainsFunc(all, func(r Ranked) bool { return r.Suspect == c.Suspect }) || !e.shows(c.Suspect, n) {
			continue
		}
		r := Ranked{Suspect: c.Suspect, Score: doubted}
		if slices.ContainsFunc(same, func(s Suspect) bool { return s.Fault == c.Fault && (s.At == c.At || s.At == "") }) {
			r.Score += ranked[0].Score / 2
		}
		all = append(all, r)
	}
	return all
}

// measure sets the distances of suspects by the first n numbers, and returns the least.
func (e *Expected) measure(g *signs, all []Ranked, n int) (nearest float64) {
	p := e.pointOf(g)
	nearest = math.Inf(1)
	for i := range all {
		r := &all[i]
		r.distance = e.distance(p, r.Suspect, n)
		if r.value != 0 && !r.own {
			r.distance = min(r.distance, e.clamp(g, p, *r, n))
		} else if r.Fault == SensorGain || r.Fault == SensorOffset {
			g.own(r)
		}
		nearest = min(nearest, r.distance)
	}
	return nearest
}

// sharpen multiplies each suspect's score by how well its simulated signature fits, where any does. Where the
// currents are larger or smaller than those of any case, the drive carries another load, and only their shape counts.
func (e *Expected) sharpen(v *verdict) {
	g := &v.signs
	if !e.near(g.Hz) {
		return
	}
	n := shapes + 1
	out := e.candidates(v.ranked, n)
	nearest := e.measure(g, out, n)
	shape := e.candidates(v.ranked, shapes)
	if least := e.measure(g, shape, shapes); nearest > least+otherLoad {
		n, nearest, out, v.otherLoad = shapes, least, shape, true
	}
	if nearest > foreign {
		return
	}
	total, scale := 0.0, max(unlikeness, nearest, g.doubt)
	for i := range out {
		d := min(out[i].distance/scale, 20)
		out[i].Score *= math.Exp(-d * d / 2)
		total += out[i].Score
	}
	for i := range out {
		out[i].Score /= total
	}
	slices.SortStableFunc(out, func(a, b Ranked) int { return cmp.Compare(b.Score, a.Score) })
	v.ranked = out
	v.compared = map[Fault]bool{}
	for _, c := range e.cases {
		if e.shows(c.Suspect, n) {
			v.compared[c.Fault] = true
		}
	}
}

// near reports whether a capture's frequency is the scenario's.
func (e *Expected) near(hz float64) bool { return math.Abs(hz/e.hz-1) < 0.1 }

// compare says in the notes how the scenario and the capture agree.
func (e *Expected) compare(r *Report, v *verdict) {
	if !e.near(r.Fundamental) {
		r.note("the scenario runs at %.4g Hz, the capture at %.4g Hz, so the scenario is not used: give one of the same operating point", e.hz, r.Fundamental)
		return
	}
	if v.compared == nil {
		r.note("none of the scenario's simulated faults comes near the capture; the ranking is by the signs alone")
		return
	}
	nearest := math.Inf(1)
	for _, x := range v.ranked {
		nearest = min(nearest, x.distance)
	}
	r.note("the ranking is sharpened by simulating the scenario under each fault; the nearest differs by %.1f %% of the fundamental", 100*nearest)
	if v.otherLoad {
		r.note("the fundamental is %.0f %% of the scenario's, more or less than any fault would make it: the drive carries another load, and only the shape of the currents is compared; faults that change their size alone cannot be told", 100*v.signs.amplitude/e.amplitude)
	}
	if hidden := e.hidden(v); hidden != "" {
		r.note("in this drive at this point the currents do not show %s", hidden)
	}
}

// hidden lists the simulated faults that leave the currents as they are.
func (e *Expected) hidden(v *verdict) string {
	var names []string
	for _, c := range e.cases[1:] {
		if name := string(c.Fault); !v.compared[c.Fault] && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}

// standing makes a verdict of currents that stand still where they would not but for a blocked shaft.
func (e *Expected) standing(v *verdict) {
	if !v.still || !e.blocked {
		return
	}
	v.Suspect, v.score, v.err = Suspect{Fault: ShaftBlocked}, 0.9, nil
	v.ranked = []Ranked{{Suspect: v.Suspect, Score: v.score, Why: fmt.Sprintf(
		"the currents stand still where the scenario's alternate at %.4g Hz, and simulated with its shaft blocked they stand still, too; a command of standstill looks the same", e.hz)}}
}
