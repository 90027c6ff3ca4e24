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

// sincos is math.Sincos for |a| <= π/12, the reach of a piece, by their series to a^12: short of the next
// terms by less than 1e-17.
func sincos(a float64) (s, c float64) {
	x := a * a
	s = a * (1 - x/6*(1-x/20*(1-x/42*(1-x/72*(1-x/110)))))
	c = 1 - x/2*(1-x/12*(1-x/30*(1-x/56*(1-x/90*(1-x/132)))))
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
	var f flips
	for _, leg := range inverter.Phases {
		g.p, g.q = x[leg]+z.share*x[z.of], y[leg]+z.share*y[z.of]
		a, _ := g.at(-reach)
		f.lead(leg, a > 0)
		var room [most + 1]float64
		ends := room[:0]
		if !d.steep {
			ends = g.turns(ends, reach)
		}
		lo := -reach
		for _, hi := range append(ends, reach) {
			b, _ := g.at(hi)
			if (a > 0) != (b > 0) {
				f.add(leg, middle+g.root(lo, hi, a, b, d.depth))
			}
			lo, a = hi, b
		}
	}
	d.queueFlips(slope, from, &f)
}

// root returns where the gap, which has fa and fb of opposite signs at lo and hi and no turning point
// between, is zero: by Newton's method from the chord's root, kept within its bracket by halving.
func (g *gap) root(lo, hi, fa, fb, depth float64) float64 {
	y := lo - fa*(hi-lo)/(fb-fa)
	// A step d leaves an error of about d² |f"/2f'|, and |f"| <= bend.
	bend := 3 * depth * g.kappa * g.kappa
	up := fb > fa
	for range 64 {
		f, df := g.at(y)
		if (f > 0) == up {
			hi = y
		} else {
			lo = y
		}
		d := f / df
		if next := y - d; next > lo && next < hi {
			y = next
		} else {
			y, d = (lo+hi)/2, (hi-lo)/2
		}
		if d = math.Abs(d); d*d*bend < 1e-15*math.Abs(df) || d < 1e-15 {
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
