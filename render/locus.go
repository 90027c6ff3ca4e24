package render

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/motor/drive"
)

// Traces are drawn through at most tracePoints places, in traceAges pieces that are fainter the older.
const (
	tracePoints = 240
	traceAges   = 4
)

// loci draws where the tips of the current vector and of the mean voltage vector went in the stretch of
// record that the tape shows, fading with age: a circle in a sound machine, a line where a phase is lost. Where
// that is many carrier periods the current's ripple would be a scribble, so its mean over each is traced too.
func (p *pen) loci(f frame) {
	w := p.l.window(p.v)
	t := p.carrierPeriod()
	if t > 0 {
		p.fading(w, 0.18*f.u, p.ink.volt, p.means(w, t, drive.Instant.VoltageVector), func(v inverter.Vector) vg.Point {
			return polar(f.origin, reach(v.Abs(), p.scales.Voltage*2/3, hexagonR)*f.u, v.Angle())
		})
	}
	trace := p.currents
	if t > 0 && w.span > fewPeriods*t {
		trace = func(w window) []place { return p.means(w, t, drive.Instant.CurrentVector) }
	}
	p.fading(w, 0.22*f.u, p.ink.field, trace(w), func(i inverter.Vector) vg.Point {
		return polar(f.origin, reach(i.Abs(), p.scales.Current, boreR-0.2)*f.u, i.Angle())
	})
}

// A place is where a vector was at a time.
type place struct {
	time float64
	at   inverter.Vector
}

// fading draws the line through places, oldest first.
func (p *pen) fading(w window, width vg.Length, c color.Color, places []place, point func(inverter.Vector) vg.Point) {
	k := 0
	for age := range traceAges {
		until := w.from + w.span*float64(age+1)/traceAges
		p.start()
		for first := true; k < len(places) && places[k].time <= until; k++ {
			if first {
				p.path.Move(point(places[max(k-1, 0)].at))
				first = false
			}
			p.path.Line(point(places[k].at))
		}
		if len(p.path) > 1 {
			p.stroke(width, faded(c, 0.1+0.45*float64(age)/(traceAges-1)))
		}
	}
}

// currents returns the current vector through the window.
func (p *pen) currents(w window) []place {
	p.places = p.places[:0]
	next := w.from
	p.shown(w.from, func(i *drive.Instant) {
		if i.Time >= next {
			p.places = append(p.places, place{i.Time, finiteVector(i.FieldVector())})
			next = i.Time + w.span/tracePoints
		}
	})
	return p.places
}

// shown calls do with every instant of the tape from a time up to now.
func (p *pen) shown(from float64, do func(*drive.Instant)) {
	for k := range p.v.Tape {
		if i := &p.v.Tape[k]; i.Time >= from && i.Time <= p.v.Now.Time {
			do(i)
		}
	}
}

// carrierPeriod returns in s how long a carrier period takes, 0 where there is none.
func (p *pen) carrierPeriod() float64 {
	s := p.v.Scenario
	switch {
	case s == nil || !s.Gating.Kind.Compares():
		return 0
	case s.Gating.Carrier > 0:
		return 1 / s.Gating.Carrier
	case s.Gating.CarrierRatio > 0 && s.Gating.Frequency != 0:
		return 1 / math.Abs(s.Gating.CarrierRatio*s.Gating.Frequency)
	}
	return 0
}

// fewPeriods of the carrier are shown one by one, more by their means.
const fewPeriods = 6

// means returns a vector's mean over the carrier period before each of a few times in the window. Between two
// instants it is taken to run straight; at an event there are two.
func (p *pen) means(w window, period float64, of func(drive.Instant) inverter.Vector) []place {
	p.places, p.sums = p.places[:0], p.sums[:0]
	tape := p.v.Tape
	next, from := w.from, 0
	var sum, last inverter.Vector
	for k := range tape {
		i := &tape[k]
		if i.Time > w.now {
			break
		}
		v := finiteVector(of(*i))
		if k > 0 {
			h := i.Time - tape[k-1].Time
			sum.Alpha += h / 2 * (v.Alpha + last.Alpha)
			sum.Beta += h / 2 * (v.Beta + last.Beta)
		}
		last = v
		p.sums = append(p.sums, sum)
		begin := i.Time - period
		if i.Time < next || begin < tape[0].Time || begin < p.v.Since {
			continue
		}
		for from+1 < k && tape[from+1].Time <= begin {
			from++
		}
		h := begin - tape[from].Time
		early := finiteVector(of(tape[from]))
		p.places = append(p.places, place{i.Time, inverter.Vector{
			Alpha: (sum.Alpha - p.sums[from].Alpha - h*early.Alpha) / period,
			Beta:  (sum.Beta - p.sums[from].Beta - h*early.Beta) / period,
		}})
		next = i.Time + w.span/tracePoints
	}
	return p.places
}

func finiteVector(v inverter.Vector) inverter.Vector {
	return inverter.Vector{Alpha: finite(v.Alpha), Beta: finite(v.Beta)}
}
