package published

import (
	"fmt"
	"math"

	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/duty"
	"sextant/motor/envelope"
	"sextant/motor/pair"
)

func machines() []Check {
	w := 4 * 3000 * rpm
	i := motor.DQ{Q: 120}
	v := round.Voltage(i, w)
	size := math.Hypot(v.D, v.Q)
	factor := (v.D*i.D + v.Q*i.Q) / (size * 120)
	best := func(size float64) motor.DQ { return salient.MostTorquePerAmpere(size) }
	star := motor.Machine{Resistance: 0.3, InductanceD: 3e-3, InductanceQ: 3e-3, FluxLinkage: 0.1, Connection: motor.Delta}.Star()
	return []Check{
		{Quantity: "psi 0.08 Wb, p = 4, 3000 rpm: line EMF, rms", Unit: "V", Figure: "123.125", Basis: Formula, Source: krishnan, ours: known(round.Voltage(motor.DQ{}, w).Q * math.Sqrt(1.5))},
		{Quantity: "voltage for iq = 120 A, peak", Unit: "V", Figure: "107.258", Basis: Formula, Source: krishnan, ours: known(size)},
		{Quantity: "its lead on the d axis", Unit: "deg", Figure: "106.331", Basis: Formula, Source: krishnan, ours: known(math.Atan2(v.Q, v.D) * 180 / math.Pi)},
		{Quantity: "power factor", Figure: "0.959654", Basis: Formula, Source: krishnan, ours: known(factor)},
		{Quantity: "torque", Unit: "N m", Figure: "57.600", Basis: Formula, Source: krishnan, ours: known(round.Torque(i))},
		{Quantity: "Lq = 2.5 Ld, 300 A: id of the most torque", Unit: "A", Figure: "-155.694", Basis: Formula, Source: morimoto, ours: known(best(300).D)},
		{Quantity: "that torque", Unit: "N m", Figure: "194.955", Basis: Formula, Source: morimoto, ours: known(salient.Torque(best(300)))},
		{Quantity: "delta of 0.1 Wb: linkage of its star", Unit: "Wb", Figure: "0.0577350", Basis: Formula, Source: circuit, ours: known(star.FluxLinkage)},
	}
}

// limitsOf is a machine on 350 V and 300 A with all that a space vector gives.
func limitsOf(m motor.Machine) *pair.Pair {
	return &pair.Pair{Machine: m, Supply: 350, Current: 300, Modulation: pattern.SpaceVector.Linear(), Pattern: pattern.SpaceVector, Carrier: 10e3}
}

func limits() []Check {
	most := func(m motor.Machine, speed float64, of func(pair.State) float64) func() (float64, error) {
		return func() (float64, error) {
			s, _, ok := limitsOf(m).Most(speed * rpm)
			if !ok {
				return 0, fmt.Errorf("no torque at %g rpm", speed)
			}
			return of(s), nil
		}
	}
	torque := func(s pair.State) float64 { return s.Torque }
	lossless := round
	lossless.Resistance = 0
	volts := limitsOf(salient).Limit().Voltage
	free := salient
	free.Resistance = 0
	return []Check{
		{Quantity: "350 V, 300 A, Lq = Ld: corner", Unit: "rpm", Figure: "4708.77", Basis: Formula, Source: krishnan, ours: known(envelope.MarksOf(limitsOf(round)).Corner / rpm)},
		{Quantity: "most torque at 6000 rpm", Unit: "N m", Figure: "131.646", Basis: Computed, Source: morimoto, ours: most(round, 6000, torque)},
		{Quantity: "top speed, R = 0", Unit: "rpm", Figure: "24120.6", Basis: Formula, Source: soong, ours: known(envelope.MarksOf(limitsOf(lossless)).Top / rpm)},
		{Quantity: "diodes feed the supply from", Unit: "rpm", Figure: "6030.16", Basis: Formula, Source: jahns, ours: known(envelope.MarksOf(limitsOf(round)).Generating / rpm)},
		{Quantity: "350 V, 300 A, Lq = 2.5 Ld: corner", Unit: "rpm", Figure: "3432.83", Basis: Formula, Source: morimoto, ours: known(envelope.MarksOf(limitsOf(salient)).Corner / rpm)},
		{Quantity: "most torque at 6000 rpm", Unit: "N m", Figure: "138.957", Basis: Computed, Source: morimoto, ours: most(salient, 6000, torque)},
		{Quantity: "its id", Unit: "A", Figure: "-262.074", Basis: Computed, Source: morimoto, ours: most(salient, 6000, func(s pair.State) float64 { return s.Current.D })},
		{Quantity: "350 V, R = 0: most torque at 12000 rpm", Unit: "N m", Figure: "100.468", Basis: Formula, Source: morimoto,
			ours: known(free.Torque(free.MostTorquePerVolt(volts, 4*12000*rpm)))},
	}
}

func vehicles() []Check {
	v := duty.Vehicle{Mass: 3600, Rolling: 0.02, DragArea: 2.6, AirDensity: 1.2}
	return []Check{
		{Quantity: "3600 kg, 10 m/s, c 0.02, 2.6 m2: force up 10 %", Unit: "N", Figure: "4371.45", Basis: Formula, Source: road, ours: known(v.Force(10, 0, 0.1))},
		{Quantity: "force down 10 %", Unit: "N", Figure: "-2654.30", Basis: Formula, Source: road, ours: known(v.Force(10, 0, -0.1))},
	}
}
