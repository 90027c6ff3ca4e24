package diagnosis

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"sync/atomic"

	"sextant/inverter"
	"sextant/inverter/cores"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/signature"
)

const (
	// simulatedTurns is how many turns are simulated of each fault.
	simulatedTurns = 4
	simulatedRows  = 360 // a turn
)

// A supposed fault is simulated; where begins is false its signature continues the line of milder ones before.
type supposed struct {
	Suspect
	drive.Fault
	begins bool
}

// suppose lists the faults that phase currents of drive s could show, each with a range of severities: joints of
// 0.1 to 4 times the phase's impedance, 3 to 30 % of a phase's turns, half to nine tenths of supply and magnet, a
// position 10 to 45 electrical degrees off, and a current sensor off by a fifth or a half of the current or of its gain.
func suppose(s *drive.Scenario, hz, amplitude float64) []supposed {
	var all []supposed
	add := func(f Fault, at fmt.Stringer, x drive.Fault, values ...float64) {
		suspect := Suspect{Fault: f}
		if at != nil {
			suspect.At = at.String()
		}
		if values == nil {
			values = []float64{0}
		}
		for i, v := range values {
			x.Value = v
			all = append(all, supposed{suspect, x, i == 0})
		}
	}
	m := s.Machine.Star()
	impedance := math.Hypot(m.Resistance, 2*pi*hz*m.InductanceD)
	if m.Kind != motor.Passive {
		impedance = math.Hypot(m.Resistance, 2*pi*hz*max(m.InductanceD, m.InductanceQ))
	}
	for _, i := range inverter.Switches {
		add(SwitchOpen, i, drive.Fault{Kind: drive.SwitchOpen, Switch: i})
		add(SwitchShort, i, drive.Fault{Kind: drive.SwitchShort, Switch: i})
		add(DiodeOpen, i, drive.Fault{Kind: drive.DiodeOpen, Switch: i})
	}
	for _, p := range inverter.Phases {
		add(PhaseOpen, p, drive.Fault{Kind: drive.PhaseOpen, Phase: p})
		add(PhaseResistance, p, drive.Fault{Kind: drive.PhaseResistance, Phase: p}, 0.1*impedance, 0.25*impedance, 0.6*impedance, 1.5*impedance, 4*impedance)
		add(TurnsShorted, p, drive.Fault{Kind: drive.TurnsShorted, Phase: p}, 0.03, 0.1, 0.3)
		switch s.Gating.Follow {
		case drive.Current:
			offset := drive.Fault{Kind: drive.CurrentSensorOffset, Phase: p}
			add(SensorOffset, p, offset, 0.2*amplitude, 0.5*amplitude)
			add(SensorOffset, p, offset, -0.2*amplitude, -0.5*amplitude)
			gain := drive.Fault{Kind: drive.CurrentSensorGain, Phase: p}
			add(SensorGain, p, gain, 0.8, 0.5)
			add(SensorGain, p, gain, 1.2, 1.5)
		case drive.Rotor:
			stuck := drive.Fault{Kind: drive.PositionSensorStuck, Phase: p}
			add(PositionStuck, p, stuck, 0)
			add(PositionStuck, p, stuck, 1)
			add(PositionSwapped, p, drive.Fault{Kind: drive.PositionSensorSwapped, Phase: p})
		}
	}
	v := s.Supply.Voltage
	add(SupplySag, nil, drive.Fault{Kind: drive.SupplySag}, 0.9*v, 0.8*v, 0.7*v, 0.6*v, 0.5*v)
	if s.Supply.Capacitance > 0 {
		add(CapacitorAged, nil, drive.Fault{Kind: drive.CapacitorAged}, 0.5, 0.1)
	}
	if s.Machine.FluxLinkage == 0 || s.Machine.Kind == motor.Passive {
		return all
	}
	add(Demagnetised, nil, drive.Fault{Kind: drive.Demagnetised}, 0.9, 0.8, 0.7, 0.6, 0.5)
	add(ShaftBlocked, nil, drive.Fault{Kind: drive.ShaftBlocked})
	if s.Gating.Follow != drive.Clock {
		ahead := drive.Fault{Kind: drive.PositionSensorOffset}
		const deg = pi / 180
		add(PositionOffset, nil, ahead, 10*deg, 25*deg, 45*deg)
		add(PositionOffset, nil, ahead, -10*deg, -25*deg, -45*deg)
	}
	return all
}

// Expect simulates scenario s healthy and under each fault, on all processors. The scenario's own faults are left
// out. It fails where the healthy drive cannot be run or carries no alternating current.
func Expect(s drive.Scenario) (*Expected, error) {
	hz := s.ElectricalFrequency()
	switch {
	case hz > 0:
	case s.Shaft.Free:
		return nil, &drive.KeyError{Key: "shaft.free", Err: errors.New("the drive starts from rest; to compare it with a recording, hold its shaft at the speed of that: leave free out and give speed, like \"3000 rpm\"")}
	default:
		return nil, &drive.KeyError{Key: "gating.frequency", Err: errors.New("nothing turns in this scenario, so there are no turns to compare")}
	}
	s.Faults = nil
	e := &Expected{hz: hz}
	sample, err := e.simulate(s)
	if err != nil {
		return nil, err
	}
	healthy, err := e.signs(&sample)
	if err != nil {
		return nil, fmt.Errorf("the scenario's healthy drive: %w", err)
	}
	e.sample, e.amplitude = sample, healthy.amplitude
	e.healthy = e.pointOf(healthy)
	for _, r := range healthy.weigh() {
		if r.Fault == Healthy {
			e.believed = r.Score
		}
	}
	e.cases = append(e.cases, expectation{Suspect: Suspect{Fault: Healthy}, at: e.healthy, begins: true})

	all := suppose(&s, hz, e.amplitude)
	found := make([]*expectation, len(all))
	var blocked atomic.Bool
	err = cores.Each(len(all), func(i int) error {
		faulty := s
		faulty.Faults = []drive.Fault{all[i].Fault}
		// A fault that trips the drive, or stops its currents, makes no signature.
		c, err := e.simulate(faulty)
		if err != nil {
			return nil
		}
		if all[i].Suspect.Fault == ShaftBlocked && stands(&c) {
			blocked.Store(true)
		} else if g, err := e.signs(&c); err == nil {
			found[i] = &expectation{all[i].Suspect, e.pointOf(g), all[i].begins}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	e.blocked = blocked.Load()
	for i, x := range found {
		if x != nil {
			x.begins = x.begins || found[i-1] == nil
			e.cases = append(e.cases, *x)
		}
	}
	return e, nil
}

// stands reports whether the currents flow and hardly change, as they do while the field stands.
func stands(c *capture.Capture) bool {
	var mean, square complex128
	for _, i := range c.Current {
		v, _ := i.Clarke()
		mean += complex(v.Alpha, v.Beta)
		square += complex(v.Alpha*v.Alpha+v.Beta*v.Beta, 0)
	}
	n := complex(float64(c.Len()), 0)
	m := cmplx.Abs(mean / n)
	return m > 0 && real(square/n)-m*m < m*m/(still*still)
}

// simulate returns so many turns of s as are compared, from the end of its settling on, as a
// capture.
func (e *Expected) simulate(s drive.Scenario) (capture.Capture, error) {
	s.Run.Measure = simulatedTurns / e.hz
	x := &sampling{next: s.Run.Settle, step: 1 / (e.hz * simulatedRows)}
	_, err := drive.Simulate(s, x)
	return x.Capture, err
}

// sampling observes a run and reads the currents at even times.
type sampling struct {
	capture.Capture
	next, step float64 // s
}

// Observe reads what falls into a segment.
func (s *sampling) Observe(seg *drive.Segment) {
	for ; s.next < seg.T1; s.next += s.step {
		s.Time = append(s.Time, s.next)
		s.Current = append(s.Current, seg.At(s.next).Current)
	}
}

// signs returns what a simulated capture says.
func (e *Expected) signs(c *capture.Capture) (*signs, error) {
	sign, err := signature.Of(c, e.hz)
	if err != nil {
		return nil, err
	}
	g := read(&sign)
	if !(g.amplitude > 0) {
		return nil, signature.ErrStill
	}
	return &g, nil
}
