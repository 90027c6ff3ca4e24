package heat

import "math"

// A Cell is a stretch of time with a power that changes in a straight line, after a jolt of energy at its
// start.
type Cell struct {
	Length   float64 // s
	From, To float64 // W
	Jolt     float64 // J
}

// A Cycle is what a power does before it repeats, in order.
type Cycle []Cell

// Swing is the extremes and the mean of a temperature rise over a cycle, in K.
type Swing struct{ Least, Mean, Peak float64 }

// A Load is a power on a network; several add up at one junction, as a case does that a switch and a diode
// heat both. The cycles of loads that add up have cells of the same lengths.
type Load struct {
	Chain Chain
	Cycle Cycle
}

// Steady returns the swing at the ends of cells once the loads have repeated for long, without going there:
// over a cell of length h, whose power goes from p to q, a pair's rise goes from y to
//
//	y e + R [p (1-e) + (q-p) (1 - (1-e)/x)],  x = h/τ, e = exp(-x),
//
// which a whole cycle makes y E + S; the rise that repeats begins at y = S/(1-E).
func Steady(loads ...Load) Swing {
	if len(loads) == 0 || len(loads[0].Cycle) == 0 {
		return Swing{}
	}
	cells := len(loads[0].Cycle)
	rise := make([]float64, 2*cells) // after the jolt at a cell's start, and at its end
	mean := 0.0
	for _, l := range loads {
		mean += l.Chain.Resistance() * l.Cycle.Mean()
		for _, p := range l.Chain {
			p.add(rise, l.Cycle)
		}
	}
	s := Swing{Least: math.Inf(1), Mean: mean, Peak: math.Inf(-1)}
	for _, y := range rise {
		s.Least, s.Peak = min(s.Least, y), max(s.Peak, y)
	}
	return s
}

// add adds p's steady rise under c to what is in rise.
func (p Pair) add(rise []float64, c Cycle) {
	y := p.start(c)
	for i, cell := range c {
		y += p.Resistance * cell.Jolt / p.Time
		rise[2*i] += y
		y = p.over(cell, y)
		rise[2*i+1] += y
	}
}

// start returns the rise at the start of a cycle that repeats.
func (p Pair) start(c Cycle) float64 {
	s, length := 0.0, 0.0
	for _, cell := range c {
		s = p.over(cell, s+p.Resistance*cell.Jolt/p.Time)
		length += cell.Length
	}
	return s / -math.Expm1(-length/p.Time)
}

// over returns the rise at the end of a cell that it entered with y.
func (p Pair) over(cell Cell, y float64) float64 {
	x := cell.Length / p.Time
	if x == 0 {
		return y
	}
	gone := -math.Expm1(-x) // 1-e
	return y*math.Exp(-x) + p.Resistance*(cell.From*gone+(cell.To-cell.From)*(x-gone)/x)
}

// Length returns how long c takes, in s.
func (c Cycle) Length() float64 {
	t := 0.0
	for _, cell := range c {
		t += cell.Length
	}
	return t
}

// Mean returns the mean power of c in W.
func (c Cycle) Mean() float64 {
	energy := 0.0
	for _, cell := range c {
		energy += cell.Jolt + cell.Length*(cell.From+cell.To)/2
	}
	return energy / c.Length()
}
