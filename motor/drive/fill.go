package drive

import (
	"fmt"
	"math"

	"sextant/inverter"
)

const (
	// tolerance is how far the fourth-order result of a stride may lie from the fifth-order one that is
	// kept, as part of the largest current; so chosen that the energy account closes to 1e-9 of
	// what passed.
	tolerance = 3e-10
	// longest is the longest stride, in s, however little happens.
	longest = 0.1
	// guardedTurn is how far the rotor may turn, in electrical rad, in a stride on which a leg may start
	// or stop to conduct.
	guardedTurn = 0.2
	// farthestTurn is the same of any stride: without a magnet nothing else but the means of i_d and i_q turns with the
	// rotor, and no defect tells of those.
	farthestTurn = 1.0
	// fading is how much of the largest current of late is left, as the scale of errors, a stride on.
	fading = 0.97
	// dust is the least current, in A, by whose size errors are judged.
	dust = 1e-6
	// tiny is the part of the largest current that counts as none.
	tiny = 1e-12
	// grazing is the part of the largest current by which one may dip below zero and be said to touch it.
	grazing = 1e-9
	// mostStalls is how many events in a row may happen at one instant, or rounding apart, before the drive gives
	// up: a few legs can only do so much.
	mostStalls = 50
	// fewStalls is how many it takes to look at all ways to conduct at once.
	fewStalls = 3
)

// fill integrates the segment that starts at time t with state s.
func (d *Drive) fill(t float64, s *state) error {
	seg := &d.seg
	seg.T0, seg.traced = t, false
	d.ending = ending{}
	until := min(d.gate.peek(), d.wiring.next, d.stop)
	h := d.stretch(s, until-t)
	for {
		seg.stride.take(s, h, &seg.net, &d.plant)
		miss := d.miss()
		if miss <= 1 {
			if h > d.reach/2 && h < longest {
				d.reach = max(d.reach, h*0.9*math.Pow(max(miss, 1.9e-4), -0.2)) // by five times at most
			}
			break
		}
		if math.IsNaN(miss) || t+h == t {
			return fmt.Errorf("drive: the equations run away at %.9g s", t)
		}
		d.reach = h * max(0.2, 0.9*math.Pow(miss, -0.2))
		h = evenly(h, d.reach)
	}
	seg.T1 = until
	if h < until-t {
		seg.T1 = t + h
	}
	if seg.net.anyGuard || seg.net.tied < 3 || d.watchful() {
		d.guard(t, s)
	}
	if d.plant.source > 0 {
		for _, y := range [2]*state{s, &seg.stride.to} {
			if v := d.plant.linkVoltage(y, dot(seg.net.g, y.i)); v < 0 {
				return &linkError{time: seg.T1, voltage: v}
			}
		}
	}
	d.recent = max(dust, fading*d.recent, largest(seg.stride.to.i))
	d.size = max(d.size, d.recent)
	if seg.T1-t > 4*(math.Nextafter(t, math.Inf(1))-t) {
		d.stalls = 0
	} else if d.stalls++; d.stalls > mostStalls {
		return fmt.Errorf("drive: the legs do not settle at %.9g s", t)
	}
	return nil
}

// evenly returns the longest equal part of h that is no longer than most: a short remainder after a long
// stride would cost as much as that.
func evenly(h, most float64) float64 {
	if n := math.Ceil(h / most); n > 1 && !math.IsInf(n, 1) {
		return h / n
	}
	return min(h, most)
}

// stretch returns how long a stride may be tried.
func (d *Drive) stretch(s *state, h float64) float64 {
	h = evenly(h, min(d.reach, longest))
	most := farthestTurn
	if n := &d.seg.net; n.anyGuard || n.tied < 3 || d.watchful() {
		most = guardedTurn
	}
	if turn := math.Abs(s.speed) * d.plant.pairs * h; turn > most {
		h *= most / turn
	}
	return h
}

// guard ends the segment, from t and s on, where a leg stops or starts to carry current.
func (d *Drive) guard(t float64, s *state) {
	seg := &d.seg
	e := d.watch()
	if e.cause == nothing {
		return
	}
	h := e.at * seg.stride.h
	most := seg.stride.h
	seg.stride.take(s, h, &seg.net, &d.plant)
	if e.cause == currentEnds && h > 0 {
		// The continuous extension is an order less exact than the stride: go where the stride says.
		for range 4 {
			i := dot(d.plant.axes[e.leg], seg.stride.to.i)
			slope := dot(d.plant.axes[e.leg], seg.stride.rates[stages-1].i)
			step := i / slope
			if slope == 0 || h-step <= 0 || h-step > most {
				break
			}
			h -= step
			seg.stride.take(s, h, &seg.net, &d.plant)
			if math.Abs(step) < 1e-15 {
				break
			}
		}
	}
	seg.T1 = t + h
	d.ending = e
}

// miss returns the stride's defect in units of what the tolerance allows.
func (d *Drive) miss() float64 {
	st, p := &d.seg.stride, &d.plant
	size := max(d.recent, st.cancelled(p), largest(st.to.i), st.h*largest(st.rates[0].i), st.h*largest(st.rates[stages-1].i))
	miss := 0.0
	if size > 0 {
		miss = largest(st.defect.i) / size
	}
	if p.slow() {
		miss = max(miss, math.Abs(st.defect.theta), math.Abs(st.defect.speed)/max(math.Abs(st.from.speed), math.Abs(st.to.speed), 1))
	}
	if p.ring.on() {
		miss = max(miss, math.Abs(st.defect.ring)/max(size, math.Abs(st.to.ring)))
	}
	if p.capacitance != 0 {
		miss = max(miss, math.Abs(st.defect.link)/max(d.base.voltage, math.Abs(st.to.link)))
	}
	return miss / tolerance
}

// cancelled returns the current, in A, whose tolerance is the rounding of voltages that cancel: a ten thousandth of
// what they would drive alone.
func (st *stride) cancelled(p *plant) float64 {
	return 1e-4 * st.h * (p.voltage + math.Abs(p.pairs*st.from.speed*p.psi)) / min(p.ld, p.lq)
}

// largest returns the larger size of a vector's two parts.
func largest(v inverter.Vector) float64 { return max(math.Abs(v.Alpha), math.Abs(v.Beta)) }
