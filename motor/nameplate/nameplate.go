// Package nameplate turns what a nameplate, a data sheet or a meter at three leads says of a permanent-magnet
// machine into the parameters that package motor calculates with.
//
// Leads do not tell a star from a delta, so that all is of the star that they cannot tell from the machine.
// Between two leads lie two of its phases in series: resistances and inductances are twice a phase's.
package nameplate

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"sextant/motor"
)

// A Plate is what is known of a machine at its leads. What is not known is zero.
type Plate struct {
	PolePairs  int
	Resistance float64 // between two leads, Ω, at the temperature that the machine will have
	// Least and Most are the inductance between two leads, H, as the rotor is turned: twice the d axis's and
	// twice the q axis's. Where it does not change they are equal.
	Least, Most float64
	EMF         float64 // V for each rad/s of the shaft, counted as Of
	Of          Voltage
	Torque      float64 // N m for each A of a lead, counted as Per
	Per         Current
	Shape       motor.EMF
}

// A Voltage is how a sheet counts the EMF. It prints as flags have it.
type Voltage uint8

// The ways to count: between two leads or from lead to star point, rms or peak. A meter shows the first.
const (
	LineRMS Voltage = iota
	LinePeak
	PhaseRMS
	PhasePeak
)

// A Current is how a sheet counts the current of a torque constant. It prints as flags have it.
type Current uint8

// The ways to count: rms, as a clamp shows it, or peak, which for a trapezoidal machine is the direct current that
// two of its leads carry.
const (
	RMS Current = iota
	Peak
)

var (
	voltageNames = []string{"line-rms", "line-peak", "phase-rms", "phase-peak"}
	currentNames = []string{"rms", "peak"}
)

// String returns the name.
func (v Voltage) String() string { return voltageNames[v] }

// String returns the name.
func (c Current) String() string { return currentNames[c] }

// Voltages lists the names of the ways to count a voltage.
func Voltages() []string { return voltageNames }

// Currents lists the names of the ways to count a current.
func Currents() []string { return currentNames }

// MarshalText returns the name.
func (v Voltage) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// MarshalText returns the name.
func (c Current) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads the name and refuses all else.
func (v *Voltage) UnmarshalText(text []byte) error { return find(v, voltageNames, string(text)) }

// UnmarshalText reads the name and refuses all else.
func (c *Current) UnmarshalText(text []byte) error { return find(c, currentNames, string(text)) }

// find puts the index of text among names at at, where it is one of them.
func find[T ~uint8](at *T, names []string, text string) error {
	i := slices.Index(names, text)
	if i < 0 {
		return fmt.Errorf("%q is not a way to count it; allowed are %s", text, strings.Join(names, ", "))
	}
	*at = T(i)
	return nil
}

// peaks returns what a voltage counted as v is, for a phase's peak of 1.
//
// Two sines 120 degrees apart differ by a sine √3 as high. Two trapezoids with tops of 120 degrees differ by one
// twice as high, its top 60 degrees and its flanks 60 degrees each; the mean square of a flank is a third of its
// end's square.
func (v Voltage) peaks(shape motor.EMF) float64 {
	if shape == motor.Trapezoid {
		return [...]float64{2 * math.Sqrt(5.0/9), 2, math.Sqrt(7.0 / 9), 1}[v]
	}
	return [...]float64{math.Sqrt(1.5), math.Sqrt(3), math.Sqrt(0.5), 1}[v]
}

// perPeak returns the torque for an ampere counted as c, over pole pairs times flux linkage: of a sine
// T = 3/2 p ψ î; of a trapezoid, two of whose phases carry i at the top of their EMF, T = 2 p ψ i, and the
// rms of such a current, of 120 degrees each way, is √(2/3) of its top.
//
// Krishnan, Permanent Magnet Synchronous and Brushless DC Motor Drives (CRC, 2010), ch. 3 and 9.
func (c Current) perPeak(shape motor.EMF) float64 {
	if shape == motor.Trapezoid {
		return [...]float64{2 * math.Sqrt(1.5), 2}[c]
	}
	return [...]float64{1.5 * math.Sqrt2, 1.5}[c]
}

// ByEMF returns the flux linkage that the EMF tells, in Wb, peak of a phase; 0 where it is not known.
func (p Plate) ByEMF() float64 {
	return p.EMF / p.Of.peaks(p.Shape) / float64(p.PolePairs)
}

// ByTorque returns the flux linkage that the torque constant tells, in Wb; 0 where it is not known.
func (p Plate) ByTorque() float64 {
	return p.Torque / p.Per.perPeak(p.Shape) / float64(p.PolePairs)
}

// Flux returns the flux linkage in Wb: by the EMF, which a meter can check, or else by the torque constant.
func (p Plate) Flux() float64 {
	if p.EMF != 0 {
		return p.ByEMF()
	}
	return p.ByTorque()
}

// Machine returns the machine's parameters, as a star. Its errors say what is missing, and what to give.
func (p Plate) Machine() (motor.Machine, error) {
	var missing []error
	need := func(ok bool, what string) {
		if !ok {
			missing = append(missing, errors.New(what))
		}
	}
	need(p.PolePairs > 0, "pole pairs are missing; half the poles, or 60 times the frequency over the speed in rpm")
	need(p.Resistance > 0, "the resistance between two leads is missing")
	need(p.Least > 0 && p.Most > 0, "the inductance between two leads is missing")
	need(p.EMF > 0 || p.Torque > 0, "the EMF constant is missing, and no torque constant stands for it")
	if len(missing) > 0 {
		return motor.Machine{}, errors.Join(missing...)
	}
	return motor.Machine{
		PolePairs: p.PolePairs, Resistance: p.Resistance / 2,
		InductanceD: p.Least / 2, InductanceQ: p.Most / 2,
		FluxLinkage: p.Flux(), EMF: p.Shape,
	}, nil
}

// alike is to what part two figures of one machine agree: sheets give them with tolerances of 5 to 10 % (common
// practice).
const alike = 0.1

// Doubt says where EMF and torque constant do not belong to one machine, and which way of counting would make them;
// it is empty where they agree or but one is known.
func (p Plate) Doubt() string {
	if p.EMF == 0 || p.Torque == 0 {
		return ""
	}
	ratio := p.ByTorque() / p.ByEMF()
	if math.Abs(math.Log(ratio)) < alike {
		return ""
	}
	text := fmt.Sprintf("the torque constant makes the flux linkage %.2f times what the EMF makes it", ratio)
	var would []string
	consider := func(q Plate, how string) {
		if math.Abs(math.Log(q.ByTorque()/q.ByEMF())) < alike/2 {
			would = append(would, how)
		}
	}
	for of := range Voltage(len(voltageNames)) {
		q := p
		q.Of = of
		consider(q, fmt.Sprintf("the EMF counted as %v", of))
	}
	for per := range Current(len(currentNames)) {
		q := p
		q.Per = per
		consider(q, fmt.Sprintf("the current counted as %v", per))
	}
	if would != nil {
		return text + "; they would agree with " + strings.Join(would, ", or with ")
	}
	return text + "; see in which units the sheet has them, and how many poles there are"
}
