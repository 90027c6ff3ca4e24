package drive

import (
	"errors"
	"math"

	"sextant/inverter/pattern"
	"sextant/motor"
)

func (c *checks) gating(s *Scenario) {
	g := s.Gating
	settings := g.Settings
	known(c, "gating.follow", g.Follow, Current)
	known(c, "gating.chop_side", g.ChopSide, ChopBoth)
	switch g.Follow {
	case Rotor:
		if !g.Kind.Stepped() {
			c.add("gating.follow", "the rotor's sensors step six-step patterns; %v is none: give pattern six-step-180, six-step-120 or twelve-step-150", g.Kind)
		}
		settings.Frequency = 0 // the rotor's
	case Current:
		if !g.Kind.Compares() {
			c.add("gating.follow", "a current command needs a carrier pattern, like space-vector; %v is none", g.Kind)
		}
		if g.CarrierRatio > 0 {
			c.add("gating.carrier_ratio", "a current command sets no frequency to multiply; give carrier, like \"8 kHz\"")
			settings.CarrierRatio, settings.Carrier = 0, 1
		}
		settings.Frequency, settings.Modulation = 0, 0 // the control's
	}
	if g.Follow != Clock && s.Machine.Kind == motor.Passive {
		c.add("gating.follow", "a passive load has no rotor to follow; leave follow out")
	}
	c.settings(settings)
	c.finite("gating.advance", g.Advance)
	c.notNegative("gating.bandwidth", g.Bandwidth, "Hz")
	c.notNegative("gating.speed_bandwidth", g.SpeedBandwidth, "Hz")
	c.notNegative("gating.ramp", g.Ramp, "Hz/s")
	c.notNegative("gating.boost", g.Boost, "")
	c.finite("gating.speed_command", g.SpeedCommand)
	c.speedLoop(s)
	c.ramp(g)
	if g.Follow == Rotor && g.Chop < 1 && g.Carrier == 0 {
		c.add("gating.chop", "chopping needs a carrier, like carrier = \"8 kHz\"")
	}
	if top := g.Carrier / 6; g.Follow == Current && g.Carrier > 0 && g.Bandwidth > top {
		c.add("gating.bandwidth", "%g Hz is more than a sixth of the carrier, which samples cannot close; give %g Hz or less", g.Bandwidth, top)
	}
	c.finite("gating.id", g.ID)
	c.finite("gating.iq", g.IQ)
	if c.finite("gating.chop", g.Chop) && (g.Chop < 0 || g.Chop > 1) {
		c.add("gating.chop", "%g is out of range; give 0 to 1", g.Chop)
	}
}

// settings lists all that is wrong with s: once a setting has been found wrong, it is put right to see the
// next.
func (c *checks) settings(s pattern.Settings) {
	var wrong *pattern.SettingError
	for range 8 { // as many as there are keys, so that no pair of them goes round for ever
		if !errors.As(s.Validate(), &wrong) {
			return
		}
		c.add("gating."+wrong.Key, "%s", wrong.Problem)
		switch wrong.Key {
		case "frequency":
			s.Frequency = 0
		case "phase":
			s.Phase = 0
		case "modulation":
			s.Modulation = 0
		case "carrier", "carrier_ratio":
			s.Carrier, s.CarrierRatio = 1000*max(1, math.Abs(s.Frequency)), 0
			s.DeadTime = min(s.DeadTime, 0) // what is too long rests on the carrier
		case "dead_time":
			s.DeadTime = 0
		case "duty":
			s.Duty = 0
		case "gates":
			s.Hand = 0
		default:
			return
		}
	}
}

func (c *checks) speedLoop(s *Scenario) {
	g := s.Gating
	if !g.SpeedLoop {
		return
	}
	switch {
	case g.Follow != Current:
		c.add("gating.speed_command", "a speed loop commands iq; give follow = \"current\"")
	case !s.Shaft.Free:
		c.add("gating.speed_command", "the shaft is held; give shaft.free = true")
	case s.Machine.FluxLinkage == 0 && s.Machine.InductanceD == s.Machine.InductanceQ:
		c.add("gating.speed_command", "a machine without magnet and saliency makes no torque to control")
	case torqueFactor(s) == 0:
		c.add("gating.id", "with %g A of id no iq makes torque; give another, for the speed loop commands iq", g.ID)
	}
	c.positive("gating.current_limit", g.CurrentLimit, "A")
}

func (c *checks) ramp(g Gating) {
	switch {
	case g.Ramp == 0 && g.Boost != 0:
		c.add("gating.boost", "goes with a ramp; give ramp, like \"25 Hz/s\"")
	case g.Ramp == 0:
	case g.Follow != Clock:
		c.add("gating.ramp", "only a clock ramps its frequency; leave it out, or give follow = \"clock\"")
	case !g.Kind.Compares() || g.Carrier == 0:
		c.add("gating.ramp", "needs a carrier pattern, like space-vector, with carrier in Hz")
	}
	if top := g.Kind.Linear(); g.Boost > top {
		c.add("gating.boost", "%g is out of range; give 0 to %.4g", g.Boost, top)
	}
}
