package published

import (
	"errors"
	"math"

	"sextant/inverter"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/signature"
	"sextant/motor/fault/symptom"
)

func faults() []Check {
	open := onCoils(350, 0.5, 2e-3, 100, 30, drive.Fault{Kind: drive.SwitchOpen, Switch: inverter.UHigh})
	lost := onCoils(350, 0.5, 2e-3, 100, 30, drive.Fault{Kind: drive.PhaseOpen, Phase: inverter.W})
	angle := func(s *drive.Summary) float64 {
		v, _ := inverter.ABC{s.Phases[0].CurrentMean, s.Phases[1].CurrentMean, s.Phases[2].CurrentMean}.Clarke()
		return math.Mod(v.Angle()*180/math.Pi+360, 360)
	}
	const coarse = "the stepped circuit's own error"
	return []Check{
		{Quantity: "U+ open, six-step on coils: mean of U", Unit: "A", Figure: "-92.396", Basis: Computed, Source: mendes, Within: 2e-3, Because: coarse, ours: open.of(mean)},
		{Quantity: "rms of U", Unit: "A", Figure: "124.99", Basis: Computed, Source: mendes, Within: 2e-3, Because: coarse, ours: open.of(rms)},
		{Quantity: "mean over fundamental", Figure: "0.791", Basis: Computed, Source: rothenhagen, Within: 2e-3, Because: coarse,
			ours: open.of(func(s *drive.Summary) float64 { return -mean(s) / firstPeak(s) })},
		{Quantity: "angle of the mean currents", Unit: "deg", Figure: "180.0", Basis: Formula, Source: rothenhagen, ours: open.of(angle)},
		{Quantity: "W open: fundamental of U, peak", Unit: "A", Figure: "142.678", Basis: Formula, Source: circuit, ours: lost.of(firstPeak)},
		{Quantity: "recordings: negative sequence, one phase open", Figure: "1.000", Basis: Formula, Source: mendes, ours: onePhaseLost},
		{Quantity: "mean absolute value of a sine, normalised", Figure: "0.5198", Basis: Printed, Source: estima, ours: meanAbsolute},
		{Quantity: "meter, U to V: star of 0.3 ohm", Unit: "ohm", Figure: "0.600", Basis: Formula, Source: circuit, ours: known(ohms(motor.Star))},
		{Quantity: "delta of 0.3 ohm", Unit: "ohm", Figure: "0.200", Basis: Formula, Source: circuit, ours: known(ohms(motor.Delta))},
	}
}

// ohms returns what a meter reads between two leads of windings of 0.3 Ω, taken off a healthy inverter.
func ohms(c motor.Connection) float64 {
	s := drive.Scenario{Machine: motor.Machine{Resistance: 0.3, Connection: c}}
	if x := symptom.MeterOf(&s, drive.Fault{Kind: drive.SupplySag}).PhaseToPhase[0].Ohms; x != nil {
		return *x
	}
	return math.Inf(1)
}

// recorded is a recording of ten turns of 50 Hz, 200 samples each.
func recorded(i func(theta float64) inverter.ABC) (signature.Signature, error) {
	var c capture.Capture
	for k := range 2001 {
		t := float64(k) / 200 / 50
		c.Time = append(c.Time, t)
		c.Current = append(c.Current, i(2*math.Pi*50*t))
	}
	return signature.Of(&c, 50)
}

func onePhaseLost() (float64, error) {
	s, err := recorded(func(theta float64) inverter.ABC { return inverter.ABC{10 * math.Cos(theta), -10 * math.Cos(theta), 0} })
	return s.Negative(), err
}

func meanAbsolute() (float64, error) {
	s, err := recorded(func(theta float64) inverter.ABC { return balanced(10, theta) })
	if err == nil && math.Abs(s.Normal[0]-s.Normal[1]) > 1e-3 {
		return 0, errors.New("phases of one size read unlike")
	}
	return s.Normal[0], err
}
