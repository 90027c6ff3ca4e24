package drive

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/integrate/quad"
)

// gaussPoints and gaussWeights are for integrals from 0 to 1, exact for polynomials to degree 15.
var gaussPoints, gaussWeights = func() (x, w [8]float64) {
	quad.Legendre{}.FixedLocations(x[:], w[:], 0, 1)
	return x, w
}()

// moments returns ∫ x^m exp(-j a x) dx from 0 to 1 for m from 0 to 4. Where the wave turns fast, by parts,
//
//	I_0 = (1 - e^(-ja))/(ja),  I_m = (m I_(m-1) - e^(-ja))/(ja);
//
// where it turns slowly, those terms would cancel, and Gauss's points serve.
func moments(a float64) [5]complex128 {
	var m [5]complex128
	if a > -2 && a < 2 {
		for k, x := range gaussPoints {
			s, c := sincos(a * x)
			term := complex(gaussWeights[k]*c, -gaussWeights[k]*s)
			for p := range m {
				m[p] += term
				term *= complex(x, 0)
			}
		}
		return m
	}
	ja, end := complex(0, a), cmplx.Exp(complex(0, -a))
	m[0] = (1 - end) / ja
	for p := 1; p < len(m); p++ {
		m[p] = (complex(float64(p), 0)*m[p-1] - end) / ja
	}
	return m
}

// transform returns ∫ c(x) exp(-j a x) dx from 0 to 1, m being the moments for a.
func (c *curve) transform(m *[5]complex128) complex128 {
	var sum complex128
	for p, coefficient := range c.powers() {
		sum += complex(coefficient, 0) * m[p]
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

// area returns the curve's integral from 0 to x.
func (c *curve) area(x float64) float64 {
	p := c.powers()
	return x * (p[0] + x*(p[1]/2+x*(p[2]/3+x*(p[3]/4+x*p[4]/5))))
}

// through returns the quartic curve through the values y at 0, 1/4, 1/2, 3/4 and 1.
func through(y [5]float64) curve {
	// Newton's forward differences, then powers of x, then the nested form.
	d1, d2 := y[1]-y[0], y[2]-2*y[1]+y[0]
	d3 := y[3] - 3*y[2] + 3*y[1] - y[0]
	d4 := y[4] - 4*y[3] + 6*y[2] - 4*y[1] + y[0]
	p1 := 4 * (d1 - d2/2 + d3/3 - d4/4)
	p2 := 16 * (d2/2 - d3/2 + 11*d4/24)
	p3 := 64 * (d3/6 - d4/4)
	p4 := 256 * d4 / 24
	c4 := p4
	c3 := -p3 - 2*c4
	c2 := -p2 + c3 + c4
	return curve{y[0], p1 - c2, c2, c3, c4}
}

// A HarmonicSummary is one order of the currents and the torque, each the amplitude and angle of
// peak·cos(order 2π f t + angle), t counted from the start of the run.
type HarmonicSummary struct {
	Order       int     `json:"order"`
	U           float64 `json:"u_peak_a"`
	UAngle      float64 `json:"u_angle_deg"`
	V           float64 `json:"v_peak_a"`
	VAngle      float64 `json:"v_angle_deg"`
	W           float64 `json:"w_peak_a"`
	WAngle      float64 `json:"w_angle_deg"`
	Torque      float64 `json:"torque_peak_nm"`
	TorqueAngle float64 `json:"torque_angle_deg"`
	Supply      float64 `json:"supply_peak_a"`
	SupplyAngle float64 `json:"supply_angle_deg"`
}

// A series observes a run and takes the Fourier series of its currents and torque, exactly over each
// segment's continuous extension: no sampling.
type series struct {
	omega float64 // of order 1, rad/s
	time  float64
	lines [][5]complex128 // by order from 1: ∫ x e^(-jnωt) dt of the three phases, torque, supply
}

// Observe counts a segment.
func (f *series) Observe(seg *Segment) {
	h := seg.T1 - seg.T0
	if h <= 0 {
		return
	}
	f.time += h
	seg.trace()
	curves := seg.curves()
	step := cmplx.Exp(complex(0, -f.omega*seg.T0))
	turn := complex(h, 0)
	for n := range f.lines {
		turn *= step
		m := moments(f.omega * h * float64(n+1))
		for k := range curves {
			f.lines[n][k] += turn * curves[k].transform(&m)
		}
	}
}

// curves returns the three phase currents, the torque and the source's current over a segment.
func (s *Segment) curves() [5]curve {
	p, tr := s.plant, &s.track
	mix := func(a, b float64) (c curve) {
		for k := range c {
			c[k] = a*tr.alpha[k] + b*tr.beta[k]
		}
		return c
	}
	var torque [5]float64
	if p.pairs > 0 {
		for k := range torque {
			y := s.at(float64(k) / 4)
			torque[k] = p.torqueAt(&y)
		}
	}
	return [5]curve{
		mix(p.axes[0].Alpha, p.axes[0].Beta), mix(p.axes[1].Alpha, p.axes[1].Beta), mix(p.axes[2].Alpha, p.axes[2].Beta),
		through(torque), s.mix(p.outflow()),
	}
}

// mix returns the curve of f over a segment that has been traced.
func (s *Segment) mix(f flow) (c curve) {
	g, tr := s.net.g, &s.track
	for k := range c {
		c[k] = f.c * (g.Alpha*tr.alpha[k] + g.Beta*tr.beta[k])
		if f.b != 0 {
			c[k] += f.b * tr.link[k]
		}
	}
	c[0] += f.a
	return c
}

// summary returns the orders.
func (f *series) summary() []HarmonicSummary {
	orders := make([]HarmonicSummary, len(f.lines))
	for n, line := range f.lines {
		var peak, angle [5]float64
		for k, x := range line {
			peak[k] = 2 / f.time * cmplx.Abs(x)
			angle[k] = cmplx.Phase(x) * 180 / math.Pi
		}
		orders[n] = HarmonicSummary{
			Order: n + 1, U: peak[0], UAngle: angle[0], V: peak[1], VAngle: angle[1], W: peak[2], WAngle: angle[2],
			Torque: peak[3], TorqueAngle: angle[3], Supply: peak[4], SupplyAngle: angle[4],
		}
	}
	return orders
}
