package published

import (
	"math"
	"sync"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
)

const rpm = math.Pi / 30 // rad/s

// round and salient are the machines of the worked figures: of one inductance, and with a q axis 2.5 times as
// inductive.
var (
	round   = motor.Machine{PolePairs: 4, Resistance: 20e-3, InductanceD: 0.2e-3, InductanceQ: 0.2e-3, FluxLinkage: 0.08}
	salient = motor.Machine{PolePairs: 4, Resistance: 20e-3, InductanceD: 0.2e-3, InductanceQ: 0.5e-3, FluxLinkage: 0.08}
)

// A run is a scenario that several figures are taken from; it is simulated when the first is.
type run struct {
	once    sync.Once
	do      drive.Simulation
	summary drive.Summary
	err     error
}

// of returns a figure of the run.
func (r *run) of(figure func(*drive.Summary) float64) func() (float64, error) {
	return func() (float64, error) {
		r.once.Do(func() { r.summary, r.err = r.do.Run() })
		if r.err != nil {
			return 0, r.err
		}
		return figure(&r.summary), nil
	}
}

// onCoils is six-step at a frequency on a star of coils, measured over one turn after so many.
func onCoils(supply, r, l, f, settle float64, faults ...drive.Fault) *run {
	return &run{do: drive.Simulation{Scenario: drive.Scenario{
		Supply:  drive.Supply{Voltage: supply},
		Gating:  drive.Gating{Settings: pattern.Settings{Kind: pattern.SixStep180, Frequency: f}, Chop: 1},
		Machine: motor.Machine{Kind: motor.Passive, Resistance: r, InductanceD: l, InductanceQ: l},
		Faults:  faults,
		Run:     drive.Window{Settle: settle / f, Measure: 1 / f},
	}}}
}

// turned is a machine whose shaft is held at a speed in rpm.
func turned(m motor.Machine, k pattern.Kind, speed, settle, measure float64) *run {
	return &run{do: drive.Simulation{Scenario: drive.Scenario{
		Supply:  drive.Supply{Voltage: 350},
		Gating:  drive.Gating{Settings: pattern.Settings{Kind: k}, Chop: 1},
		Machine: m,
		Shaft:   drive.Shaft{Speed: speed * rpm},
		Run:     drive.Window{Settle: settle, Measure: measure},
	}}}
}

func supplyMean(s *drive.Summary) float64 { return s.Supply.CurrentMean }
func torqueMean(s *drive.Summary) float64 { return s.Machine.TorqueMean }
func rms(s *drive.Summary) float64        { return s.Phases[inverter.U].CurrentRMS }
func firstPeak(s *drive.Summary) float64  { return s.Phases[inverter.U].FundamentalPeak }
func mean(s *drive.Summary) float64       { return s.Phases[inverter.U].CurrentMean }

func coils() []Check {
	known := onCoils(220, 5, 23e-3, 60, 20)
	heavy := onCoils(350, 0.5, 2e-3, 100, 30)
	for _, r := range []*run{known, heavy} {
		// An ideal gated switch carries current both ways; a drop next to nothing sends it back by the diode.
		r.do.Scenario.Switches = drive.Switches{ChannelResistance: 1e-9, DiodeResistance: 1e-9}
	}
	resistive := onCoils(450, 10, 1e-6, 50, 1)
	const coil = "with 1 uH, which a run needs"
	return []Check{
		{Quantity: "220 V, 60 Hz on 5 ohm, 23 mH: rms current", Unit: "A", Figure: "9.90846", Basis: Formula, Source: rashid, ours: known.of(rms)},
		{Quantity: "fundamental, peak", Unit: "A", Figure: "13.9929", Basis: Formula, Source: rashid, ours: known.of(firstPeak)},
		{Quantity: "greatest current", Unit: "A", Figure: "13.6711", Basis: Formula, Source: rashid, ours: known.of(func(s *drive.Summary) float64 { return s.Phases[inverter.U].CurrentPeak })},
		{Quantity: "power of the load", Unit: "W", Figure: "1472.66", Basis: Formula, Source: rashid, ours: known.of(func(s *drive.Summary) float64 { return s.Machine.CopperLoss })},
		{Quantity: "mean supply current", Unit: "A", Figure: "6.69392", Basis: Formula, Source: rashid, ours: known.of(supplyMean)},
		{Quantity: "mean of an upper switch", Unit: "A", Figure: "3.33542", Basis: Formula, Source: rashid, ours: known.of(func(s *drive.Summary) float64 { return s.Switches[inverter.UHigh].ChannelMean })},
		{Quantity: "mean of an upper diode", Unit: "A", Figure: "1.10411", Basis: Formula, Source: rashid, ours: known.of(func(s *drive.Summary) float64 { return s.Switches[inverter.UHigh].DiodeMean })},
		{Quantity: "450 V on 10 ohm: rms current", Unit: "A", Figure: "21.2132", Basis: Formula, Source: bimbhra, Within: 2e-4, Because: coil, ours: resistive.of(rms)},
		{Quantity: "rms of a switch", Unit: "A", Figure: "15.0000", Basis: Formula, Source: bimbhra, Within: 2e-4, Because: coil,
			ours: resistive.of(func(s *drive.Summary) float64 { return s.Switches[inverter.UHigh].ChannelRMS })},
		{Quantity: "350 V, 100 Hz on 0.5 ohm, 2 mH: rms current", Unit: "A", Figure: "116.640", Basis: Formula, Source: rashid, ours: heavy.of(rms)},
		{Quantity: "mean of an upper diode", Unit: "A", Figure: "16.544", Basis: Formula, Source: rashid, ours: heavy.of(func(s *drive.Summary) float64 { return s.Switches[inverter.UHigh].DiodeMean })},
	}
}

func coasting() []Check {
	off, short := turned(round, pattern.AllOff, 8000, 0.1125, 0.01875), turned(round, pattern.AllLow, 3000, 0.3, 5e-3)
	hard, salientHard := turned(round, pattern.AllLow, 238.732, 0.4, 0.02), turned(salient, pattern.AllLow, 213.529, 0.6, 0.02)
	boosting := turned(round, pattern.PulsedLow, 1500, 0.3, 0.01)
	g := &boosting.do.Scenario.Gating
	g.Carrier, g.Duty = 8000, 0.8
	length := func(s *drive.Summary) float64 { return math.Hypot(s.Machine.IDMean, s.Machine.IQMean) }
	const coarse = "the stepped circuit's own error"
	return []Check{
		{Quantity: "all off, 8000 rpm on 350 V: supply", Unit: "A", Figure: "-148.91", Basis: Computed, Source: jahns, Within: 2e-3, Because: coarse, ours: off.of(supplyMean)},
		{Quantity: "torque", Unit: "N m", Figure: "-63.127", Basis: Computed, Source: jahns, Within: 2e-3, Because: coarse, ours: off.of(torqueMean)},
		{Quantity: "phase current, rms", Unit: "A", Figure: "113.053", Basis: Computed, Source: jahns, Within: 2e-3, Because: coarse, ours: off.of(rms)},
		{Quantity: "all low, 3000 rpm: current, peak", Unit: "A", Figure: "398.739", Basis: Formula, Source: welchko, ours: short.of(length)},
		{Quantity: "torque", Unit: "N m", Figure: "-15.1827", Basis: Formula, Source: welchko, ours: short.of(torqueMean)},
		{Quantity: "all low, greatest braking: 238.732 rpm", Unit: "N m", Figure: "-96.0000", Basis: Formula, Source: welchko, ours: hard.of(torqueMean)},
		{Quantity: "Lq = 2.5 Ld, 213.529 rpm", Unit: "N m", Figure: "-114.487", Basis: Formula, Source: welchko, ours: salientHard.of(torqueMean)},
		{Quantity: "all low from no current, 3000 rpm: greatest", Unit: "A", Figure: "711.04", Basis: Computed, Source: krishnan, ours: onset},
		{Quantity: "pulsed low, D = 0.8, 1500 rpm: supply", Unit: "A", Figure: "-18.871", Basis: Computed, Source: boost, Within: 5e-3, Because: coarse, ours: boosting.of(supplyMean)},
	}
}

// A crest observes the greatest length of the current vector, at the ends of segments and between.
type crest float64

func (c *crest) Observe(s *drive.Segment) {
	const parts = 16
	for i := range parts + 1 {
		x := s.At(s.T0 + (s.T1-s.T0)*float64(i)/parts)
		*c = max(*c, crest(math.Hypot(x.ID, x.IQ)))
	}
}

func onset() (float64, error) {
	var most crest
	r := turned(round, pattern.AllLow, 3000, 0, 10e-3)
	r.do.Window = []drive.Observer{&most}
	_, err := r.do.Run()
	return float64(most), err
}
