package symptom

import (
	"fmt"
	"math"
	"strings"

	"sextant/inverter"
)

// Below these parts a difference is not told: nobody would see it.
const (
	faint    = 0.05 // of the healthy current, torque or voltage
	lost     = 0.05 // of the healthy current: as good as none
	upset    = 0.1  // of the healthy torque, for what swings
	straight = 0.9  // of what turns one way turns the other: the field swings along a line
)

// signs says how the faulty drive differs from the healthy one.
func (c *Comparison) signs() []string {
	if c.Failed != "" {
		return []string{"The drive breaks down: " + c.Failed + "."}
	}
	var says []string
	add := func(s string) {
		if s != "" {
			says = append(says, s)
		}
	}
	for _, n := range c.Faulty.Notices {
		add("The drive reports: " + n.Text + ".")
		break
	}
	add(c.currents())
	add(c.means())
	add(c.turning())
	add(c.torque())
	add(c.rough())
	add(c.sound())
	add(c.link())
	add(c.carriers())
	add(c.turns())
	if says == nil {
		says = []string{"Nothing changes that an ammeter or an ear could tell."}
	}
	if c.Faulty.Speed == 0 && c.Healthy.Speed != 0 {
		says = append([]string{"The shaft does not turn."}, says...)
	}
	return says
}

// currents says how the rms currents have changed.
func (c *Comparison) currents() string {
	was, most := c.Healthy.rms()
	is, largest := c.Faulty.rms()
	changed := false
	none := []string{}
	for k := range is {
		changed = changed || math.Abs(is[k]-was[k]) > faint*most
		if is[k] < lost*most {
			none = append(none, inverter.Phase(k).String())
		}
	}
	if !changed {
		return ""
	}
	s := fmt.Sprintf("Currents U, V, W are %s, %s and %s A rms (healthy %s)", number(is[0]), number(is[1]), number(is[2]), number(most))
	switch {
	case len(none) == 3:
		return s + ": no current flows."
	case len(none) > 0:
		return s + ": " + and(none) + " carries nothing."
	case largest > (1+faint)*most && (largest-min3(is)) < faint*largest:
		return s + fmt.Sprintf(": all three are %s times as large.", number(largest/most))
	}
	return s + "."
}

func min3(x inverter.ABC) float64 { return min(x[0], x[1], x[2]) }

// means says where the currents have a mean: the vector of the means is what the normalised-current methods of
// finding open switches go by (A. M. S. Mendes, A. J. Marques Cardoso, IEMDC 1999; K. Rothenhagen, F. W. Fuchs,
// PESC 2004; from memory).
func (c *Comparison) means() string {
	_, most := c.Healthy.rms()
	f := &c.Faulty
	if f.Mean < faint*most || f.Mean < 2*c.Healthy.Mean {
		return ""
	}
	s := fmt.Sprintf("Each current has a mean: U %s, V %s, W %s A, a vector of %s A at %s deg", number(f.Phases[0].CurrentMean), number(f.Phases[1].CurrentMean), number(f.Phases[2].CurrentMean), number(f.Mean), fmt.Sprintf("%.0f", f.MeanAngle))
	if f.With > lost*most {
		s += fmt.Sprintf(", %s of the fundamental", number(f.Mean/f.With))
	}
	return s + "; an ammeter for alternating current alone does not show it."
}

// turning says what the field of the fundamental does.
func (c *Comparison) turning() string {
	f := &c.Faulty
	sum := f.With + f.Against
	if sum < lost*(c.Healthy.With+c.Healthy.Against) {
		return ""
	}
	switch {
	case f.With < faint*sum:
		return fmt.Sprintf("The field turns backward: %s A of the fundamental turn against the healthy sense, %s A with it.", number(f.Against), number(f.With))
	case f.Against > straight*f.With && f.With > straight*f.Against:
		return "The field does not turn: it swings along a line, as much of it turning backward as forward."
	case f.Against > faint*f.With:
		return fmt.Sprintf("The currents are unequal: %s of the fundamental turns backward (negative sequence).", percent(f.Against/sum))
	}
	return ""
}

// torque says how the mean torque has changed.
func (c *Comparison) torque() string {
	was, is := c.Healthy.Torque, c.Faulty.Torque
	if was == 0 || math.Abs(is-was) < faint*math.Abs(was) {
		return ""
	}
	s := fmt.Sprintf("Mean torque %s N m (healthy %s)", number(is), number(was))
	switch part := is / was; {
	case math.Abs(part) < faint:
		return s + ": next to none."
	case part < 0 && c.State == Motoring:
		return s + ": it brakes."
	case part < 0:
		return s + ": it drives instead of braking."
	default:
		return s + fmt.Sprintf(": %s of healthy.", percent(part))
	}
}

// rough says how the torque swings.
func (c *Comparison) rough() string {
	size := math.Abs(c.Healthy.Torque)
	if c.Faulty.Ripple-c.Healthy.Ripple < upset*size {
		return ""
	}
	s := fmt.Sprintf("Torque swings by %s N m from least to most (healthy %s)", number(c.Faulty.Ripple), number(c.Healthy.Ripple))
	if t, ok := louder(c.Faulty.Tones, c.Healthy.Tones, upset/2*size); ok {
		s += fmt.Sprintf(", mostly at %s", times(t.Order))
	}
	return s + "."
}

// louder returns the tone that has grown most, if by more than least.
func louder(now, before []Tone, least float64) (Tone, bool) {
	var best Tone
	grown := least
	for _, t := range now {
		if g := t.Peak - tone(before, t.Order); g > grown {
			best, grown = t, g
		}
	}
	return best, best.Order > 0
}

func times(order int) string {
	switch order {
	case 1:
		return "the electrical frequency"
	case 2:
		return "twice the electrical frequency"
	}
	return fmt.Sprintf("%d times the electrical frequency", order)
}

// sound says at what frequencies the torque shakes the frame.
func (c *Comparison) sound() string {
	size := math.Abs(c.Healthy.Torque)
	var heard []string
	for _, t := range c.Faulty.Tones {
		if t.Peak-tone(c.Healthy.Tones, t.Order) > upset/2*size && len(heard) < 3 {
			heard = append(heard, fmt.Sprintf("%s Hz (%s N m)", number(t.Frequency), number(t.Peak)))
		}
	}
	switch {
	case heard == nil:
		return ""
	case c.Faulty.Tones[0].Frequency < lowestHeard:
		return "It shakes at " + and(heard) + "."
	}
	return "It hums at " + and(heard) + "."
}

// lowestHeard is the frequency below which shaking is felt rather than heard, Hz: common practice.
const lowestHeard = 20

// link says what the supply's side shows.
func (c *Comparison) link() string {
	h, f := &c.Healthy, &c.Faulty
	var s string
	if math.Abs(f.LinkVolts-h.LinkVolts) > faint/5*h.LinkVolts {
		s = fmt.Sprintf("The link stands at %s V (healthy %s). ", number(f.LinkVolts), number(h.LinkVolts))
	}
	if f.LinkRipple-h.LinkRipple > faint/10*h.LinkVolts {
		s += fmt.Sprintf("Link voltage swings by %s V (healthy %s). ", number(f.LinkRipple), number(h.LinkRipple))
	}
	if math.Abs(f.Link-h.Link) > upset*math.Abs(h.Link) {
		is := f.Link
		if math.Abs(is) < 1e-6*c.most() {
			is = 0 // but for rounding
		}
		s += fmt.Sprintf("Supply current %s A (healthy %s)", number(is), number(h.Link))
		if is*h.Link < 0 {
			s += ", the other way round"
		}
		s += ". "
	}
	if t, ok := louder(f.LinkTones, h.LinkTones, upset*math.Max(math.Abs(h.Link), lost*c.most())); ok {
		s += fmt.Sprintf("Link current swings by %s A at %s, %s Hz. ", number(t.Peak), times(t.Order), number(t.Frequency))
	}
	if c.swells() {
		s += fmt.Sprintf("The link's capacitor turns %s to heat (healthy %s): it runs hotter and ages faster. ", quantity(f.Capacitor, "W"), quantity(h.Capacitor, "W"))
	}
	if s == "" {
		return ""
	}
	return s[:len(s)-1]
}

// swells reports whether the link's capacitor makes so much more heat than before that it is felt.
func (c *Comparison) swells() bool {
	return c.Faulty.Capacitor > hot*c.Healthy.Capacitor && c.Faulty.Capacitor > leastHeat
}

// leastHeat is how much heat warms a capacitor of the hand's size by some degrees, W: common practice.
const leastHeat = 1

func (c *Comparison) most() float64 {
	_, most := c.Healthy.rms()
	return most
}

// carriers says which of the six positions carry more and which less than before.
func (c *Comparison) carriers() string {
	was := c.Healthy.hottest()
	var more, idle []string
	for k, d := range c.Faulty.Devices {
		switch {
		case d.Current > (1+upset)*c.Healthy.Devices[k].Current && d.Current > (1+upset)*was.Current:
			more = append(more, fmt.Sprintf("%v %s", d.Switch, number(d.Current)))
		case d.Current < lost*was.Current && c.Healthy.Devices[k].Current > 0.5*was.Current:
			idle = append(idle, d.Switch.String())
		}
	}
	var s string
	if len(more) == 6 {
		s = fmt.Sprintf("All six positions run hotter, the worst on %s A rms (healthy %s).", number(c.Faulty.hottest().Current), number(was.Current))
	} else if more != nil {
		s = fmt.Sprintf("Hotter than before: %s A rms (healthy %s).", and(more), number(was.Current))
	}
	switch {
	case len(idle) == 6:
		s += " All six positions stay cold."
	case idle != nil:
		s += " Cold: " + and(idle) + "."
	}
	if w := warm(c.Faulty.Devices); s != "" && w != "" {
		s += " Junctions: " + w + " (healthy " + warmest(c.Healthy.Devices) + ")."
	}
	return strings.TrimSpace(s)
}

// warm says how warm the junctions of the six positions are, the warmer of switch and diode; "" without a device.
func warm(d []Device) string {
	var words []string
	for _, x := range d {
		if x.HeatSummary == nil {
			return ""
		}
		words = append(words, fmt.Sprintf("%v %.0f", x.Switch, math.Max(x.Junction, x.DiodeJunction)))
	}
	return and(words) + " C"
}

// warmest returns the temperature of the warmest junction.
func warmest(d []Device) string {
	most := math.Inf(-1)
	for _, x := range d {
		if x.HeatSummary != nil {
			most = math.Max(most, math.Max(x.Junction, x.DiodeJunction))
		}
	}
	return fmt.Sprintf("%.0f C at most", most)
}

// heated returns how many times as much heat a turn among shorted ones makes as one of the healthy winding, 0 where
// none are shorted, and what those turns then made, in W.
func (c *Comparison) heated() (times, was float64) {
	x := c.Faulty.Turns
	if x == nil || c.Healthy.Copper == 0 {
		return 0, 0
	}
	was = x.Share * c.Healthy.Copper / 3
	return x.Loss / was, was
}

// turns says what the shorted turns of a winding carry.
func (c *Comparison) turns() string {
	times, was := c.heated()
	if times == 0 {
		return ""
	}
	x := c.Faulty.Turns
	s := fmt.Sprintf("The shorted turns of %v carry %s A rms and turn %s to heat, where they made %s", x.Phase, number(x.CurrentRMS), quantity(x.Loss, "W"), quantity(was, "W"))
	if times < hot {
		return s + "."
	}
	s += fmt.Sprintf(" (%s times as much): that spot of the winding burns", number(times))
	if c.Scenario.Machine.FluxLinkage > 0 && c.Faulty.Speed != 0 {
		s += ". No switch stops it: the magnet drives that current for as long as the rotor turns"
	}
	return s + "."
}

// hot is how many times its usual heat makes a winding smell: half as much again is 1.2 times the current, which
// machines bear for a while (common practice).
const hot = 1.5
