package pattern

import (
	"math"

	"sextant/inverter"
)

// ideal makes a pattern's commands as they are before dead time. Stepped patterns count borders; carrier
// patterns go slope by slope, cut where the reference changes its formula, and queue the commands of one
// such piece at a time.
type ideal struct {
	clock
	kind     Kind
	sampling Sampling
	depth    float64 // modulation
	duty     float64
	hand     inverter.Gates
	corners  bool // slopes are cut at every twelfth of a turn
	steep    bool // the carrier is steeper than any reference: one crossing a slope at most

	on    inverter.Gates // after the last command taken
	index int64          // of the step under way, or of the slope being worked
	from  float64        // position within the slope that has been worked up to
	queue [16]command
	head  int
	tail  int
}

// A command is gates wanted from a time on.
type command struct {
	t     float64
	gates inverter.Gates
}

// patience is how many pieces without an edge are worked before [Stream.Peek] answers all the same.
const patience = 4096

// start sets d to run by s from its clock's origin; on is kept.
func (d *ideal) start(s Settings) {
	s.Frequency += 0 // a negative zero becomes a zero
	d.kind, d.sampling, d.depth, d.duty, d.hand = s.Kind.At(s.Modulation), s.Sampling.For(s.Kind), s.Modulation, s.Duty, s.Hand
	d.set(s)
	d.head, d.tail = 0, 0
	if d.kind.Stepped() {
		d.index = sequences[d.kind].at(d.turn, d.freq < 0)
		d.push(d.t0, sequences[d.kind].gate(d.index))
		if d.tail == 0 {
			d.fill()
		}
		return
	}
	if !d.kind.NeedsCarrier() {
		d.push(d.t0, d.constant())
		return
	}
	d.index = int64(d.pos)
	d.from = d.pos - float64(d.index)
	d.corners = d.kind.Compares() && d.sampling == Natural && (d.kind > ThirdHarmonic || math.Abs(d.gain) > 1./12)
	d.steep = 2*math.Pi*math.Abs(d.gain)*steepest*d.depth < 2
	d.fill()
}

// begin makes the commands of a fresh pattern start at its origin and returns the gates there.
func (d *ideal) begin() inverter.Gates {
	if d.head < d.tail && d.queue[d.head].t <= d.t0 {
		return d.take()
	}
	return d.on
}

func (d *ideal) constant() inverter.Gates {
	switch d.kind {
	case AllLow:
		return inverter.AllLow
	case AllHigh:
		return inverter.AllHigh
	case ByHand:
		return d.hand
	}
	return 0
}

// peek returns the time of the next command, +Inf if none.
func (d *ideal) peek() float64 {
	if d.head == d.tail {
		return math.Inf(1)
	}
	return d.queue[d.head].t
}

// take returns the gates of the next command and makes the one after it ready.
func (d *ideal) take() inverter.Gates {
	d.on = d.queue[d.head].gates
	if d.head++; d.head == d.tail {
		d.head, d.tail = 0, 0
		d.fill()
	}
	return d.on
}

// fill queues the next commands, if any are to come.
func (d *ideal) fill() {
	switch {
	case d.kind.Stepped():
		d.step()
	case d.kind.NeedsCarrier():
		for n := 0; d.tail == 0 && n < patience; n++ {
			d.piece()
		}
		if d.tail == 0 {
			d.queue[0] = command{d.time(d.index, d.from), d.on}
			d.tail = 1
		}
	}
}

// step queues the next border of a stepped pattern; at frequency 0 there is none.
func (d *ideal) step() {
	q := sequences[d.kind]
	if d.freq == 0 {
		return
	}
	next, border := d.index+1, d.index+1
	if d.freq < 0 {
		next, border = d.index-1, d.index
	}
	d.index = next
	d.push(d.t0+(q.border(border)-d.turn)/d.freq, q.gate(d.index))
}

// piece queues the commands of the next piece of a slope.
func (d *ideal) piece() {
	slope, from, to := d.index, d.from, 1.0
	if d.corners {
		to = d.corner(slope, from)
	}
	switch {
	case d.kind == PulsedLow:
		d.pulsed(slope, from)
	case d.sampling == Natural:
		d.cross(slope, from, to)
	default:
		d.held(slope, from)
	}
	d.from = to
	if to == 1 {
		d.index, d.from = slope+1, 0
	}
}

// corner returns where, after from, the angle next comes to a twelfth of a turn; 1 if not on this slope.
func (d *ideal) corner(slope int64, from float64) float64 {
	at := 12 * d.angle(slope, from)
	next := math.Floor(at+nearly) + 1
	if d.gain < 0 {
		next = math.Ceil(at-nearly) - 1
	}
	to := from + (next-at)/(12*d.gain)
	if !(to < 1-nearly) { // also where the angle stands still
		return 1
	}
	return to
}

// pulsed queues the commands of a slope of pulsed-low: the even slope begins a period.
func (d *ideal) pulsed(slope int64, from float64) {
	cut := 2*d.duty - float64(slope&1)
	if cut <= from+narrow {
		d.pushAt(slope, from, 0)
		return
	}
	d.pushAt(slope, from, inverter.AllLow)
	if cut < 1-narrow {
		d.pushAt(slope, cut, 0)
	}
}

// held queues the commands of a slope whose reference was sampled at its start, or at the minimum before.
func (d *ideal) held(slope int64, from float64) {
	at := slope
	if d.sampling == Regular {
		at -= slope & 1
	}
	h := heldSlope(d.sample(at), slope&1 == 0, from)
	d.queueFlips(slope, from, &h)
}

// queueFlips queues what f holds of a slope.
func (d *ideal) queueFlips(slope int64, from float64, f *flips) {
	f.sort()
	g := f.start
	d.pushAt(slope, from, g)
	for i, x := range f.all[:f.n] {
		g ^= both << (2 * x.leg)
		if i+1 < f.n && f.all[i+1].p-x.p < narrow {
			continue
		}
		d.pushAt(slope, x.p, g)
	}
}

func (d *ideal) pushAt(slope int64, p float64, g inverter.Gates) { d.push(d.time(slope, p), g) }

// push queues gates unless they are those wanted already.
func (d *ideal) push(t float64, g inverter.Gates) {
	before := d.on
	if d.tail > 0 {
		before = d.queue[d.tail-1].gates
	}
	if g != before {
		d.queue[d.tail] = command{t, g}
		d.tail++
	}
}
