package drive

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"sextant/inverter"
)

// A Summary is what a [Meter] has to say of a run, named and in units as in its JSON. Currents are positive
// into the machine, supply current out of the source, torque in the sense U to V to W.
type Summary struct {
	Title    string          `json:"title"`
	From     float64         `json:"from_s"`
	To       float64         `json:"to_s"`
	Events   int             `json:"events"` // of the whole run, from t = 0
	Supply   SupplySummary   `json:"supply"`
	Phases   []PhaseSummary  `json:"phases"`
	Machine  MachineSummary  `json:"machine"`
	Switches []SwitchSummary `json:"switches"`
	Energy   EnergySummary   `json:"energy"`
	Notices  []Notice        `json:"notices,omitempty"`

	Fundamental float64           `json:"fundamental_hz"` // that of the phases' fundamental peaks
	Harmonics   []HarmonicSummary `json:"harmonics,omitempty"`

	Device *DeviceSummary `json:"device,omitempty"` // where the scenario uses one

	Turns *TurnsSummary `json:"shorted_turns,omitempty"` // where a winding has any in the window
}

// A SupplySummary is of the source: voltage at the link, power negative when the machine feeds it.
type SupplySummary struct {
	VoltageMean float64 `json:"voltage_mean_v"`
	CurrentMean float64 `json:"current_mean_a"`
	CurrentRMS  float64 `json:"current_rms_a"`
	Power       float64 `json:"power_w"`
	LinkRMS     float64 `json:"link_current_rms_a"`      // of the current that the bridge draws
	Capacitor   float64 `json:"capacitor_current_rms_a"` // of what a link's capacitor carries: all that alternates, if it holds the link
	LinkRipple  float64 `json:"link_ripple_v"`           // peak to peak, between the rails
}

// A PhaseSummary is of one phase's current.
type PhaseSummary struct {
	Phase           inverter.Phase `json:"phase"`
	CurrentMean     float64        `json:"current_mean_a"`
	CurrentRMS      float64        `json:"current_rms_a"`
	CurrentPeak     float64        `json:"current_peak_a"`
	FundamentalPeak float64        `json:"fundamental_peak_a"`
}

// A MachineSummary is of the machine and its shaft; torque ripple is peak to peak.
type MachineSummary struct {
	SpeedMean    float64 `json:"speed_mean_rpm"`
	TorqueMean   float64 `json:"torque_mean_nm"`
	TorqueRipple float64 `json:"torque_ripple_nm"`
	IDMean       float64 `json:"id_mean_a"`
	IQMean       float64 `json:"iq_mean_a"`
	ShaftPower   float64 `json:"shaft_power_w"`
	CopperLoss   float64 `json:"copper_loss_w"`
}

// A SwitchSummary is of one switch and the diode beside it.
type SwitchSummary struct {
	Switch       inverter.Switch `json:"switch"`
	ChannelMean  float64         `json:"channel_mean_a"`
	ChannelRMS   float64         `json:"channel_rms_a"`
	DiodeMean    float64         `json:"diode_mean_a"`
	DiodeRMS     float64         `json:"diode_rms_a"`
	Conduction   float64         `json:"conduction_w"`
	*HeatSummary                 // where the scenario uses a device
}

// An EnergySummary is the [Account] of the measured window.
type EnergySummary struct {
	Supplied     float64 `json:"supplied_j"`
	ToShaft      float64 `json:"to_shaft_j"`
	Copper       float64 `json:"copper_j"`
	Bridge       float64 `json:"bridge_j"`
	Broken       float64 `json:"broken_j"`
	StoredChange float64 `json:"stored_change_j"`
	Residual     float64 `json:"residual_j"`
	Capacitor    float64 `json:"capacitor_j"` // heat in the resistance in series with the link's capacitor
}

// Summary returns what was metered. A meter that has seen no time gives zeros.
func (m *Meter) Summary() Summary {
	t := m.to - m.from
	s := Summary{From: m.from, To: m.to, Phases: make([]PhaseSummary, 3), Switches: make([]SwitchSummary, 6)}
	for k := range s.Phases {
		s.Phases[k].Phase = inverter.Phase(k)
	}
	for k := range s.Switches {
		s.Switches[k].Switch = inverter.Switch(k)
	}
	if t <= 0 {
		return s
	}
	s.Supply = SupplySummary{
		VoltageMean: m.linkTime / t, CurrentMean: m.supplied / t, CurrentRMS: rms(m.supplied2, t),
		Power: m.account.Supplied / t, LinkRMS: rms(m.drawn2, t),
		Capacitor:  rms(m.drawn2-m.drawn*m.drawn/t, t),
		LinkRipple: m.highest - m.lowest,
	}
	if m.ripple2 > 0 {
		s.Supply.Capacitor = rms(m.ripple2, t)
	}
	for k := range s.Phases {
		p := &s.Phases[k]
		i, i2 := m.sums.along(m.axes[k])
		p.CurrentMean, p.CurrentRMS, p.CurrentPeak = i/t, rms(i2, t), m.peak[k]
		if m.omega > 0 {
			a := m.axes[k]
			p.FundamentalPeak = 2 / t * cmplx.Abs(complex(a.Alpha, 0)*m.alpha+complex(a.Beta, 0)*m.beta)
		}
	}
	s.Machine = MachineSummary{
		SpeedMean: m.sums.turned / t * 30 / math.Pi, TorqueMean: m.sums.torque / t,
		IDMean: m.sums.dq.D / t, IQMean: m.sums.dq.Q / t,
		ShaftPower: m.account.Shaft / t, CopperLoss: m.account.Copper / t,
	}
	if m.most > m.least {
		s.Machine.TorqueRipple = m.most - m.least
	}
	for k := range s.Switches {
		c, d := &m.channel[k], &m.diode[k]
		s.Switches[k] = SwitchSummary{
			Switch: inverter.Switch(k), ChannelMean: c.i / t, ChannelRMS: rms(c.i2, t),
			DiodeMean: d.i / t, DiodeRMS: rms(d.i2, t), Conduction: (c.heat + d.heat) / t,
		}
	}
	s.Turns = m.turnsSummary()
	a := m.account
	s.Energy = EnergySummary{
		Supplied: a.Supplied, ToShaft: a.Shaft, Copper: a.Copper, Bridge: a.Bridge,
		Broken: a.Broken, StoredChange: a.Stored, Residual: a.Residual(), Capacitor: a.Capacitor,
	}
	return s
}

// rms returns the root of a mean square whose integral may be a rounding below zero.
func rms(integral, t float64) float64 { return math.Sqrt(max(integral, 0) / t) }

// Simulate runs scenario s through its settling and its measured window and sums the window up; further
// observers are shown the window, or all of the run with [Simulation].
func Simulate(s Scenario, observers ...Observer) (Summary, error) {
	return Simulation{Scenario: s, Window: observers}.Run()
}

// A Simulation is a run from start to end.
type Simulation struct {
	Scenario Scenario
	Settling []Observer // shown the settling
	Window   []Observer // shown the measured window
	Orders   int        // harmonics to take, over the whole turns in the window
	Strides  *int       // left to take, where they are bounded: all runs take from them
}

// ErrStrides says that a simulation would take more strides than it was given.
var ErrStrides = errors.New("the run takes more steps from event to event than it was given")

// Run runs it. Where the gating follows a free rotor, nobody knows the fundamental's frequency before: the
// run is made once to find the mean speed, and again to measure. Where a device's junctions are as warm as their heat
// makes them, it is made until they are steady, and again to measure.
func (r Simulation) Run() (Summary, error) {
	frequency := r.Scenario.ElectricalFrequency()
	if s := &r.Scenario; s.Shaft.Free && s.clockFrequency() == 0 {
		first, err := Simulation{Scenario: *s, Strides: r.Strides}.run(frequency, s.Switches.unheated())
		if err != nil {
			return Summary{}, err
		}
		frequency = math.Abs(first.Machine.SpeedMean) / 60 * float64(s.Machine.PolePairs)
	}
	at, err := r.Scenario.warm(frequency, r.Strides)
	if err != nil {
		return Summary{}, err
	}
	return r.run(frequency, at)
}

// run runs it with the junctions at temperatures.
func (r Simulation) run(frequency float64, at temperatures) (Summary, error) {
	d, err := newDrive(r.Scenario, at)
	if err != nil {
		return Summary{}, err
	}
	d.left = r.Strides
	w := r.Scenario.Run
	m := NewMeter(frequency)
	settling, window := slices.Clone(r.Settling), append([]Observer{m}, r.Window...)
	var t *tally
	if x := r.Scenario.Switches.Device; x != nil {
		t = &tally{device: x, at: at, from: w.Settle, to: w.Settle + w.Measure}
		settling, window = append(settling, t), append(window, t)
	}
	d.watchers = settling
	if err := d.finish(w.Settle); err != nil {
		return Summary{}, err
	}
	d.watchers = window
	before := d.account.Broken
	harmonics, err := r.harmonics(d, frequency)
	if err != nil {
		return Summary{}, err
	}
	if err := d.finish(w.Settle + w.Measure); err != nil {
		return Summary{}, err
	}
	m.account.lose(d.account.Broken - before)
	sum := m.Summary()
	sum.Fundamental, sum.Harmonics = frequency, harmonics
	sum.Title, sum.Events, sum.Notices = r.Scenario.Title, d.events, d.Notices()
	if t != nil {
		sum.heat(&r.Scenario.Switches, at, t.losses(m))
		sum.doubt(&r.Scenario)
	}
	return sum, nil
}

// harmonics runs the whole turns of the window, if harmonics are asked for, and returns them.
func (r Simulation) harmonics(d *Drive, frequency float64) ([]HarmonicSummary, error) {
	if r.Orders <= 0 {
		return nil, nil
	}
	w := r.Scenario.Run
	turns := math.Floor(w.Measure*frequency + 1e-9)
	if turns < 1 {
		return nil, tooShort(frequency, w.Measure)
	}
	f := &series{omega: 2 * math.Pi * frequency, lines: make([][5]complex128, r.Orders)}
	others := d.watchers
	d.watchers = append(slices.Clone(others), f)
	err := d.finish(min(w.Settle+turns/frequency, w.Settle+w.Measure))
	d.watchers = others
	return f.summary(), err
}

// tooShort is what is wrong with a window of so many seconds that harmonics are asked of.
func tooShort(frequency, measure float64) error {
	if frequency == 0 {
		return &KeyError{"run.measure", errors.New("nothing turns, so there is no fundamental to have harmonics")}
	}
	return &KeyError{"run.measure", fmt.Errorf("%g s is shorter than a turn at %.6g Hz, and harmonics need one; measure %.6g s or more", measure, frequency, 1/frequency)}
}

// finish advances to time t and ends a segment there.
func (d *Drive) finish(t float64) error {
	if t <= d.now {
		return nil
	}
	d.stop = t
	if d.seg.T1 > t { // the pending segment was integrated without regard to t
		s := d.seg.stride.from
		if err := d.fill(d.seg.T0, &s); err != nil {
			return err
		}
	}
	for d.seg.T1 < t {
		if err := d.pass(); err != nil {
			return err
		}
	}
	d.stop = math.Inf(1)
	return d.pass()
}

// ElectricalFrequency returns the frequency that the scenario's currents repeat with, in Hz: that of the
// gating, or where the gating makes none, that of the rotor as it starts.
func (s *Scenario) ElectricalFrequency() float64 {
	if f := s.clockFrequency(); f > 0 {
		return f
	}
	return math.Abs(s.startSpeed()) * float64(s.Machine.PolePairs) / (2 * math.Pi)
}
