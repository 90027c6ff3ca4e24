package symptom

import (
	"cmp"
	"math"
	"math/cmplx"
	"slices"

	"sextant/inverter"
	"sextant/motor/drive"
)

// Orders is how many harmonics of the fundamental are looked at.
const Orders = 12

// A Tone is a part of a torque or of a current that swings at a multiple of the electrical frequency.
type Tone struct {
	Order     int     `json:"order"`
	Frequency float64 `json:"frequency_hz"`
	Peak      float64 `json:"peak"` // amplitude, N m or A
}

// Figures is what the signs of a steady run are read from. Currents are in A, positive into the machine.
type Figures struct {
	Phases     []drive.PhaseSummary `json:"phases"`
	Frequency  float64              `json:"fundamental_hz"`
	With       float64              `json:"with_rotation_peak_a"`    // fundamental that turns as the healthy field does
	Against    float64              `json:"against_rotation_peak_a"` // and the other way
	Mean       float64              `json:"mean_vector_a"`           // length of the vector of mean currents
	MeanAngle  float64              `json:"mean_vector_deg"`         // its angle, 0 to 360
	Torque     float64              `json:"torque_mean_nm"`
	Ripple     float64              `json:"torque_ripple_nm"` // peak to peak
	Tones      []Tone               `json:"torque_tones_nm"`  // by falling amplitude
	Link       float64              `json:"supply_current_mean_a"`
	LinkTones  []Tone               `json:"link_tones_a"` // by falling amplitude
	LinkVolts  float64              `json:"link_voltage_mean_v"`
	LinkRipple float64              `json:"link_ripple_v"` // peak to peak
	Speed      float64              `json:"speed_mean_rpm"`
	Power      float64              `json:"supply_power_w"`
	Devices    []Device             `json:"devices"`
	Notices    []drive.Notice       `json:"notices,omitempty"`
	Copper     float64              `json:"copper_loss_w"`
	Turns      *drive.TurnsSummary  `json:"shorted_turns,omitempty"`
	Capacitor  float64              `json:"capacitor_loss_w"`
}

// A Device is what one of the six carries, switch and diode together.
type Device struct {
	Switch             inverter.Switch `json:"switch"`
	Current            float64         `json:"current_rms_a"`
	*drive.HeatSummary                 // where the scenario uses a device
}

// figures reads a summary. Sense is that in which the healthy field turns: 1 is U to V to W, -1 the other.
func figures(sum drive.Summary, sense float64) Figures {
	f := Figures{
		Phases: sum.Phases, Frequency: sum.Fundamental,
		Torque: sum.Machine.TorqueMean, Ripple: sum.Machine.TorqueRipple,
		Link: sum.Supply.CurrentMean, LinkVolts: sum.Supply.VoltageMean, LinkRipple: sum.Supply.LinkRipple,
		Speed: sum.Machine.SpeedMean, Power: sum.Supply.Power, Notices: sum.Notices,
		Copper: sum.Machine.CopperLoss, Turns: sum.Turns, Capacitor: sum.Energy.Capacitor / (sum.To - sum.From),
	}
	mean, _ := inverter.ABC{sum.Phases[0].CurrentMean, sum.Phases[1].CurrentMean, sum.Phases[2].CurrentMean}.Clarke()
	f.Mean, f.MeanAngle = mean.Abs(), degrees(mean.Angle())
	for _, x := range sum.Switches {
		f.Devices = append(f.Devices, Device{x.Switch, math.Hypot(x.ChannelRMS, x.DiodeRMS), x.HeatSummary})
	}
	for _, h := range sum.Harmonics {
		hz := float64(h.Order) * sum.Fundamental
		f.Tones = append(f.Tones, Tone{h.Order, hz, h.Torque})
		f.LinkTones = append(f.LinkTones, Tone{h.Order, hz, h.Supply})
	}
	loudest := func(a, b Tone) int { return cmp.Compare(b.Peak, a.Peak) }
	slices.SortStableFunc(f.Tones, loudest)
	slices.SortStableFunc(f.LinkTones, loudest)
	if len(sum.Harmonics) > 0 {
		f.With, f.Against = sequences(sum.Harmonics[0])
		if sense < 0 {
			f.With, f.Against = f.Against, f.With
		}
	}
	return f
}

// sequences returns the amplitudes of the symmetrical components of a harmonic's currents that turn U to V to
// W and W to V to U:
//
//	I₊ = (U + aV + a²W)/3,  I₋ = (U + a²V + aW)/3,  a = e^(j2π/3)
//
// C. L. Fortescue, "Method of symmetrical co-ordinates applied to the solution of polyphase networks", Trans.
// AIEE 37 (1918), 1027-1140.
func sequences(h drive.HarmonicSummary) (positive, negative float64) {
	a := cmplx.Rect(1, 2*math.Pi/3)
	phasor := func(peak, deg float64) complex128 { return cmplx.Rect(peak, deg*math.Pi/180) }
	u, v, w := phasor(h.U, h.UAngle), phasor(h.V, h.VAngle), phasor(h.W, h.WAngle)
	return cmplx.Abs(u+a*v+a*a*w) / 3, cmplx.Abs(u+a*a*v+a*w) / 3
}

// rms returns the rms currents of the phases and the largest of them.
func (f *Figures) rms() (x inverter.ABC, most float64) {
	for k := range x {
		x[k] = f.Phases[k].CurrentRMS
		most = math.Max(most, x[k])
	}
	return x, most
}

// tone returns the amplitude of an order among tones.
func tone(tones []Tone, order int) float64 {
	for _, t := range tones {
		if t.Order == order {
			return t.Peak
		}
	}
	return 0
}

// hottest returns the position that carries most.
func (f *Figures) hottest() Device {
	return slices.MaxFunc(f.Devices, func(a, b Device) int { return cmp.Compare(a.Current, b.Current) })
}

// degrees returns an angle in degrees from 0 to 360.
func degrees(rad float64) float64 {
	return math.Mod(rad*180/math.Pi+360, 360)
}
