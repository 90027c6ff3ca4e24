package drive

import (
	"errors"
	"fmt"
	"math"

	"sextant/inverter/loss"
)

// steady is how little, in K, a run may change the temperature that each junction had in it for all to be steady;
// mostRuns is how many runs are made to get there. Each degree makes a small part of a degree more heat, so a few
// do, but where a junction is about to run away.
const (
	steady   = 0.01
	mostRuns = 100
)

// errRunaway says that no temperature is steady.
var errRunaway = errors.New("thermal runaway")

// warm returns the temperatures of the junctions that the heat of a run makes, and that make this heat in turn.
// Its runs take from the strides left, where those are bounded.
func (s *Scenario) warm(frequency float64, left *int) (temperatures, error) {
	x := &s.Switches
	if x.Device == nil || x.Fixed {
		return x.allUnheated(), nil
	}
	t, err := s.rounds(frequency, left)
	if err != nil || !(t.hottest() > x.Device.Hottest()) {
		return t, s.explain(err)
	}
	// The data hold their hottest values beyond, where the heat would grow on: see whether it would find an end.
	d, further := x.Device.Continued(), *s
	further.Switches.Device = &d
	_, err = further.rounds(frequency, left)
	return t, s.explain(err)
}

// explain gives an error about temperatures the key that it is about.
func (s *Scenario) explain(err error) error {
	if !errors.Is(err, errRunaway) {
		return err
	}
	return &KeyError{"switches.sink", fmt.Errorf("%w: as the data of %q go on beyond %g C, no junction temperature is steady; lower the sink's, the current or the carrier, or give temperature", errRunaway, s.Switches.Use, s.Switches.Device.Hottest())}
}

// rounds runs until the temperatures are steady.
func (s *Scenario) rounds(frequency float64, left *int) (temperatures, error) {
	t := s.Switches.allUnheated()
	for range mostRuns {
		sum, err := Simulation{Scenario: *s, Strides: left}.run(frequency, t)
		if err != nil {
			return t, err
		}
		change := 0.0
		for k, x := range sum.Switches {
			next := junction{x.Junction, x.DiodeJunction}
			change = max(change, math.Abs(next.channel-t[k].channel), math.Abs(next.diode-t[k].diode))
			t[k] = next
		}
		switch {
		case change <= steady:
			return t, nil
		case t.hottest() > hottest:
			return t, errRunaway
		}
	}
	return t, errRunaway
}

func (t *temperatures) hottest() float64 {
	x := math.Inf(-1)
	for _, j := range t {
		x = max(x, j.channel, j.diode)
	}
	return x
}

// A HeatSummary is of what one switch and the diode beside it turn to heat beyond conduction, and how warm that makes
// them. Switching is not in the [Account], whose bridge switches in no time.
type HeatSummary struct {
	Switching     float64 `json:"switching_w"`
	TurnOn        float64 `json:"turn_on_w"`
	TurnOff       float64 `json:"turn_off_w"`
	Recovery      float64 `json:"recovery_w"` // of the diode beside the switch
	Junction      float64 `json:"junction_c"`
	DiodeJunction float64 `json:"diode_junction_c"`
}

// A DeviceSummary is of all six devices.
type DeviceSummary struct {
	Name       string  `json:"name"`
	Conduction float64 `json:"conduction_w"`
	Switching  float64 `json:"switching_w"`
	Junction   float64 `json:"junction_c"` // of the hottest
}

// heat adds what switching costs and how warm the junctions get, from a run in which they were at temperatures at.
func (s *Summary) heat(x *Switches, at temperatures, losses [6]loss.Losses) {
	t := at
	s.Device = &DeviceSummary{Name: x.Device.Name}
	for k, l := range losses {
		if !x.Fixed {
			t[k].channel, t[k].diode = loss.Temperatures(x.Device, x.Sink, l)
		}
		h := &HeatSummary{
			Switching: l.TurnOn + l.TurnOff + l.Recovery,
			TurnOn:    l.TurnOn, TurnOff: l.TurnOff, Recovery: l.Recovery,
			Junction: t[k].channel, DiodeJunction: t[k].diode,
		}
		s.Switches[k].HeatSummary = h
		s.Device.Conduction += l.Conduction + l.Diode
		s.Device.Switching += h.Switching
	}
	s.Device.Junction = t.hottest()
}

// doubt notes what makes the heat doubtful.
func (s *Summary) doubt(sc *Scenario) {
	d := sc.Switches.Device
	say := func(sure bool, format string, args ...any) {
		if sure {
			s.Notices = append(s.Notices, Notice{s.To, fmt.Sprintf(format, args...)})
		}
	}
	peak := 0.0
	for _, p := range s.Phases {
		peak = max(peak, p.CurrentPeak)
	}
	say(sc.Supply.Voltage > d.Voltage, "the supply of %g V is above the device's rated %g V", sc.Supply.Voltage, d.Voltage)
	say(peak > d.Current, "the current's peak of %.4g A is above the device's rated %g A", peak, d.Current)
	t := s.Device.Junction
	say(t > d.Heat.Limit, "the hottest junction's %.0f C is above its limit of %g C", t, d.Heat.Limit)
	say(t > d.Hottest(), "the hottest junction's %.0f C is beyond the device's data, which are held at %g C", t, d.Hottest())
	x := sc.Switches.at(junction{t, t})
	say(x.reverses() && x.ChannelThreshold+x.ChannelResistance*peak > x.DiodeThreshold,
		"at the current's peak a diode would take a part of what its channel is said to carry in reverse")
}
