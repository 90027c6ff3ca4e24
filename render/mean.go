package render

import "sextant/motor/drive"

// meanPower returns the mean of the power over what the tape shows left of the now-line; false where it
// shows too little. Between two instants a power is taken to run straight; at an event there are two.
func (p *pen) meanPower() (drive.Power, bool) {
	w := p.l.window(p.v)
	var sum drive.Power
	var time float64
	var last *drive.Instant
	for i := range p.v.Tape {
		next := &p.v.Tape[i]
		if next.Time > p.v.Now.Time {
			break
		}
		if last != nil && last.Time >= w.from && next.Time > last.Time {
			h := next.Time - last.Time
			a, b := &last.Power, &next.Power
			sum.Supply += h / 2 * (a.Supply + b.Supply)
			sum.Bridge += h / 2 * (a.Bridge + b.Bridge)
			sum.Copper += h / 2 * (a.Copper + b.Copper)
			sum.Shaft += h / 2 * (a.Shaft + b.Shaft)
			sum.Store += h / 2 * (a.Store + b.Store)
			time += h
		}
		last = next
	}
	if !(time > 0) {
		return drive.Power{}, false
	}
	return drive.Power{
		Supply: sum.Supply / time, Bridge: sum.Bridge / time, Copper: sum.Copper / time,
		Shaft: sum.Shaft / time, Store: sum.Store / time,
	}, true
}
