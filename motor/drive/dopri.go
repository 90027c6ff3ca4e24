package drive

// The embedded Runge-Kutta pair of orders 5 and 4 by J. R. Dormand and P. J. Prince, "A family of embedded
// Runge-Kutta formulae", J. Comp. Appl. Math. 6 (1980) 19, as printed in Hairer, Nørsett, Wanner, Solving
// Ordinary Differential Equations I (Springer, 1993), Table II.5.2, and its continuous extension of order 4
// from the same book's code.
const stages = 7

// nodes are the stages' times as parts of a stride.
var nodes = [stages]float64{0, 1. / 5, 3. / 10, 4. / 5, 8. / 9, 1, 1}

// couplings has a row for each stage: how far the slopes before it carry the state. The last row is also
// the weights of the fifth-order result.
var couplings = [stages][stages - 1]float64{
	{},
	{1. / 5},
	{3. / 40, 9. / 40},
	{44. / 45, -56. / 15, 32. / 9},
	{19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729},
	{9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656},
	{35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84},
}

// defects are the weights of the difference between the two results.
var defects = [stages]float64{
	71. / 57600, 0, -71. / 16695, 71. / 1920, -17253. / 339200, 22. / 525, -1. / 40,
}

// bends are the weights of the continuous extension's last coefficient.
var bends = [stages]float64{
	-12715105075. / 11282082432, 0, 87487479700. / 32700410799, -10690763975. / 1880347072,
	701980252875. / 199316789632, -1453857185. / 822651844, 69997945. / 29380423,
}

// A curve is the continuous extension of one variable over a stride, as Hairer, Nørsett and Wanner nest it.
type curve [5]float64

// newCurve returns the curve from y0 to y1 with slopes k0 and k1 per stride at its ends and the bend
// weighted from all slopes.
func newCurve(y0, y1, k0, k1, bend float64) curve {
	rise := y1 - y0
	b := k0 - rise
	return curve{y0, rise, b, rise - k1 - b, bend}
}

// at returns the variable at part x of the stride, 0 to 1.
func (c *curve) at(x float64) float64 {
	y := 1 - x
	return c[0] + x*(c[1]+y*(c[2]+x*(c[3]+y*c[4])))
}

// slope returns the variable's derivative by x at part x of the stride.
func (c *curve) slope(x float64) float64 {
	// With y = 1-x: f = c0 + x(c1 + y(c2 + x(c3 + y c4))), differentiated from the inside out.
	y := 1 - x
	r := c[3] + y*c[4]
	q, dq := c[2]+x*r, r-x*c[4]
	p, dp := c[1]+y*q, y*dq-q
	return p + x*dp
}
