package render

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
)

// timeAxis draws marks at round times below the lanes.
func (p *pen) timeAxis(w window) {
	l, u := p.l, p.l.unit
	span := w.to - w.from
	step := roundStep(max(span/7, l.Seconds(4.8*l.small, w.span)))
	origin := 0.0
	if math.Abs(w.to)/step > 1e5 { // too many digits to read: count from now
		origin = w.now
	}
	scale, unit := 1.0, "s"
	switch largest := max(math.Abs(w.from-origin), math.Abs(w.to-origin)); {
	case largest < 1e-6:
		scale, unit = 1e9, "ns"
	case largest < 1e-3:
		scale, unit = 1e6, "µs"
	case largest < 1:
		scale, unit = 1e3, "ms"
	}
	decimals := max(0, int(math.Ceil(-math.Log10(step*scale)-1e-9)))
	first := max(math.Ceil((w.from-origin)/step), math.Ceil(-origin/step)) + 0 // no time before 0, nor -0
	p.start()
	for k := first; origin+k*step <= w.to; k++ {
		x := w.x(origin + k*step)
		p.trail(vg.Point{X: x, Y: l.Trace.Min.Y - 0.5*u}, vg.Point{X: x, Y: l.Trace.Max.Y})
	}
	p.stroke(0.1*u, p.ink.rule)
	for k := first; origin+k*step <= w.to; k++ {
		a := label{
			at:   vg.Point{X: w.x(origin + k*step), Y: l.Trace.Min.Y - 0.6*u - l.small*0.6},
			size: l.small * 0.9, align: centre, color: p.ink.muted,
		}
		if a.at.X < l.Trace.Min.X+2*l.small || a.at.X > l.Trace.Max.X-2*l.small {
			continue
		}
		p.digit = strconv.AppendFloat(p.digit[:0], k*step*scale, 'f', decimals, 64)
		p.digit = append(p.digit, ' ')
		p.digit = append(p.digit, unit...)
		p.write(string(p.digit), a)
	}
}
