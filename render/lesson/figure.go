package lesson

import (
	"encoding/json"
	"fmt"
	"math"
	"math/cmplx"
	"strings"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor/drive"
	"sextant/motor/fault/symptom"
)

// figures are the numbers of a run by name, in the unit that the name ends with, as in the JSON of a run:
// "machine.torque_mean_nm", "phases.U.current_rms_a", "switches.U+.junction_c"; then
//
//   - voltage.phase_rms_v, phase_peak_v, phase_fundamental_v, line_rms_v, line_fundamental_v, line_thd_percent
//   - emf.phase_peak_v, line_peak_v
//   - end.u_a, u_v, u_pole_v ..., torque_nm, field_deg, voltage_deg, rotor_deg, switches_on: when the run ends
//   - given.supply_v, frequency_hz, modulation, carrier_hz, dead_time_s, speed_rpm, winding_ohm, pole_pairs: what the scenario asks for
//   - given.steps_per_turn, steps.phase_fundamental_v, phase_rms_v, line_rms_v, line_thd_percent: of a six-step pattern,
//     as [pattern.Steps] has them
//   - numbering.rows.U+, numbering.firing.U+ ...
//   - fault.phase-open:U and the like, 1 where the scenario has that fault.
type figures map[string]float64

// run runs a scenario, in no more strides than are left, and returns its figures.
func run(s drive.Scenario, left *int) (figures, error) {
	volts := voltmeter{omega: 2 * math.Pi * s.ElectricalFrequency()}
	sum, err := drive.Simulation{Scenario: s, Window: []drive.Observer{&volts}, Strides: left}.Run()
	if err != nil {
		return nil, err
	}
	f := figures{}
	if err := f.summary(&sum); err != nil {
		return nil, err
	}
	volts.into(f)
	f.given(&s)
	for _, n := range []inverter.Numbering{inverter.Rows, inverter.Firing} {
		for k := range inverter.Switch(6) {
			f[fmt.Sprintf("numbering.%v.%v", n, k)] = float64(n.Number(k))
		}
	}
	return f, nil
}

// summary takes all numbers of a summary by their names in JSON.
func (f figures) summary(sum *drive.Summary) error {
	data, err := json.Marshal(sum)
	if err != nil {
		return err
	}
	var values map[string]any
	if err := json.Unmarshal(data, &values); err != nil {
		return err
	}
	f.take("", values)
	return nil
}

func (f figures) take(name string, value any) {
	switch v := value.(type) {
	case float64:
		f[name] = v
	case map[string]any:
		for key, x := range v {
			f.take(strings.TrimPrefix(name+"."+key, "."), x)
		}
	case []any:
		for _, x := range v {
			if row, ok := x.(map[string]any); ok {
				for _, key := range []string{"phase", "switch"} {
					if at, ok := row[key].(string); ok {
						f.take(name+"."+at, x)
					}
				}
			}
		}
	}
}

func (f figures) given(s *drive.Scenario) {
	f["given.supply_v"] = s.Supply.Voltage
	f["given.frequency_hz"] = s.Gating.Frequency
	f["given.modulation"] = s.Gating.Modulation
	f["given.carrier_hz"] = s.Gating.Carrier
	f["given.carrier_ratio"] = s.Gating.CarrierRatio
	f["given.dead_time_s"] = s.Gating.DeadTime
	f["given.pole_pairs"] = float64(s.Machine.PolePairs)
	f["given.winding_ohm"] = s.Machine.Resistance
	f["given.speed_rpm"] = s.Shaft.Speed * 30 / math.Pi
	if t, err := pattern.Steps(s.Gating.Kind, s.Supply.Voltage); err == nil { // of those that have steps
		f["given.steps_per_turn"] = float64(len(t.Steps))
		f["steps.phase_fundamental_v"], f["steps.phase_rms_v"] = t.PhaseFundamental, t.PhaseRMS
		f["steps.line_rms_v"], f["steps.line_thd_percent"] = t.LineRMS, t.LineTHD
	}
	for _, k := range drive.FaultKinds() {
		for i := range 6 {
			x := drive.Fault{Kind: k, Phase: inverter.Phase(i % 3), Switch: inverter.Switch(i)}
			f["fault."+symptom.Name(x)] = 0
		}
	}
	for _, x := range s.Faults {
		f["fault."+symptom.Name(x)] = 1
	}
}

// A voltmeter observes the voltages of a run, of phase U and from U to V.
type voltmeter struct {
	omega        float64
	time         float64
	phase, line  sums
	peak         float64
	emf, emfLine float64
	end          drive.Instant
}

// sums are integrals over time of a quantity's square, and of the quantity times the fundamental.
type sums struct {
	square      float64
	fundamental complex128
}

func (s *sums) add(v, dt float64, turn complex128) {
	s.square += v * v * dt
	s.fundamental += complex(v*dt, 0) * turn
}

// Observe adds a segment, by the three-point Gauss rule over pieces of a few degrees.
func (m *voltmeter) Observe(seg *drive.Segment) {
	const piece = 0.1 // rad
	h := seg.T1 - seg.T0
	m.end = seg.At(seg.T1)
	if h <= 0 {
		return
	}
	m.time += h
	n := 1 + math.Floor(m.omega*h/piece)
	h /= n
	for k := range int(n) {
		for _, at := range [3][2]float64{{0.5 - math.Sqrt(0.15), 5. / 18}, {0.5, 8. / 18}, {0.5 + math.Sqrt(0.15), 5. / 18}} {
			t := seg.T0 + (float64(k)+at[0])*h
			i := seg.At(t)
			turn := cmplx.Rect(1, -m.omega*t)
			m.phase.add(i.Phase[0], at[1]*h, turn)
			m.line.add(i.Line()[0], at[1]*h, turn)
			m.peak = math.Max(m.peak, math.Abs(i.Phase[0]))
			m.emf = math.Max(m.emf, math.Abs(i.EMF[0]))
			m.emfLine = math.Max(m.emfLine, math.Abs(i.EMF.Lines()[0]))
		}
	}
}

func (m *voltmeter) into(f figures) {
	if m.time > 0 {
		rms := func(s *sums) float64 { return math.Sqrt(s.square / m.time) }
		f["voltage.phase_rms_v"], f["voltage.line_rms_v"] = rms(&m.phase), rms(&m.line)
		if m.omega > 0 {
			f["voltage.phase_fundamental_v"] = 2 / m.time * cmplx.Abs(m.phase.fundamental)
			line := 2 / m.time * cmplx.Abs(m.line.fundamental)
			f["voltage.line_fundamental_v"] = line
			if line > 0 {
				f["voltage.line_thd_percent"] = 100 * math.Sqrt(math.Max(0, 2*math.Pow(rms(&m.line)/line, 2)-1))
			}
		}
	}
	f["voltage.phase_peak_v"], f["emf.phase_peak_v"], f["emf.line_peak_v"] = m.peak, m.emf, m.emfLine
	i := &m.end
	for k, p := range []string{"u", "v", "w"} {
		f["end."+p+"_a"], f["end."+p+"_v"], f["end."+p+"_pole_v"] = i.Current[k], i.Phase[k], i.Pole[k]
	}
	f["end.torque_nm"], f["end.link_v"], f["end.supply_a"] = i.Torque, i.Link, i.Supply
	f["end.rotor_deg"] = i.Rotor * 180 / math.Pi
	f["end.field_deg"] = degrees(i.CurrentVector())
	f["end.voltage_deg"] = degrees(i.VoltageVector())
	on := 0
	for k := range inverter.Switch(6) {
		if i.Gates.Has(k) {
			on++
		}
	}
	f["end.switches_on"] = float64(on)
}

// degrees returns the angle of a vector, from 0 to less than 360.
func degrees(v inverter.Vector) float64 {
	if v.Abs() < 1e-9 {
		return 0
	}
	a := math.Round(math.Atan2(v.Beta, v.Alpha)*180/math.Pi*1e6) / 1e6
	if a < 0 {
		a += 360
	}
	return a
}
