package drive

import (
	"math"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// A gate is what commands the six gates by the scenario's rule; a plain value. One of its three parts
// commands, the others rest. The clock's stream runs on under all rules, as angle and carrier.
type gate struct {
	rule    rule
	stream  pattern.Stream
	commute commutator
	sampler sampler
}

// A rule says which part commands.
type rule uint8

const (
	byClock rule = iota
	byRotor
	bySamples
)

func (s *Scenario) rule() rule {
	g := &s.Gating
	switch {
	case g.Follow == Rotor:
		return byRotor
	case g.Follow == Current, g.Ramp > 0:
		return bySamples
	}
	return byClock
}

// clock returns what the stream runs by: the scenario's pattern where the clock commands.
func (s *Scenario) clock() pattern.Settings {
	c := s.Gating.Settings
	if s.rule() != byClock {
		c = pattern.Settings{Kind: pattern.AllOff, Frequency: c.Frequency, Phase: c.Phase}
	}
	return c
}

// clockFrequency returns the frequency in Hz at which the clock turns a voltage vector, 0 where it turns
// none.
func (s *Scenario) clockFrequency() float64 {
	g := &s.Gating
	if g.Follow != Clock || !g.Kind.Stepped() && !g.Kind.Compares() {
		return 0
	}
	return math.Abs(g.Frequency)
}

// newGate returns the gating of s at t = 0 and state st.
func newGate(s *Scenario, p *plant, st *state) (gate, error) {
	stream, err := pattern.New(s.clock())
	if err != nil {
		return gate{}, err
	}
	g := gate{rule: s.rule(), stream: stream}
	switch g.rule {
	case byRotor:
		g.commute = newCommutator(s, st.theta, 0)
	case bySamples:
		g.sampler = newSampler(s, p, st, 0)
	}
	return g, nil
}

// change goes over to s's gating at time t. What gates are on stay on until the new rule's turn-offs and
// delayed turn-ons.
func (g *gate) change(t float64, s *Scenario, p *plant, st *state) error {
	now := g.gates()
	next := *g
	if err := next.stream.Change(t, s.clock()); err != nil {
		return err
	}
	next.rule = s.rule()
	switch next.rule {
	case byRotor:
		next.commute = newCommutator(s, st.theta, t)
		next.commute.takeOver(t, s.Gating.DeadTime, now)
	case bySamples:
		if g.rule == bySamples {
			next.sampler.retune(t, s, p)
			break
		}
		next.sampler = newSampler(s, p, st, t)
		next.sampler.takeOver(t, s.Gating.DeadTime, now)
	}
	*g = next
	return nil
}

// gates returns the switches that are on.
func (g *gate) gates() inverter.Gates {
	switch g.rule {
	case byRotor:
		return g.commute.dead.Gates()
	case bySamples:
		return g.sampler.dead.Gates()
	}
	return g.stream.Gates()
}

// peek returns the time of the next edge, sample or delayed turn-on, in s.
func (g *gate) peek() float64 {
	switch g.rule {
	case byRotor:
		return g.commute.peek()
	case bySamples:
		return g.sampler.peek()
	}
	return g.stream.Peek()
}

// take lets happen what peek announced, the drive being in state st.
func (g *gate) take(t float64, st *state, p *plant, link float64) {
	switch g.rule {
	case byRotor:
		g.commute.take(t)
	case bySamples:
		g.sampler.take(t, st, p, link)
	default:
		g.stream.Next()
	}
}

// angle returns where the gating would have the voltage vector point at time t, in rad; for a rotor's or a
// current's follower that is not known beforehand.
func (g *gate) angle(t float64) (float64, bool) {
	switch {
	case g.rule == byClock:
		return g.stream.Angle(t), true
	case g.rule == bySamples && g.sampler.ramped:
		return g.sampler.ramp.angle(t), true
	}
	return 0, false
}

// mend forgets the faults of sensors; apply has one; renew makes the gating look again.
func (g *gate) mend() {
	g.commute.stuck, g.commute.crossed, g.commute.ahead = [3]int8{}, 0, 0
	g.sampler.sense = perfect
}

func (g *gate) apply(f *Fault) {
	switch f.Kind {
	case PositionSensorStuck:
		g.commute.stuck[f.Phase] = -1
		if f.Value != 0 {
			g.commute.stuck[f.Phase] = 1
		}
	case PositionSensorSwapped:
		g.commute.crossed = 1 + uint8(f.Phase)
	case PositionSensorOffset:
		g.commute.ahead += f.Value
		g.sampler.sense.ahead += f.Value
	case CurrentSensorOffset:
		g.sampler.sense.offset[f.Phase] += f.Value
	case CurrentSensorGain:
		g.sampler.sense.gain[f.Phase] *= f.Value
	}
}

func (g *gate) renew(t float64) {
	if g.rule == byRotor {
		g.commute.dead.Command(t, g.commute.want())
	}
}
