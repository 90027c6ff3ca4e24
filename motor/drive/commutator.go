package drive

import (
	"math"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// A commutator steps a six-step pattern by the rotor's position, so that the voltage vector stays the
// advance ahead of the q axis on average. Three sensors 120 electrical degrees apart tell the sixth of a
// turn that the rotor is in:
//
//	sensor 1 is high while e_u > e_v, 2 while e_v > e_w, 3 while e_w > e_u
//
// (e the EMFs of forward turning; Krishnan, Permanent Magnet Synchronous and Brushless DC Motor Drives, CRC
// 2010, ch. 9). Twelve steps need twice as fine a sensor; there the sixths are halves of that.
type commutator struct {
	gates   [12]inverter.Gates
	sector  sector  // the step, by the rotor's angle
	stuck   [3]int8 // sensors: +1 stuck high, -1 stuck low
	crossed uint8   // two sensors' signals: 1 plus the number of the third, 0 none
	ahead   float64 // rad, by how much the sensors tell the rotor ahead
	duty    float64 // of the chopped switches
	side    ChopSide
	carrier float64 // s, one period
	origin  float64 // s, where the carrier is at its minimum
	edges   float64 // chopping edges taken
	resting bool    // the chopped switches are off
	dead    pattern.DeadTime
}

func newCommutator(s *Scenario, theta, t float64) commutator {
	g := &s.Gating
	table, err := pattern.Steps(g.Kind, 1)
	if err != nil {
		panic("drive: a commutator without steps: " + err.Error()) // Validate has refused this
	}
	c := commutator{duty: g.Chop, side: g.ChopSide, origin: t}
	for k, step := range table.Steps {
		c.gates[k] = step.Gates
	}
	middle := (table.Steps[0].From + table.Steps[0].To) / 2 * math.Pi / 180
	c.sector = newSector(len(table.Steps), middle-math.Pi/2-g.Advance, theta)
	if g.Carrier > 0 {
		c.carrier = 1 / g.Carrier
	}
	if c.duty == 0 {
		c.resting = true
	}
	c.dead = pattern.NewDeadTime(g.DeadTime, c.want())
	return c
}

// takeOver begins with gates that another rule has left on.
func (c *commutator) takeOver(t, delay float64, gates inverter.Gates) {
	c.dead = pattern.NewDeadTime(delay, gates)
	c.dead.Command(t, c.want())
}

// inside returns how far the rotor, at angle theta, is from leaving the present step's part of the turn.
func (c *commutator) inside(theta float64) float64 { return c.sector.inside(theta + c.ahead) }

// leave goes over to the neighbouring step on whose side the rotor leaves the present one.
func (c *commutator) leave(t, theta float64) {
	c.sector.leave(theta + c.ahead)
	c.dead.Command(t, c.want())
}

// want returns the gates that the sensors and the chopping ask for.
func (c *commutator) want() inverter.Gates {
	k := c.seen()
	if k < 0 {
		return 0
	}
	g := c.gates[k]
	if !c.resting {
		return g
	}
	switch c.side {
	case ChopHigh:
		return g &^ inverter.AllHigh
	case ChopLow:
		return g &^ inverter.AllLow
	}
	return 0
}

// codes are the sensors' signals, sensor 1 the highest bit, in the sixth of a turn of each step of
// six-step-120 in the order of [pattern.Steps], whose first vector points at 30 degrees: the rotor lies
// between 270 and 330. For six-step-180 the sensors are mounted 30 degrees further back.
var codes = [6]uint8{0b110, 0b010, 0b011, 0b001, 0b101, 0b100}

// seen returns the step that the sensors tell, -1 where their code is impossible: 000 or 111.
func (c *commutator) seen() int {
	if c.sector.n != 6 || c.stuck == [3]int8{} && c.crossed == 0 {
		return c.sector.at
	}
	code := c.cross(codes[c.sector.at])
	for k, stuck := range c.stuck {
		bit := uint8(0b100) >> k
		switch {
		case stuck > 0:
			code |= bit
		case stuck < 0:
			code &^= bit
		}
	}
	for k, known := range codes {
		if known == code {
			return k
		}
	}
	return -1
}

// cross returns a code with two signals in each other's place.
func (c *commutator) cross(code uint8) uint8 {
	if c.crossed == 0 {
		return code
	}
	third := c.crossed - 1
	a, b := uint8(0b100)>>((third+1)%3), uint8(0b100)>>((third+2)%3)
	if (code&a != 0) != (code&b != 0) {
		code ^= a | b
	}
	return code
}

// chopEdge returns the time of the next chopping edge: the chopped switches are on while the carrier, a
// triangle at its minimum at origin, is below 2 duty - 1, so around its minima.
func (c *commutator) chopEdge() float64 {
	if c.duty <= 0 || c.duty >= 1 || c.carrier == 0 {
		return math.Inf(1)
	}
	period := math.Floor(c.edges / 2)
	if math.Mod(c.edges, 2) == 0 {
		return c.origin + (period+c.duty/2)*c.carrier
	}
	return c.origin + (period+1-c.duty/2)*c.carrier
}

func (c *commutator) peek() float64 { return min(c.chopEdge(), c.dead.Peek()) }

func (c *commutator) take(t float64) {
	for c.chopEdge() <= t {
		c.edges++
		c.resting = !c.resting
		c.dead.Command(t, c.want())
	}
	c.dead.Expire(t)
}
