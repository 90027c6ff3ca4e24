package pattern

import (
	"fmt"
	"math"
)

const sqrt3 = 1.732050807568877293527446341505872367

// SixStepModulation is the modulation of six-step, 4/π: the most that a bridge gives; see [Kind.At].
const SixStepModulation = 4 / math.Pi

// sixStepMargin is how near to it a modulation counts as six-step's, and how far beyond it may be: files and
// people write 1.27324.
const sixStepMargin = 1e-5

// slowest and fastest bound all frequencies, in Hz, so that no time overflows.
const slowest, fastest = 1e-9, 1e9

// lowest is the least ratio of carrier to fundamental. One below 1 is of no use, but it is well defined.
const lowest = 0.1

// A SettingError says what is wrong with one setting, of a pattern or of what is worked out from patterns. Key is the
// setting's name in files, like "carrier_ratio"; Problem says what is wrong and what is allowed.
type SettingError struct{ Key, Problem string }

// Error names the key and the problem.
func (e *SettingError) Error() string { return e.Key + ": " + e.Problem }

// Validate returns a *SettingError for the first setting that is out of range or at odds with another, or
// nil. Settings that the pattern ignores need only be finite.
func (s Settings) Validate() error {
	if int(s.Kind) >= len(kindNames) {
		return wrong("pattern", "there is no pattern %v", s.Kind)
	}
	if int(s.Sampling) >= len(samplingNames) {
		return wrong("sampling", "there is no sampling %v", s.Sampling)
	}
	for _, x := range []struct {
		key   string
		value float64
	}{
		{"frequency", s.Frequency}, {"phase", s.Phase}, {"modulation", s.Modulation}, {"carrier", s.Carrier},
		{"carrier_ratio", s.CarrierRatio}, {"dead_time", s.DeadTime}, {"duty", s.Duty},
	} {
		if math.IsNaN(x.value) || math.IsInf(x.value, 0) {
			return wrong(x.key, "is not a finite number")
		}
	}
	if f := math.Abs(s.Frequency); f != 0 && (f < slowest || f > fastest) {
		return wrong("frequency", "%g Hz is out of range; give 0, or %g to %g Hz either way", s.Frequency, slowest, fastest)
	}
	if s.DeadTime < 0 {
		return wrong("dead_time", "%g s is negative; give 0 or more", s.DeadTime)
	}
	if s.Kind == ByHand {
		if s.Hand > 1<<6-1 {
			return wrong("gates", "%#b has bits beyond the six switches", uint8(s.Hand))
		}
		if err := s.Hand.Interlock(); err != nil {
			return wrong("gates", "%v", err)
		}
	}
	if s.Kind == PulsedLow && (s.Duty < 0 || s.Duty > 1) {
		return wrong("duty", "%g is out of range; give 0 to 1", s.Duty)
	}
	if s.Kind.Compares() && (s.Modulation < 0 || s.Modulation > SixStepModulation+sixStepMargin) {
		return wrong("modulation", "%g is out of range; give 0 to 4/pi = 1.27324, which is six-step", s.Modulation)
	}
	if s.Kind.NeedsCarrier() {
		if err := s.validateCarrier(); err != nil {
			return err
		}
	}
	return s.validateDeadTime()
}

func (s Settings) validateCarrier() error {
	switch {
	case s.Carrier < 0:
		return wrong("carrier", "%g Hz is negative; give more than 0", s.Carrier)
	case s.CarrierRatio < 0:
		return wrong("carrier_ratio", "%g is negative; give more than 0", s.CarrierRatio)
	case s.Carrier > 0 && s.CarrierRatio > 0:
		return wrong("carrier_ratio", "both carrier and carrier_ratio are given; give one of them")
	case s.Carrier == 0 && s.CarrierRatio == 0:
		return wrong("carrier", "%v needs a carrier; give carrier, like \"8 kHz\", or carrier_ratio", s.Kind)
	case s.CarrierRatio > 0 && s.Frequency == 0:
		return wrong("carrier_ratio", "a ratio to frequency 0 gives no carrier; give carrier, like \"8 kHz\"")
	}
	f, key := s.carrierFrequency(), "carrier"
	if s.CarrierRatio > 0 {
		key = "carrier_ratio"
	}
	if f < lowest*math.Abs(s.Frequency) {
		return wrong(key, "a carrier of %g Hz is too slow for a fundamental of %g Hz; give at least %g times that", f, s.Frequency, lowest)
	}
	if f < slowest || f > fastest {
		return wrong(key, "a carrier of %g Hz is out of range; give %g to %g Hz", f, slowest, fastest)
	}
	return nil
}

// validateDeadTime refuses a dead time that would leave a switch never on.
func (s Settings) validateDeadTime() error {
	switch {
	case s.DeadTime == 0:
	case s.Kind.NeedsCarrier():
		if half := 1 / (2 * s.carrierFrequency()); s.DeadTime >= half {
			return wrong("dead_time", "%g s is too long for the carrier; give less than half its period, %.6g s", s.DeadTime, half)
		}
	case s.Kind.Stepped() && s.Frequency != 0:
		if step := 1 / (6 * math.Abs(s.Frequency)); s.DeadTime >= step {
			return wrong("dead_time", "%g s is too long for the frequency; give less than a sixth of a turn, %.6g s", s.DeadTime, step)
		}
	}
	return nil
}

// carrierFrequency returns the carrier's frequency in Hz, 0 for none.
func (s Settings) carrierFrequency() float64 {
	if s.CarrierRatio > 0 {
		return s.CarrierRatio * math.Abs(s.Frequency)
	}
	return max(s.Carrier, 0)
}

func wrong(key, format string, args ...any) error {
	return &SettingError{Key: key, Problem: fmt.Sprintf(format, args...)}
}
