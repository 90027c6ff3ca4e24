package spectrum

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// A Voltage is one of the three kinds that a bridge makes.
type Voltage uint8

// The voltages: Pole from leg to mid-rail, Line from leg to leg, Phase from leg to star point.
const (
	Pole Voltage = iota
	Line
	Phase
)

var voltageNames = [3]string{"pole", "line", "phase"}

// String returns the voltage's name.
func (v Voltage) String() string {
	if int(v) < len(voltageNames) {
		return voltageNames[v]
	}
	return fmt.Sprintf("Voltage(%d)", uint8(v))
}

// MarshalText returns the voltage's name.
func (v Voltage) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText reads "pole", "line" or "phase" and refuses all else.
func (v *Voltage) UnmarshalText(text []byte) error {
	for i, name := range voltageNames {
		if string(text) == name {
			*v = Voltage(i)
			return nil
		}
	}
	return fmt.Errorf("%q is not a voltage; voltages are %s", text, strings.Join(voltageNames[:], ", "))
}

// Of returns the steady voltage of phase U, or of line UV, that settings s make from a supply in V, from
// t = 0 on.
//
// A leg in dead time has the pole voltage of the diode that carries its current. That current is taken to
// be a sine, lagging the fundamental of the leg's reference by lag, in rad. A leg that a stepped pattern
// leaves undriven is at the star point of a resistive load.
//
// It fails as [pattern.Settings.Repeat] does, and with a *[pattern.SettingError] for a supply that is not a finite,
// positive number and a lag that is not finite.
func Of(s pattern.Settings, v Voltage, supply, lag float64) (Wave, error) {
	if !(supply > 0) || math.IsInf(supply, 1) {
		return Wave{}, &pattern.SettingError{Key: "supply", Problem: fmt.Sprintf("%g V is out of range; give a positive voltage", supply)}
	}
	if math.IsNaN(lag) || math.IsInf(lag, 0) {
		return Wave{}, &pattern.SettingError{Key: "power_factor", Problem: "the lag is not a finite angle"}
	}
	turn, err := s.Repeat()
	if err != nil {
		return Wave{}, err
	}
	w := Wave{Frequency: s.Frequency, Turns: turn.Turns}
	times := make([]float64, 0, len(turn.Edges)+1)
	times = append(times, 0)
	for _, e := range turn.Edges {
		times = append(times, e.Time)
	}
	current := sine{s.Frequency, s.Phase - lag*math.Copysign(1, s.Frequency)}
	if s.DeadTime > 0 {
		times = current.zeros(times, turn.Length)
		slices.Sort(times)
	}
	resistive := s.Kind.Stepped() && s.Kind.Conduction() < math.Pi
	g, next := turn.Start, 0
	for i, t := range times {
		end := turn.Length
		if i+1 < len(times) {
			end = times[i+1]
		}
		for next < len(turn.Edges) && turn.Edges[next].Time <= t {
			g = turn.Edges[next].Gates
			next++
		}
		if end <= t {
			continue
		}
		pole := g.Poles(supply)
		if !resistive {
			current.diodes(&pole, g, supply, (t+end)/2)
		}
		w.add(t, v.of(pole, supply))
	}
	return w, nil
}

// add begins a level at t unless it is the one that holds already.
func (w *Wave) add(t, level float64) {
	if n := len(w.Levels); n == 0 || w.Levels[n-1] != level {
		w.Times, w.Levels = append(w.Times, t), append(w.Levels, level)
	}
}

// of returns phase U's voltage of that kind.
func (v Voltage) of(pole inverter.ABC, supply float64) float64 {
	switch v {
	case Line:
		return pole.Lines()[inverter.U]
	case Phase:
		return pole.Star()[inverter.U]
	}
	return pole[inverter.U] - supply/2
}

// A sine is a balanced current, cos(2π f t + angle) in phase U.
type sine struct{ frequency, angle float64 }

func (c sine) at(p inverter.Phase, t float64) float64 {
	return math.Cos(2*math.Pi*c.frequency*t + c.angle - p.Axis())
}

// zeros appends the times from 0 to length at which a phase's current is zero: six a turn, evenly.
func (c sine) zeros(times []float64, length float64) []float64 {
	sixth := 1 / (6 * math.Abs(c.frequency))
	t := math.Mod((math.Pi/6-c.angle)/(2*math.Pi*c.frequency), sixth)
	if t < 0 {
		t += sixth
	}
	for n := 0.0; t+n*sixth < length; n++ {
		times = append(times, t+n*sixth)
	}
	return times
}

// diodes gives legs with both switches off the rail that their current's diode ties them to: the negative
// one for a current into the machine.
func (c sine) diodes(pole *inverter.ABC, g inverter.Gates, supply, t float64) {
	for _, p := range inverter.Phases {
		if g.Has(inverter.High(p)) || g.Has(inverter.Low(p)) {
			continue
		}
		pole[p] = 0
		if c.at(p, t) < 0 {
			pole[p] = supply
		}
	}
}
