package drive

import (
	"math/cmplx"

	"gonum.org/v1/gonum/integrate/quad"
)

// gauss are points and weights for integrals from 0 to 1, exact for polynomials to degree 15.
var gaussPoints, gaussWeights = func() (x, w [8]float64) {
	quad.Legendre{}.FixedLocations(x[:], w[:], 0, 1)
	return x, w
}()

// transform returns ∫ c(x) exp(-j a x) dx from 0 to 1. Where the wave turns fast, parts are integrated until
// the quartic is used up,
//
//	∫ c e^(-jax) dx = Σ_k [c^(k)(0) - c^(k)(1) e^(-ja)] / (ja)^(k+1);
//
// where it turns slowly, those terms would cancel, and Gauss's points serve.
func (c *curve) transform(a float64) complex128 {
	if a > -2 && a < 2 {
		var sum complex128
		for m, x := range gaussPoints {
			s, co := sincos(a * x)
			sum += complex(gaussWeights[m]*c.at(x), 0) * complex(co, -s)
		}
		return sum
	}
	p := c.powers()
	ja, end := complex(0, a), cmplx.Exp(complex(0, -a))
	var sum complex128
	div := ja
	for range p {
		at1 := p[0] + p[1] + p[2] + p[3] + p[4]
		sum += (complex(p[0], 0) - complex(at1, 0)*end) / div
		div *= ja
		p = [5]float64{p[1], 2 * p[2], 3 * p[3], 4 * p[4]}
	}
	return sum
}

// powers returns the curve's coefficients of 1, x, x², x³, x⁴.
func (c *curve) powers() [5]float64 {
	return [5]float64{
		c[0],
		c[1] + c[2],
		-c[2] + c[3] + c[4],
		-c[3] - 2*c[4],
		c[4],
	}
}
