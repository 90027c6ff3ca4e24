package motor

import "math"

// A polynomial is c[0] + c[1] x + ... of degree 4 at most.
type polynomial [5]float64

func (p polynomial) at(x float64) float64 {
	return p[0] + x*(p[1]+x*(p[2]+x*(p[3]+x*p[4])))
}

func (p polynomial) derivative() polynomial { return polynomial{p[1], 2 * p[2], 3 * p[3], 4 * p[4]} }

// times returns the product of two polynomials of degree 2 at most.
func (p polynomial) times(q polynomial) (r polynomial) {
	for i := range 3 {
		for j := range 3 {
			r[i+j] += p[i] * q[j]
		}
	}
	return r
}

// plus returns p + k q.
func (p polynomial) plus(k float64, q polynomial) polynomial {
	for i := range p {
		p[i] += k * q[i]
	}
	return p
}

// zeros holds some arguments, of which a polynomial has 4 at most, doubled where rounding cannot tell a
// crossing from a touch.
type zeros struct {
	x [16]float64
	n int
}

func (z *zeros) add(x float64) {
	if z.n < len(z.x) {
		z.x[z.n] = x
		z.n++
	}
}

// zerosIn returns the zeros of p from a to b, least first, touches to within rounding included. Between
// neighbouring zeros of its derivative a polynomial is monotone, so there each zero has a bracket of its own.
func (p polynomial) zerosIn(a, b float64) (z zeros) {
	if p[1] == 0 && p[2] == 0 && p[3] == 0 && p[4] == 0 {
		return z
	}
	turns := p.derivative().zerosIn(a, b)
	size := 0.0
	for _, c := range p {
		size += math.Abs(c)
	}
	touches := func(y float64) bool { return math.Abs(y) <= 1e-14*size*max(1, math.Abs(a), math.Abs(b)) }
	left, fl := a, p.at(a)
	if touches(fl) {
		z.add(a)
	}
	for i := range turns.n + 1 {
		right := b
		if i < turns.n {
			right = turns.x[i]
		}
		fr := p.at(right)
		if fl < 0 && fr > 0 || fl > 0 && fr < 0 {
			z.add(p.between(left, right, fl))
		}
		if touches(fr) {
			z.add(right)
		}
		left, fl = right, fr
	}
	return z
}

// between returns the one zero between a, where p is fa, and b, where its sign is the other: Newton's steps,
// and halvings where those leave the bracket.
func (p polynomial) between(a, b, fa float64) float64 {
	slope := p.derivative()
	x := (a + b) / 2
	for range 200 {
		y := p.at(x)
		if y == 0 {
			return x
		}
		if (y > 0) == (fa > 0) {
			a = x
		} else {
			b = x
		}
		next := x - y/slope.at(x)
		if !(next > a && next < b) {
			next = (a + b) / 2
		}
		if next == x || next == a || next == b {
			return next
		}
		x = next
	}
	return x
}

// A harmonics2 is k + c1 cos θ + s1 sin θ + c2 cos 2θ + s2 sin 2θ.
type harmonics2 struct{ k, c1, s1, c2, s2 float64 }

// angles returns the zeros over a turn. With t = tan θ/2, times (1+t²)², the sum is a polynomial in t; t from
// -1 to 1 covers one half of the turn, and 1/t the other.
func (h harmonics2) angles() (z zeros) {
	p := polynomial{h.k + h.c1 + h.c2, 2*h.s1 + 4*h.s2, 2*h.k - 6*h.c2, 2*h.s1 - 4*h.s2, h.k - h.c1 + h.c2}
	near := p.zerosIn(-1, 1)
	for _, t := range near.x[:near.n] {
		z.add(2 * math.Atan(t))
	}
	far := polynomial{p[4], p[3], p[2], p[1], p[0]}.zerosIn(-1, 1)
	for _, u := range far.x[:far.n] {
		z.add(math.Pi - 2*math.Atan(u))
	}
	return z
}
