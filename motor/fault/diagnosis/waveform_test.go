package diagnosis_test

import (
	"fmt"
	"math"
	"math/rand/v2"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
)

// A rig is an invented machine and bridge at their ratings.
type rig struct {
	machine motor.Machine
	voltage float64 // V
	current float64 // A, peak
	speed   float64 // rpm
	carrier float64 // Hz
}

// The rigs: the hillside hauler, the classroom trainer, and a machine with more saliency than either.
var rigs = []rig{
	{motor.Machine{PolePairs: 4, Resistance: 0.02, InductanceD: 0.2e-3, InductanceQ: 0.2e-3, FluxLinkage: 0.08}, 350, 250, 4000, 8000},
	{motor.Machine{PolePairs: 2, Resistance: 0.4, InductanceD: 1.2e-3, InductanceQ: 1.2e-3, FluxLinkage: 0.08}, 48, 12, 2400, 10000},
	{motor.Machine{PolePairs: 3, Resistance: 0.15, InductanceD: 0.9e-3, InductanceQ: 2.1e-3, FluxLinkage: 0.12}, 400, 60, 3000, 6000},
}

// A truth is what is wrong with a capture.
type truth struct {
	fault string
	at    string
}

func (t truth) String() string {
	if t.at == "" {
		return t.fault
	}
	return t.fault + " " + t.at
}

// A waveform is the currents of a simulated drive, evenly sampled far finer than any scope of the bench.
type waveform struct {
	truth
	mode    string
	scene   string // for messages
	hz      float64
	rated   float64
	step    float64 // s
	own     bool    // the sensor at fault is the drive's, so that the currents themselves are wrong
	current []inverter.ABC
}

const (
	turnsKept    = 7
	samplesATurn = 720
)

// sampling observes a run and reads the currents at even times.
type sampling struct {
	next, step float64
	x          []inverter.ABC
}

func (s *sampling) Observe(seg *drive.Segment) {
	for ; s.next < seg.T1; s.next += s.step {
		s.x = append(s.x, seg.At(s.next).Current)
	}
}

// The modes of gating on the bench.
var modes = []string{"clock", "clock six-step", "passive", "current", "current free", "rotor", "rotor free"}

// simulate makes a waveform: a drawn operating point with the fault in it. Sensor faults are no affair of
// the drive; they are laid on later, so that it runs healthy for them.
func simulate(r *rand.Rand, mode string, tr truth) (waveform, error) {
	rig := rigs[r.IntN(len(rigs))]
	load := 0.1 + 0.9*r.Float64()
	speed := rig.speed * math.Pi / 30 * (0.05 + 0.95*r.Float64())
	sense := float64(1 - 2*r.IntN(2)) // motoring, generating
	if mode == "passive" {
		sense = 1
	}
	i := load * rig.current
	m := rig.machine
	omega := speed * float64(m.PolePairs)
	hz := omega / (2 * math.Pi)
	s := drive.Scenario{
		Supply:  drive.Supply{Voltage: rig.voltage},
		Machine: m,
		Shaft:   drive.Shaft{Speed: speed},
	}
	if r.IntN(2) == 0 {
		s.Switches = drive.Switches{ChannelThreshold: 0.003 * rig.voltage, DiodeThreshold: 0.004 * rig.voltage,
			ChannelResistance: 0.004 * rig.voltage / rig.current, DiodeResistance: 0.003 * rig.voltage / rig.current,
			BothWays: r.IntN(2) == 0}
	}
	kinds := []pattern.Kind{pattern.SineTriangle, pattern.ThirdHarmonic, pattern.SpaceVector, pattern.Clamped60, pattern.Clamped30, pattern.ClampedLow}
	g := &s.Gating
	g.Kind, g.Carrier = kinds[r.IntN(len(kinds))], rig.carrier
	v := m.Voltage(motor.DQ{Q: sense * i}, omega)
	length := math.Hypot(v.D, v.Q)
	z := math.Hypot(m.Resistance, omega*math.Sqrt(m.InductanceD*m.InductanceQ))
	switch mode {
	case "clock", "clock six-step":
		g.Frequency, g.Phase = hz, math.Atan2(v.Q, v.D)
		g.Modulation = 2 * length / rig.voltage
		if g.Modulation > 1 || length < 0.02*rig.voltage {
			s.Supply.Voltage = length * 2 / (0.5 + 0.5*r.Float64())
			g.Modulation = 2 * length / s.Supply.Voltage
		}
		if mode == "clock six-step" {
			g.Kind, g.Carrier = pattern.SixStep180, 0
			s.Supply.Voltage = length * math.Pi / 2
		}
		s.Switches = drive.Switches{} // without control they would set the current
	case "passive":
		// The load's impedance draws the current at its voltage.
		q := 0.15 + 0.8*r.Float64() // power factor
		g.Modulation = 0.3 + 0.7*r.Float64()
		z = g.Modulation * rig.voltage / 2 / i
		s.Machine = motor.Machine{Kind: motor.Passive, Resistance: z * q}
		s.Machine.InductanceD = z * math.Sqrt(1-q*q) / omega
		s.Machine.InductanceQ = s.Machine.InductanceD
		s.Shaft = drive.Shaft{}
		g.Frequency, g.Phase = hz, 2*math.Pi*r.Float64()
		g.DeadTime = 2e-6 * r.Float64()
		if r.IntN(4) == 0 {
			six := []pattern.Kind{pattern.SixStep180, pattern.SixStep120, pattern.TwelveStep150}
			g.Kind, g.Carrier, g.DeadTime = six[r.IntN(len(six))], 0, 0
		}
	case "current", "current free":
		g.Follow, g.IQ = drive.Current, sense*i
		g.DeadTime = 2e-6 * r.Float64()
		g.Bandwidth = rig.carrier / 20 * (0.2 + 0.8*r.Float64())
		if 2*length > 1.05*rig.voltage {
			s.Supply.Voltage = 2.1 * length
		}
	case "rotor", "rotor free":
		g.Follow, g.Chop, g.Kind = drive.Rotor, 1, pattern.SixStep120
		if r.IntN(2) == 0 {
			s.Machine.InductanceQ = s.Machine.InductanceD
			s.Machine.EMF = motor.Trapezoid
		}
		flat := math.Sqrt(3) * omega * m.FluxLinkage * 0.955 // mean EMF between the two phases that conduct
		s.Supply.Voltage = flat + sense*2*m.Resistance*i*1.1
		if s.Supply.Voltage < 0.3*flat {
			s.Supply.Voltage = 0.3 * flat
		}
		g.Carrier = 0
		if sense > 0 && r.IntN(2) == 0 {
			g.Chop, g.Carrier = 0.5+0.5*r.Float64(), rig.carrier
			s.Supply.Voltage /= g.Chop
			g.ChopSide = []drive.ChopSide{drive.ChopHigh, drive.ChopLow, drive.ChopBoth}[r.IntN(3)]
		}
	}
	if mode == "current free" || mode == "rotor free" {
		torque := 1.5 * float64(m.PolePairs) * m.FluxLinkage * sense * i
		change := 0.02 + 0.23*r.Float64() // of the speed, over the window, with three tenths of the torque left over
		left := 0.3 * (2*r.Float64() - 1)
		s.Shaft = drive.Shaft{Free: true, StartSpeed: speed, LoadTorque: torque * (1 - left),
			Inertia: 0.3 * math.Abs(torque) * turnsKept / hz / (change * speed)}
	}
	tau := 5 * max(s.Machine.InductanceD, s.Machine.InductanceQ) / max(s.Machine.Resistance, 1e-9)
	settle := max(2/hz, min(tau, 20/hz))
	if mode == "current" || mode == "current free" {
		settle = max(1.2/hz, 5/(2*math.Pi*g.Bandwidth))
	}
	value, own := 0.0, false
	if tr.fault != "healthy" {
		f := drive.Fault{}
		switch tr.fault {
		case "switch-open":
			f.Kind = drive.SwitchOpen
			must(f.Switch.UnmarshalText([]byte(tr.at)))
		case "phase-open":
			f.Kind = drive.PhaseOpen
			must(f.Phase.UnmarshalText([]byte(tr.at)))
		case "phase-resistance":
			f.Kind = drive.PhaseResistance
			must(f.Phase.UnmarshalText([]byte(tr.at)))
			f.Value = z * (0.3 + 1.7*r.Float64())
			value = f.Value
		case "current-sensor-offset":
			own = (mode == "current" || mode == "current free") && r.IntN(2) == 0
			f.Kind = drive.CurrentSensorOffset
			must(f.Phase.UnmarshalText([]byte(tr.at)))
			f.Value = i * (0.2 + 0.4*r.Float64()) * float64(1-2*r.IntN(2))
		}
		if own || tr.fault != "current-sensor-offset" && tr.fault != "current-sensor-gain" {
			s.Faults = []drive.Fault{f}
		}
	}
	if r.IntN(8) == 0 && mode != "rotor" && mode != "rotor free" {
		s.Faults = append(s.Faults, drive.Fault{Kind: drive.PhaseSwap, Phase: inverter.U})
		if s.Machine.Kind != motor.Passive { // a clock or a control that turns the wrong way makes no steady current
			s.Faults = s.Faults[:len(s.Faults)-1]
		}
	}
	s.Run = drive.Window{Settle: settle, Measure: turnsKept / hz}
	w := waveform{truth: tr, mode: mode, own: own, hz: hz, rated: rig.current, step: 1 / (hz * samplesATurn)}
	w.scene = fmt.Sprintf("%s %v %.0f V, %.3g of rated current, %.4g Hz, sense %+g, added %.3g of Z", mode, g.Kind, s.Supply.Voltage, load, hz, sense, value/z)
	x := &sampling{next: settle, step: w.step}
	_, err := drive.Simulate(s, x)
	w.current = x.x
	return w, err
}

func must(err error) {
	if err != nil {
		panic(err)
	}
}
