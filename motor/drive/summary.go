package drive

import (
	"math"
	"math/cmplx"

	"sextant/inverter"
)

// A Summary is what a meter has to say of a run, named and in units as in its JSON. Currents are positive
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

// summary returns what was metered. A meter that has seen no time gives zeros.
func (m *meter) summary() Summary {
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
