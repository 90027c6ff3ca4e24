package pattern

import (
	"math"
	"slices"

	"sextant/inverter"
)

// steepest is the most that a shaped reference changes per radian, over the modulation: a clamped pattern's
// other legs follow a line voltage.
const steepest = sqrt3

// A gap is how far a leg's reference is above the carrier within a piece of a slope, at y slopes from the
// piece's middle, where the angle is a = κy from that of the middle:
//
//	gap = p cos a - q sin a + p3 cos 3a - q3 sin 3a + level - rise y
type gap struct {
	p, q, p3, q3 float64
	level, rise  float64
	kappa        float64 // rad a slope
}

// at returns the gap and its derivative at y.
func (g *gap) at(y float64) (f, df float64) {
	s, c := sincos(g.kappa * y)
	f = g.p*c - g.q*s + g.level - g.rise*y
	df = -g.p*s - g.q*c
	if g.p3 != 0 || g.q3 != 0 {
		s3, c3 := s*(3-4*s*s), c*(4*c*c-3)
		f += g.p3*c3 - g.q3*s3
		df -= 3 * (g.p3*s3 + g.q3*c3)
	}
	return f, df*g.kappa - g.rise
}

// ends returns the gap at -y and at y, where s and c are sine and cosine of κy.
func (g *gap) ends(y, s, c float64) (before, after float64) {
	even, odd := g.level+g.p*c, g.rise*y+g.q*s
	if g.p3 != 0 || g.q3 != 0 {
		even += g.p3 * c * (4*c*c - 3)
		odd += g.q3 * s * (3 - 4*s*s)
	}
	return even + odd, even - odd
}

// sincos is math.Sincos for |a| <= π/12, the reach of a piece, by their series to a^12: short of the next
// terms by less than 1e-17.
func sincos(a float64) (s, c float64) {
	x := a * a
	s = a * (1 - x*(1./6)*(1-x*(1./20)*(1-x*(1./42)*(1-x*(1./72)*(1-x*(1./110))))))
	c = 1 - x*(1./2)*(1-x*(1./12)*(1-x*(1./30)*(1-x*(1./56)*(1-x*(1./90)*(1-x*(1./132))))))
	return s, c
}

// cross queues the commands of a piece of a slope, between corners, under natural sampling. Clipping needs
// no care: a clipped reference is above or below the whole carrier as the raw one is.
func (d *ideal) cross(slope int64, from, to float64) {
	middle, reach := (from+to)/2, (to-from)/2*(1-narrow)
	x, y := balanced(d.angle(slope, middle), d.depth)
	z := zeroSequence(d.kind, x)
	g := gap{kappa: 2 * math.Pi * d.gain, rise: 2, level: z.level + 1 - 2*middle}
	if slope&1 != 0 {
		g.rise, g.level = -2, z.level-1+2*middle
	}
	if d.kind == ThirdHarmonic && d.depth > 0 {
		// cos 3θ = 4 cos³ θ - 3 cos θ of phase U; it is the same for all three.
		c, s := x[inverter.U]/d.depth, y[inverter.U]/d.depth
		g.p3, g.q3 = -d.depth/6*c*(4*c*c-3), -d.depth/6*s*(3-4*s*s)
	}
	sin, cos := sincos(g.kappa * reach)
	var f flips
	for _, leg := range inverter.Phases {
		g.p, g.q = x[leg]+z.share*x[z.of], y[leg]+z.share*y[z.of]
		before, after := g.ends(reach, sin, cos)
		f.lead(leg, before > 0)
		switch {
		case !d.steep:
			g.scan(&f, leg, middle, reach, d.depth)
		case (before > 0) != (after > 0):
			f.add(leg, middle+g.root(-reach, reach, after > 0, g.parabola(before, after, reach), d.depth))
		}
	}
	d.queueFlips(slope, from, &f)
}

// parabola returns about where the gap is zero, from its values at -reach, 0 and reach.
func (g *gap) parabola(before, after, reach float64) float64 {
	at0 := g.level + g.p + g.p3
	b := (after - before) / 2
	c := (after+before)/2 - at0
	y := -at0 / b // in units of reach
	return reach * (y - c*y*y/(b+2*c*y))
}

// scan adds all crossings of a gap that may turn round within the piece.
func (g *gap) scan(f *flips, leg inverter.Phase, middle, reach, depth float64) {
	var room [most + 1]float64
	lo := -reach
	a, _ := g.at(lo)
	for _, hi := range append(g.turns(room[:0], reach), reach) {
		b, _ := g.at(hi)
		if (a > 0) != (b > 0) {
			f.add(leg, middle+g.root(lo, hi, b > 0, lo-a*(hi-lo)/(b-a), depth))
		}
		lo, a = hi, b
	}
}

// root returns where the gap crosses zero between lo and hi, upward or downward, to 1e-13 of a slope or
// better: by Newton's method from y, kept within its bracket by halving. The gap must have no turning point
// between lo and hi.
func (g *gap) root(lo, hi float64, up bool, y, depth float64) float64 {
	// A step d leaves an error of about d² |f"/2f'|, and |f"| <= bend.
	bend := 3 * depth * g.kappa * g.kappa
	for range 64 {
		f, df := g.at(y)
		if (f > 0) == up {
			hi = y
		} else {
			lo = y
		}
		d := f / df
		next := y - d
		if !(next >= lo && next <= hi) {
			y = (lo + hi) / 2
			continue
		}
		y = next
		if d*d*bend <= 2e-13*math.Abs(df) || math.Abs(d) < 1e-15 {
			break
		}
	}
	return y
}

// most is the number of turning points that a gap can have in a piece.
const most = 4

// turns appends the points within reach of the middle where the gap stops rising or falling, in order.
//
// With ψ the angle of the leg's own cosine of peak M, the gap's derivative is zero where, for a plain
// reference and with a sixth of the third harmonic:
//
//	sin ψ = -rise/(κM)
//	sin ψ - (1/2) sin 3ψ = 2x³ - x/2 = -rise/(κM), x = sin ψ
func (g *gap) turns(dst []float64, reach float64) []float64 {
	peak := math.Hypot(g.p, g.q)
	if peak == 0 {
		return dst
	}
	v := -g.rise / (g.kappa * peak)
	sines := [3]float64{v}
	n := 1
	if g.p3 != 0 || g.q3 != 0 {
		n = cubic(v, &sines)
	}
	at := math.Atan2(g.q, g.p)
	for _, x := range sines[:n] {
		if math.Abs(x) > 1 {
			continue
		}
		psi := math.Asin(x)
		for _, a := range [2]float64{psi - at, math.Pi - psi - at} {
			y := math.Remainder(a, 2*math.Pi) / g.kappa
			if math.Abs(y) < reach && len(dst) < most {
				dst = append(dst, y)
			}
		}
	}
	slices.Sort(dst)
	return dst
}

// cubic finds the real x of 2x³ - x/2 = v and returns their number. With x = cos(φ)/√3 or cosh(φ)/√3 it is
// cos 3φ, or cosh 3φ, = 6√3 v.
func cubic(v float64, x *[3]float64) int {
	w := 6 * sqrt3 * v
	if math.Abs(w) > 1 {
		x[0] = math.Copysign(math.Cosh(math.Acosh(math.Abs(w))/3)/sqrt3, w)
		return 1
	}
	third := math.Acos(w) / 3
	for i := range x {
		x[i] = math.Cos(third+2*math.Pi/3*float64(i)) / sqrt3
	}
	return 3
}
