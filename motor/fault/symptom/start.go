package symptom

import (
	"math"
	"math/cmplx"
	"slices"

	"sextant/inverter/cores"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
)

// A Start is the torque with which a drive can start, by the angle at which its rotor stands.
//
// The rotor is held still, the supply is as low as makes the healthy drive's greatest current in two phases,
// so that no current runs away, and the mean torque is taken once the currents are steady. A clock knows no
// rotor; in its place the bridge's voltage is laid across the magnet, which is the best that a start can do.
type Start struct {
	Angles  []float64 `json:"rotor_deg"` // electrical, of the d axis
	Healthy []float64 `json:"healthy_nm"`
	Faulty  []float64 `json:"faulty_nm"`
	Needed  float64   `json:"needed_nm"` // what the load holds against, or a tenth of the healthy mean
	Dead    []Span    `json:"dead"`      // angles with less torque than needed
	Current float64   `json:"current_a"` // that the supply was chosen for
	Supply  float64   `json:"supply_v"`
	Tripped bool      `json:"tripped"`
	Clocked bool      `json:"clocked"`     // the voltage goes by a clock
	Field   int       `json:"field_turns"` // of the field while the voltage turns once; -1 is backward
}

// A Span is a range of angles in degrees, from one to the next in the sense U to V to W.
type Span struct {
	From  float64 `json:"from_deg"`
	To    float64 `json:"to_deg"`
	Width float64 `json:"width_deg"`
}

// Middle returns the span's middle in degrees.
func (s Span) Middle() float64 { return math.Mod(s.From+s.Width/2, 360) }

// startable reports whether a drive has a start to speak of.
func startable(s *drive.Scenario) bool {
	g := &s.Gating
	return s.Machine.Kind != motor.Passive && s.Machine.FluxLinkage > 0 && s.Machine.Resistance > 0 &&
		(g.Follow != drive.Clock || g.Kind.Stepped() || g.Kind.Compares())
}

// start scans the start torque of drive s, without and with fault f, at so many angles. Current is the greatest
// of the healthy drive, A, dq its mean in the rotor's frame; sense is that of its turning.
func start(s drive.Scenario, f drive.Fault, points int, current float64, dq motor.DQ, sense float64) (*Start, error) {
	still := standing(s, current, dq, sense)
	if f.Kind == drive.SupplySag {
		f.Value *= still.Supply.Voltage / s.Supply.Voltage
	}
	st := &Start{
		Angles: make([]float64, points), Healthy: make([]float64, points), Faulty: make([]float64, points),
		Current: current, Supply: still.Supply.Voltage, Clocked: s.Gating.Follow == drive.Clock,
	}
	tripped, field := make([]bool, points), make([]complex128, points)
	for k := range st.Angles { // between the edges of the sectors that sensors tell, where a rotor at rest is in neither
		st.Angles[k] = 360 * (float64(k) + 0.5) / float64(points)
	}
	err := cores.Each(2*points, func(i int) error {
		k := i / 2
		at := turnedTo(still, st.Angles[k]*math.Pi/180, sense)
		if i%2 == 0 {
			sum, err := drive.Simulate(at)
			st.Healthy[k] = sense * sum.Machine.TorqueMean
			return err
		}
		at.Faults = []drive.Fault{f}
		sum, err := drive.Simulate(at)
		st.Faulty[k] = sense * sum.Machine.TorqueMean
		tripped[k] = len(sum.Notices) > 0
		field[k] = complex(sum.Machine.IDMean, sum.Machine.IQMean) * cmplx.Rect(1, at.Shaft.StartAngle)
		return err
	})
	if err != nil {
		return nil, err
	}
	mean := 0.0
	for k := range st.Healthy {
		mean += st.Healthy[k] / float64(points)
		st.Tripped = st.Tripped || tripped[k]
	}
	st.Needed = mean / 10
	if s.Shaft.Free {
		if load := sense*s.Shaft.LoadTorque + s.Shaft.Coulomb; load > 0 && load < mean {
			st.Needed = load
		}
	}
	st.Dead = spans(st.Faulty, st.Needed)
	st.Field = turns(field)
	return st, nil
}

// standing returns drive s with its rotor held and its supply lowered.
func standing(s drive.Scenario, current float64, dq motor.DQ, sense float64) drive.Scenario {
	s = held(s, 0, 0)
	m, x := s.Machine.Star(), &s.Switches
	s.Supply = drive.Supply{Voltage: 2 * (current*(m.Resistance+x.ChannelResistance) + x.ChannelThreshold + x.DiodeThreshold)}
	s.Gating.DeadTime = 0
	s.Run.Settle = settling(&s)
	s.Run.Measure = math.Max(s.Run.Settle/8, 1e-3)
	switch g := &s.Gating; g.Follow {
	case drive.Current:
		g.ID, g.IQ = dq.D, math.Copysign(dq.Q, sense)
	case drive.Rotor:
		g.Chop = 1
	default:
		if g.Kind.Compares() {
			g.Kind, g.Modulation, g.Sampling = pattern.SpaceVector, 1, pattern.Default
			if g.CarrierRatio > 0 {
				g.Carrier, g.CarrierRatio = g.CarrierRatio*math.Abs(g.Frequency), 0
			}
			s.Run.Measure = math.Max(1, math.Round(s.Run.Measure*g.Carrier)) / g.Carrier
		}
		g.Frequency = 0
	}
	return s
}

// turnedTo returns standing drive s with its d axis at an electrical angle in rad.
func turnedTo(s drive.Scenario, theta, sense float64) drive.Scenario {
	s.Shaft.StartAngle = theta
	if s.Gating.Follow == drive.Clock {
		s.Gating.Phase = math.Remainder(theta+sense*math.Pi/2, 2*math.Pi)
	}
	return s
}

// spans returns where values, taken in the middle of equal parts of a turn, are below a bound; the edges are found
// on the straight lines between neighbours. What is narrower than a degree is left out.
func spans(values []float64, bound float64) []Span {
	n := len(values)
	at := func(k int) float64 { return values[k%n] }
	first := slices.IndexFunc(values, func(v float64) bool { return v >= bound })
	if first < 0 {
		return []Span{{From: 0, To: 360, Width: 360}}
	}
	edge := func(k int) float64 { // between k and the next
		return 360 / float64(n) * (float64(k) + 0.5 + (bound-at(k))/(at(k+1)-at(k)))
	}
	found := []Span{}
	for k := first; k < first+n; k++ {
		if at(k) < bound || at(k+1) >= bound {
			continue
		}
		from := edge(k)
		for at(k+1) < bound {
			k++
		}
		if to := edge(k); to-from >= 1 {
			found = append(found, Span{From: math.Mod(from, 360), To: math.Mod(to, 360), Width: to - from})
		}
	}
	return found
}

// turns returns which way a vector turns that is given at equal parts of a turn: 1 forward, -1 backward, 0 where as
// much of it turns one way as the other.
func turns(v []complex128) int {
	var with, against complex128
	for k, x := range v {
		angle := 2 * math.Pi * float64(k) / float64(len(v))
		with += x * cmplx.Rect(1, -angle)
		against += x * cmplx.Rect(1, angle)
	}
	switch ratio := cmplx.Abs(with) - cmplx.Abs(against); {
	case ratio > (1-straight)*cmplx.Abs(with):
		return 1
	case -ratio > (1-straight)*cmplx.Abs(against):
		return -1
	}
	return 0
}

// Share returns which part of all rotor angles cannot start.
func (s *Start) Share() float64 {
	sum := 0.0
	for _, x := range s.Dead {
		sum += x.Width
	}
	return sum / 360
}
