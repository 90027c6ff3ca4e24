package pattern_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

func TestNamesReadBack(t *testing.T) {
	for _, k := range pattern.Kinds() {
		text, _ := k.MarshalText()
		var back pattern.Kind
		if err := back.UnmarshalText(text); err != nil || back != k {
			t.Errorf("%s reads back as %v, %v", text, back, err)
		}
	}
	for _, s := range []pattern.Sampling{pattern.Natural, pattern.Regular, pattern.RegularDouble} {
		text, _ := s.MarshalText()
		var back pattern.Sampling
		if err := back.UnmarshalText(text); err != nil || back != s {
			t.Errorf("%s reads back as %v, %v", text, back, err)
		}
	}
	var k pattern.Kind
	if err := k.UnmarshalText([]byte("six-step")); err == nil || !strings.Contains(err.Error(), "six-step-180, six-step-120") {
		t.Errorf("an unknown pattern gives %v; it should list the known", err)
	}
	var s pattern.Sampling
	if err := s.UnmarshalText([]byte("often")); err == nil || !strings.Contains(err.Error(), "natural, regular") {
		t.Errorf("an unknown sampling gives %v; it should list the known", err)
	}
}

func TestValidateNamesTheKey(t *testing.T) {
	good := pattern.Settings{Kind: pattern.SpaceVector, Frequency: 100, Modulation: 0.8, Carrier: 8000, DeadTime: 2e-6}
	if err := good.Validate(); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		key    string
		change func(*pattern.Settings)
	}{
		{"pattern", func(s *pattern.Settings) { s.Kind = 99 }},
		{"sampling", func(s *pattern.Settings) { s.Sampling = 99 }},
		{"frequency", func(s *pattern.Settings) { s.Frequency = math.NaN() }},
		{"frequency", func(s *pattern.Settings) { s.Frequency = 1e300 }},
		{"frequency", func(s *pattern.Settings) { s.Frequency = -1e-300 }},
		{"carrier", func(s *pattern.Settings) { s.Carrier = 1e12 }},
		{"phase", func(s *pattern.Settings) { s.Phase = math.Inf(-1) }},
		{"modulation", func(s *pattern.Settings) { s.Modulation = -0.1 }},
		{"modulation", func(s *pattern.Settings) { s.Modulation = 1.28 }},
		{"carrier", func(s *pattern.Settings) { s.Carrier = 0 }},
		{"carrier", func(s *pattern.Settings) { s.Carrier = -1 }},
		{"carrier", func(s *pattern.Settings) { s.Carrier = 9 }}, // slower than a tenth of the fundamental
		{"carrier_ratio", func(s *pattern.Settings) { s.CarrierRatio = 39 }},
		{"carrier_ratio", func(s *pattern.Settings) { s.Carrier, s.CarrierRatio = 0, -3 }},
		{"carrier_ratio", func(s *pattern.Settings) { s.Carrier, s.CarrierRatio, s.Frequency = 0, 39, 0 }},
		{"dead_time", func(s *pattern.Settings) { s.DeadTime = -1e-9 }},
		{"dead_time", func(s *pattern.Settings) { s.DeadTime = 1. / 16000 }},
		{"dead_time", func(s *pattern.Settings) { s.Kind, s.DeadTime = pattern.SixStep180, 1./600 }},
		{"duty", func(s *pattern.Settings) { s.Kind, s.Duty = pattern.PulsedLow, 1.01 }},
		{"gates", func(s *pattern.Settings) { s.Kind, s.Hand = pattern.ByHand, 0b11 }},
		{"gates", func(s *pattern.Settings) { s.Kind, s.Hand = pattern.ByHand, 1<<6 }},
	} {
		s := good
		tt.change(&s)
		var wrong *pattern.SettingError
		if err := s.Validate(); !errors.As(err, &wrong) || wrong.Key != tt.key {
			t.Errorf("%+v: %v, want an error about %s", s, err, tt.key)
		}
		if _, err := pattern.New(s); err == nil {
			t.Errorf("%+v made a stream", s)
		}
	}
}

// What a pattern ignores does not stand in its way, so that patterns can be tried one after another.
func TestValidateIgnoresWhatThePatternIgnores(t *testing.T) {
	for _, k := range pattern.Kinds() {
		if k.NeedsCarrier() {
			continue
		}
		s := pattern.Settings{Kind: k, Frequency: 100, Modulation: 7, Duty: 3, Hand: inverter.AllLow}
		if err := s.Validate(); err != nil {
			t.Errorf("%v: %v", k, err)
		}
	}
}

func TestSamplingDefaults(t *testing.T) {
	for _, k := range carrierKinds() {
		want := pattern.Natural
		if k >= pattern.Clamped60 {
			want = pattern.RegularDouble
		}
		if got := pattern.Default.For(k); got != want {
			t.Errorf("%v samples %v by default, want %v", k, got, want)
		}
		if got := pattern.Regular.For(k); got != pattern.Regular {
			t.Errorf("%v turns regular sampling into %v", k, got)
		}
	}
}
