package symptom

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sextant/inverter/slip"
)

// A When is at what occasion a sign is looked for.
type When uint8

// The occasions.
const (
	Starting When = iota
	Running
	Metered // de-energised, proved dead, shaft held
)

// String returns the occasion's name.
func (w When) String() string {
	return [...]string{"starting", "running", "de-energised, by meter"}[w]
}

// A Sign is something that a person can observe without a record of waveforms.
type Sign struct {
	Key  string `json:"sign"`
	Text string `json:"text"`
	When When   `json:"-"`

	starting func(*Symptoms) bool
	running  func(c *Comparison) bool
	metered  func(*Meter) bool
}

// Signs is the fixed list. A sign's rule reads the figures of a run, not the name of a fault. Small parts of the
// healthy figures, a twentieth or a tenth, are what a clamp meter, a hand or an ear would miss.
var Signs = []Sign{
	{Key: "hums-wont-start", Text: "hums and will not start from some rotor positions", starting: func(x *Symptoms) bool {
		return x.Start != nil && !x.Start.Tripped && len(x.Start.Dead) > 0 && x.Start.Share() < 1 && !x.stalled()
	}},
	{Key: "never-starts", Text: "does not start from any rotor position", starting: func(x *Symptoms) bool {
		return x.stalled() || x.Start != nil && x.Start.Share() == 1
	}},
	{Key: "kicks-back", Text: "stays, or kicks backward, from some positions", starting: func(x *Symptoms) bool {
		return x.Start != nil && slices.Min(x.Start.Faulty) < -x.Start.Needed
	}},
	{Key: "turns-backward", Text: "turns backward", starting: func(x *Symptoms) bool {
		return x.Start != nil && x.Start.Clocked && x.Start.Field < 0
	}},
	{Key: "starts-weakly", Text: "pulls away weakly", starting: func(x *Symptoms) bool {
		return x.Start != nil && !x.Start.Tripped && mean(x.Start.Faulty) < (1-upset)*mean(x.Start.Healthy)
	}},
	{Key: "trips", Text: "trips at once: the drive reports a fault", When: Running, running: func(c *Comparison) bool {
		return c.Failed != "" || len(c.Faulty.Notices) > len(c.Healthy.Notices)
	}},
	{Key: "stalls", Text: "stands still under power", When: Running, running: func(c *Comparison) bool {
		return c.Healthy.Speed != 0 && c.Faulty.Speed == 0
	}},
	{Key: "runs-rough", Text: "runs rough, the frame shakes", When: Running, running: func(c *Comparison) bool {
		return c.Faulty.Ripple-c.Healthy.Ripple > 0.2*math.Abs(c.Healthy.Torque)
	}},
	{Key: "hums-at-1f", Text: "hums or throbs at the electrical frequency", When: Running, running: func(c *Comparison) bool { return c.hums(1) }},
	{Key: "hums-at-2f", Text: "hums or throbs at twice the electrical frequency", When: Running, running: func(c *Comparison) bool { return c.hums(2) }},
	{Key: "torque-down", Text: "pulls less than it should", When: Running, running: func(c *Comparison) bool {
		part := c.Faulty.Torque / c.Healthy.Torque
		return c.Healthy.Torque != 0 && part > 0 && part < 1-upset
	}},
	{Key: "drags", Text: "brakes where it should pull, or the other way round", When: Running, running: func(c *Comparison) bool {
		return c.Healthy.Torque != 0 && c.Faulty.Torque/c.Healthy.Torque < -faint
	}},
	{Key: "one-clamp-zero", Text: "one clamp meter reads nothing", When: Running, running: func(c *Comparison) bool {
		is, _ := c.Faulty.rms()
		zero := 0
		for _, x := range is {
			if x < lost*c.most() {
				zero++
			}
		}
		return zero == 1
	}},
	{Key: "no-current", Text: "no clamp meter reads anything", When: Running, running: func(c *Comparison) bool {
		_, largest := c.Faulty.rms()
		return largest < lost*c.most()
	}},
	{Key: "clamps-unequal", Text: "clamp meters read unequal currents", When: Running, running: func(c *Comparison) bool {
		is, largest := c.Faulty.rms()
		return min3(is) >= lost*c.most() && largest-min3(is) > upset*largest
	}},
	{Key: "clamps-high", Text: "all clamp meters read more than usual", When: Running, running: func(c *Comparison) bool {
		is, _ := c.Faulty.rms()
		return min3(is) > (1+upset)*c.most()
	}},
	{Key: "mean-current", Text: "a clamp meter for direct current reads a mean", When: Running, running: func(c *Comparison) bool {
		return c.Faulty.Mean > faint*c.most() && c.Faulty.Mean > 2*c.Healthy.Mean
	}},
	{Key: "one-leg-hot", Text: "some switches run hotter than others", When: Running, running: func(c *Comparison) bool {
		return uneven(c.Faulty.Devices) > uneven(c.Healthy.Devices)+2*upset
	}},
	{Key: "all-hot", Text: "all switches run hotter than usual", When: Running, running: func(c *Comparison) bool {
		low := math.Inf(1)
		for _, d := range c.Faulty.Devices {
			low = math.Min(low, d.Current)
		}
		return low > (1+upset)*c.Healthy.hottest().Current
	}},
	{Key: "link-low", Text: "the link stands lower than usual", When: Running, running: func(c *Comparison) bool {
		return c.Faulty.LinkVolts < (1-faint/2)*c.Healthy.LinkVolts
	}},
	{Key: "link-ripple", Text: "the link's voltage ripples more than usual", When: Running, running: func(c *Comparison) bool {
		return c.Faulty.LinkRipple-c.Healthy.LinkRipple > faint/5*c.Healthy.LinkVolts
	}},
	{Key: "supply-swings", Text: "supply current swings with the motor's turning", When: Running, running: func(c *Comparison) bool {
		_, ok := louder(c.Faulty.LinkTones, c.Healthy.LinkTones, upset*math.Max(math.Abs(c.Healthy.Link), lost*c.most()))
		return ok
	}},
	{Key: "capacitor-hot", Text: "the link's capacitor gets hot or bulges", When: Running, running: (*Comparison).swells},
	{Key: "winding-hot", Text: "one spot of the winding gets hot or smells burnt", When: Running, running: func(c *Comparison) bool {
		times, _ := c.heated()
		return times > hot
	}},
	{Key: "leads-open", Text: "an ohmmeter reads open between motor leads", When: Metered, metered: func(m *Meter) bool { return math.IsInf(spread(m.PhaseToPhase), 1) }},
	{Key: "leads-unequal", Text: "an ohmmeter reads unequal between motor leads", When: Metered, metered: func(m *Meter) bool {
		s := spread(m.PhaseToPhase)
		return s > alike && !math.IsInf(s, 1)
	}},
	{Key: "diode-short", Text: "diode test: a phase reads short to a rail, leads off", When: Metered, metered: func(m *Meter) bool {
		return m.offReads(func(d *int) bool { return d != nil && *d == 0 })
	}},
	{Key: "capacitor-spent", Text: "a capacitor meter reads the link's capacitor spent", When: Metered, metered: func(m *Meter) bool { return m.Capacitor != nil && m.Capacitor.spent() }},
	{Key: "diode-open", Text: "diode test: a phase reads open both ways, leads off", When: Metered, metered: func(m *Meter) bool {
		return m.offReads(func(d *int) bool { return d == nil })
	}},
}

// hums reports whether the torque has come to swing most at an order, by so much that it is felt.
func (c *Comparison) hums(order int) bool {
	t, ok := louder(c.Faulty.Tones, c.Healthy.Tones, upset/2*math.Abs(c.Healthy.Torque))
	return ok && t.Order == order
}

// uneven returns how much more the busiest position carries than the idlest, as a part of what it carries.
func uneven(d []Device) float64 {
	low, high := math.Inf(1), 0.
	for _, x := range d {
		low, high = math.Min(low, x.Current), math.Max(high, x.Current)
	}
	if high == 0 {
		return 0
	}
	return 1 - low/high
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v / float64(len(x))
	}
	return sum
}

// offReads reports whether a check that differs from a healthy drive's, motor leads off, reads so.
func (m *Meter) offReads(so func(drops *int) bool) bool {
	return slices.ContainsFunc(m.Differ, func(c DiodeCheck) bool { return c.Leads == "off" && so(c.Drops) })
}

// Seen returns in which part of the states that the sign can be looked for in it shows: 0, 1, or between where
// it shows motoring and not generating, or the other way round.
func (s *Sign) Seen(x *Symptoms) float64 {
	switch s.When {
	case Starting:
		return truth(s.starting(x))
	case Metered:
		return truth(s.metered(&x.Meter))
	}
	part := 0.0
	for i := range x.States {
		part += truth(s.In(&x.States[i])) / float64(len(x.States))
	}
	return part
}

// In reports whether a running sign shows in a state.
func (s *Sign) In(c *Comparison) bool {
	if s.running == nil {
		return false
	}
	if c.Failed != "" {
		return s.Key == "trips"
	}
	return s.running(c)
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// FindSign returns the sign of a key.
func FindSign(key string) (*Sign, error) {
	keys := make([]string, len(Signs))
	for i := range Signs {
		keys[i] = Signs[i].Key
		if keys[i] == key {
			return &Signs[i], nil
		}
	}
	return nil, fmt.Errorf("%q is not a sign%s; signs are %s", key, slip.Meant(key, keys), strings.Join(keys, ", "))
}
