package duty

import (
	"math"

	"sextant/inverter/cores"
	"sextant/inverter/device"
	"sextant/inverter/loss"
)

// A Moment is how a bridge stands at the end of a step.
type Moment struct {
	Bridge  float64 // mean heat of all six positions over the step, W
	Link    float64 // mean power from the link over the step, W
	Channel float64 // junction of the switch, °C
	Diode   float64 // junction of the diode, °C
	Charge  float64 // of the battery, of its capacity; 0 where that is without end
}

// An Account is what a cycle costs with a bridge of six such devices. Energies are in J, heats of all six.
type Account struct {
	Device  *device.Device
	Moments []Moment // by step

	Drawn    float64 // from the battery
	Returned float64 // to it
	Refused  float64 // not taken by it: to be burnt in a resistor at the link
	Short    float64 // of Drawn, asked of a battery that was empty

	Conduction, TurnOn, TurnOff float64 // heat of the switches
	Diode, Recovery             float64 // heat of the diodes

	ChannelPeak, DiodePeak float64 // °C, of the mean over a turn
	Charge                 float64 // of the battery at the end, of its capacity
}

// Bridge returns the heat of all six positions.
func (a *Account) Bridge() float64 {
	return a.Conduction + a.TurnOn + a.TurnOff + a.Diode + a.Recovery
}

// Net returns what the cycle takes from the battery in all.
func (a *Account) Net() float64 { return a.Drawn - a.Returned }

// AccountsOf returns an account for each device, whose bridge starts as warm as its sink (°C). Devices are
// worked at once. It fails as [loss.AverageOf] does.
func AccountsOf(w *Work, devices []device.Device, sink float64, b Battery) ([]Account, error) {
	accounts := make([]Account, len(devices))
	err := cores.Each(len(devices), func(k int) (err error) {
		accounts[k], err = accountOf(w, &devices[k], sink, b)
		return err
	})
	if err != nil {
		return nil, err
	}
	return accounts, nil
}

func accountOf(w *Work, d *device.Device, sink float64, b Battery) (Account, error) {
	a := Account{Device: d, Moments: make([]Moment, len(w.Steps)), ChannelPeak: sink, DiodePeak: sink}
	s := b.full()
	now, then := newWarmth(&d.Heat), newWarmth(&d.Heat)
	for k := range w.Steps {
		step := &w.Steps[k]
		dt := step.Seconds()
		of, err := loss.AverageOf(d, step.point)
		if err != nil {
			return a, err
		}
		heat := over(&of, &now, &then, sink, dt)
		now.copyFrom(&then)
		channel, diode := now.junctions()
		m := Moment{Bridge: 6 * heat.Sum(), Channel: sink + channel, Diode: sink + diode}
		m.Link = step.Done.Terminals() + m.Bridge
		s.pass(m.Link, dt)
		m.Charge = s.charge()
		a.Moments[k] = m
		a.Conduction += 6 * dt * heat.Conduction
		a.TurnOn += 6 * dt * heat.TurnOn
		a.TurnOff += 6 * dt * heat.TurnOff
		a.Diode += 6 * dt * heat.Diode
		a.Recovery += 6 * dt * heat.Recovery
		a.ChannelPeak, a.DiodePeak = max(a.ChannelPeak, m.Channel), max(a.DiodePeak, m.Diode)
	}
	a.Drawn, a.Returned, a.Refused, a.Short, a.Charge = s.drawn, s.returned, s.refused, s.short, s.charge()
	return a, nil
}

// indifferent is how far a junction's mean over a step may lie from where its losses were taken, in K: they
// change by some thousandths of themselves with a kelvin.
const indifferent = 0.5

// over returns the heat of a position over a step from now on, and leaves in then how warm it is at its end.
// The losses are those of the junctions halfway between their temperatures at both ends, to within indifferent.
func over(of *loss.Average, now, then *warmth, sink, dt float64) (heat loss.Losses) {
	channel, diode := now.junctions()
	midChannel, midDiode := channel, diode
	for range 20 { // once or twice, but for a junction that runs away
		heat = of.At(sink+midChannel, sink+midDiode)
		then.copyFrom(now)
		then.step(heat.Switch(), heat.Rectifier(), dt)
		endChannel, endDiode := then.junctions()
		meanChannel, meanDiode := (channel+endChannel)/2, (diode+endDiode)/2
		if math.Abs(meanChannel-midChannel) < indifferent && math.Abs(meanDiode-midDiode) < indifferent {
			break
		}
		midChannel, midDiode = meanChannel, meanDiode
	}
	return heat
}
