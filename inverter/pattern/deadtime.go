package pattern

import (
	"math"

	"sextant/inverter"
)

// A DeadTime delays every turn-on by the same time and leaves turn-offs where they are, so that a leg's
// switches never meet; a pulse that is not longer than the delay is lost. It is a plain value: a copy is a
// snapshot.
type DeadTime struct {
	Delay float64 // s; may change at any time and holds for later commands

	gates   inverter.Gates // on now
	pending inverter.Gates // commanded on, waiting
	due     [6]float64
	next    float64 // the earliest due of those pending
}

// NewDeadTime returns a delay of so many seconds, on a bridge whose gates have been as given for long.
func NewDeadTime(delay float64, gates inverter.Gates) DeadTime {
	return DeadTime{Delay: delay, gates: gates, next: math.Inf(1)}
}

// Gates returns the switches that are on.
func (d *DeadTime) Gates() inverter.Gates { return d.gates }

// Peek returns the time of the next delayed turn-on, +Inf if none waits.
func (d *DeadTime) Peek() float64 { return d.next }

// Command wants these gates from t on: turn-offs happen at once, turn-ons when [DeadTime.Peek] says.
func (d *DeadTime) Command(t float64, want inverter.Gates) {
	if d.Delay == 0 && d.pending == 0 {
		d.gates = want
		return
	}
	d.gates &= want
	fresh := want &^ (d.gates | d.pending)
	if d.Delay == 0 {
		d.gates |= fresh
		fresh = 0
	}
	for _, s := range inverter.Switches {
		if fresh.Has(s) {
			d.due[s] = t + d.Delay
		}
	}
	d.pending = d.pending&want | fresh
	d.look()
}

// Expire turns on what is due at t.
func (d *DeadTime) Expire(t float64) {
	if d.next > t {
		return
	}
	for _, s := range inverter.Switches {
		if d.pending.Has(s) && d.due[s] <= t {
			d.gates = d.gates.With(s)
			d.pending = d.pending.Without(s)
		}
	}
	d.look()
}

func (d *DeadTime) look() {
	d.next = math.Inf(1)
	if d.pending == 0 {
		return
	}
	for _, s := range inverter.Switches {
		if d.pending.Has(s) {
			d.next = min(d.next, d.due[s])
		}
	}
}
