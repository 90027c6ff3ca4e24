package diagnosis

import (
	"cmp"
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"sextant/inverter"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/signature"
)

// Expected holds the signatures of a drive under each fault, simulated.
type Expected struct {
	title string
	hz    float64
	cases []expectation
}

type expectation struct {
	Suspect
	at     point
	sample capture.Capture
}

// A point is a signature as it is compared: numbers over the fundamental that keep their place.
type point [13]float64

const (
	// unlikeness is the least distance of points at which a suspect's score falls to 0.6 of itself: what clamps
	// good to a hundredth make. Where even the nearest case lies farther, or noise reaches farther, that
	// distance takes its place.
	unlikeness = 0.008
	// foreign is the distance of the nearest beyond which the scenario is not of this drive.
	foreign = 0.2
	// simulatedTurns is how many turns are simulated of each fault.
	simulatedTurns = 4
	simulatedRows  = 360 // a turn
)

// joints is how large added resistances are tried, over the phase's impedance.
var joints = []float64{0.1, 0.25, 0.6, 1.5, 4}

func pointOf(g *signs) point {
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
	return p
}

func (p point) from(q point) float64 {
	sum := 0.0
	for i := range p {
		sum += (p[i] - q[i]) * (p[i] - q[i])
	}
	return math.Sqrt(sum / float64(len(p)))
}

// fromLine returns the distance of p from the nearest point of the line from a to b.
func (p point) fromLine(a, b point) float64 {
	along, length := 0.0, 0.0
	for i := range p {
		along += (p[i] - a[i]) * (b[i] - a[i])
		length += (b[i] - a[i]) * (b[i] - a[i])
	}
	if length > 0 {
		along = max(0, min(1, along/length))
	}
	for i := range a {
		a[i] += along * (b[i] - a[i])
	}
	return p.from(a)
}

// Expect simulates scenario s healthy and under each fault. The scenario's own faults are left out. It fails
// where the healthy drive cannot be run or carries no alternating current.
func Expect(s drive.Scenario) (*Expected, error) {
	hz := s.ElectricalFrequency()
	if !(hz > 0) {
		return nil, &drive.Finding{Key: "gating.frequency", Err: fmt.Errorf("nothing turns in this scenario, so there are no turns to compare")}
	}
	s.Faults = nil
	e := &Expected{title: s.Title, hz: hz}
	healthy, err := e.simulate(s)
	if err != nil {
		return nil, err
	}
	if _, err := e.add(Suspect{Fault: Healthy}, healthy); err != nil {
		return nil, fmt.Errorf("the scenario's healthy drive: %w", err)
	}
	try := func(suspect Suspect, f drive.Fault) {
		f.Time = 0
		s.Faults = []drive.Fault{f}
		// A fault that trips the drive, or stops its currents, makes no signature.
		if c, err := e.simulate(s); err == nil {
			_, _ = e.add(suspect, c)
		}
	}
	for i := range inverter.Switch(6) {
		try(Suspect{SwitchOpen, i.String()}, drive.Fault{Kind: drive.SwitchOpen, Switch: i})
	}
	m := s.Machine.Star()
	impedance := math.Hypot(m.Resistance, 2*pi*hz*max(m.InductanceD, m.InductanceQ))
	if s.Machine.Kind == motor.Passive {
		impedance = math.Hypot(m.Resistance, 2*pi*hz*m.InductanceD)
	}
	for _, p := range inverter.Phases {
		try(Suspect{PhaseOpen, p.String()}, drive.Fault{Kind: drive.PhaseOpen, Phase: p})
		for _, share := range joints {
			try(Suspect{PhaseResistance, p.String()}, drive.Fault{Kind: drive.PhaseResistance, Phase: p, Value: share * impedance})
		}
	}
	return e, nil
}

// simulate returns so many turns of s as are compared, from the end of its settling on, as a
// capture.
func (e *Expected) simulate(s drive.Scenario) (capture.Capture, error) {
	s.Run.Measure = simulatedTurns / e.hz
	x := &sampling{next: s.Run.Settle, step: 1 / (e.hz * simulatedRows)}
	_, err := drive.Simulate(s, x)
	return x.Capture, err
}

// sampling observes a run and reads the currents at even times.
type sampling struct {
	capture.Capture
	next, step float64 // s
}

// Observe reads what falls into a segment.
func (s *sampling) Observe(seg *drive.Segment) {
	for ; s.next < seg.T1; s.next += s.step {
		s.Time = append(s.Time, s.next)
		s.Current = append(s.Current, seg.At(s.next).Current)
	}
}

// add takes the signature of a simulated capture.
func (e *Expected) add(s Suspect, c capture.Capture) (point, error) {
	sign, err := signature.Of(&c, e.hz)
	if err != nil {
		return point{}, err
	}
	g := read(&sign)
	if !(g.amplitude > 0) {
		return point{}, signature.ErrStill
	}
	p := pointOf(&g)
	e.cases = append(e.cases, expectation{s, p, c})
	return p, nil
}

// distance returns how far a capture's signs lie from the nearest case of a suspect, or from the line between
// neighbouring ones, which differ in the fault's size; infinite where there is none.
func (e *Expected) distance(p point, s Suspect) float64 {
	nearest := math.Inf(1)
	var before *point
	for i := range e.cases {
		c := &e.cases[i]
		if c.Suspect != s {
			continue
		}
		if before == nil {
			before = &c.at
		}
		nearest = min(nearest, p.fromLine(*before, c.at))
		before = &c.at
	}
	return nearest
}

// sensor returns how far a capture's signs lie from those of the healthy drive seen by a sensor in error.
func (e *Expected) sensor(g *signs, p point, r Ranked) float64 {
	healthy := e.cases[0].sample
	c := healthy
	c.Current = slices.Clone(healthy.Current)
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
	return p.from(pointOf(&seen))
}

// sharpen multiplies each suspect's score by how well its simulated signature fits, where any does.
func (e *Expected) sharpen(g *signs, ranked []Ranked) []Ranked {
	if !e.near(g.Hz) {
		return ranked
	}
	p := pointOf(g)
	out := slices.Clone(ranked)
	nearest := math.Inf(1)
	for i := range out {
		r := &out[i]
		switch {
		case r.Fault == SensorGain, r.Fault == SensorOffset && !r.own:
			r.distance = e.sensor(g, p, *r)
		default:
			r.distance = e.distance(p, r.Suspect)
			r.Score += 0.01 // what the signs thought impossible may still be
		}
		nearest = min(nearest, r.distance)
	}
	if nearest > foreign {
		return ranked
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
	return out
}

// near reports whether a capture's frequency is the scenario's.
func (e *Expected) near(hz float64) bool { return math.Abs(hz/e.hz-1) < 0.1 }

// compare says in the notes how the scenario and the capture agree.
func (e *Expected) compare(r *Report) {
	if !e.near(r.Fundamental) {
		r.note("the scenario runs at %.4g Hz, the capture at %.4g Hz, so the scenario is not used: give one of the same operating point", e.hz, r.Fundamental)
		return
	}
	nearest := math.Inf(1)
	for _, x := range r.Ranked {
		if x.distance > 0 {
			nearest = min(nearest, x.distance)
		}
	}
	if nearest > foreign {
		r.note("none of the scenario's simulated faults comes near the capture; the ranking is by the signs alone")
		return
	}
	r.note("the ranking is sharpened by simulating the scenario under each fault; the nearest differs by %.1f %% of the fundamental", 100*nearest)
}
