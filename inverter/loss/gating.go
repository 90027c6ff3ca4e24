package loss

import (
	"math"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// A gating is what a leg's gates do about one angle of its voltage, as shares of a carrier period; the rest
// is dead time, or no gate at all.
type gating struct {
	high, low float64
	switches  bool // once a carrier period
}

// gating returns the gating at an angle of the leg's fundamental voltage, in rad.
func (p *Point) gating(theta float64) gating {
	if kind, ok := p.stepped(); ok {
		return p.step(kind.Conduction()/2, theta)
	}
	switch p.Pattern {
	case pattern.AllLow:
		return gating{low: 1}
	case pattern.AllHigh:
		return gating{high: 1}
	case pattern.AllOff:
		return gating{}
	case pattern.PulsedLow:
		if p.Duty == 0 || p.Duty == 1 {
			return gating{low: p.Duty}
		}
		return gating{low: max(0, p.Duty-p.DeadTime*p.Carrier), switches: true}
	}
	d := (1 + p.reference(theta)) / 2
	if d <= tied || d >= 1-tied {
		return gating{high: math.Round(d), low: 1 - math.Round(d)}
	}
	late := p.DeadTime * p.Carrier // the share that a delay takes from each pulse
	return gating{high: max(0, d-late), low: max(0, 1-d-late), switches: true}
}

// tied is how near to a rail a leg counts as tied to it.
const tied = 1e-12

// reference returns the leg's shaped reference, in units of half the supply.
func (p *Point) reference(theta float64) float64 {
	depth := p.Modulation
	if p.Pattern.Clamps() { // which, at no modulation at all, could not tell which leg to tie
		depth = max(depth, 1e-9)
	}
	ref := inverter.ABC{depth * math.Cos(theta), depth * math.Cos(theta-2*math.Pi/3), depth * math.Cos(theta+2*math.Pi/3)}
	return pattern.Shape(p.Pattern, ref)[inverter.U]
}

// step returns the gating of a leg whose upper switch is on from -half to half, dead time aside, and whose
// lower one is half a turn later.
func (p *Point) step(half, theta float64) gating {
	on := func(theta float64) float64 {
		theta = math.Remainder(theta, 2*math.Pi)
		if -half+p.lateBy() <= theta && theta < half {
			return 1
		}
		return 0
	}
	return gating{high: on(theta), low: on(theta - math.Pi)}
}

// lateBy is the angle that dead time is of a turn, in rad.
func (p *Point) lateBy() float64 { return 2 * math.Pi * p.Frequency * p.DeadTime }

// current returns the leg's current at an angle of its voltage, in A.
func (p *Point) current(theta float64) float64 { return p.Current * math.Cos(theta-p.Lag) }
