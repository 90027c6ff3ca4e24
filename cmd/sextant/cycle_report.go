package main

import (
	"fmt"
	"math"
	"strconv"

	"sextant/inverter/device"
	"sextant/inverter/si"
	"sextant/motor/duty"
)

// cycleReport is what --json prints.
type cycleReport struct {
	Cycle    string        `json:"cycle"`
	Title    string        `json:"title"`
	Rows     int           `json:"rows"`
	Duration float64       `json:"duration_s"`
	Distance *float64      `json:"distance_m,omitempty"` // of a road
	Supply   float64       `json:"supply_v"`
	Carrier  float64       `json:"carrier_hz"`
	Machine  cycleMachine  `json:"machine"`
	Battery  *cycleBattery `json:"battery,omitempty"`
	Devices  []cycleDevice `json:"devices"`
	Notices  []string      `json:"notices"`
}

type cycleMachine struct {
	Motoring   float64 `json:"motoring_j"`
	Braking    float64 `json:"braking_j"`
	Copper     float64 `json:"copper_j"`
	Drag       float64 `json:"drag_j"`
	Missing    float64 `json:"missing_j"`
	Friction   float64 `json:"friction_brake_j"`
	MostSpeed  float64 `json:"speed_most_rpm"`
	MostTorque float64 `json:"torque_most_nm"`
	Least      float64 `json:"torque_least_nm"`
	Current    float64 `json:"current_most_a"`
}

type cycleBattery struct {
	Capacity float64 `json:"capacity_j"`
	Charge   float64 `json:"charge_start_percent"`
	Limit    float64 `json:"charge_limit_w"` // 0 is none
}

type cycleDevice struct {
	Device     string            `json:"device"`
	Name       string            `json:"name"`
	Technology device.Technology `json:"technology"`
	Drawn      float64           `json:"drawn_j"`
	Returned   float64           `json:"returned_j"`
	Refused    float64           `json:"refused_j"`
	Short      float64           `json:"short_j"`
	Net        float64           `json:"net_j"`
	Bridge     float64           `json:"bridge_j"`
	Switch     cycleSwitch       `json:"switch"`
	Diode      cycleDiode        `json:"diode"`
	Charge     *float64          `json:"charge_end_percent"`
	Price      *float64          `json:"price"`
	Saved      float64           `json:"saved_j"` // against the first device
	Payback    *cyclePayback     `json:"payback"` // null where a price is not known
}

type cycleSwitch struct {
	Conduction float64 `json:"conduction_j"`
	TurnOn     float64 `json:"turn_on_j"`
	TurnOff    float64 `json:"turn_off_j"`
	Junction   float64 `json:"junction_most_c"`
}

type cycleDiode struct {
	Conduction float64 `json:"conduction_j"`
	Recovery   float64 `json:"recovery_j"`
	Junction   float64 `json:"junction_most_c"`
}

type cyclePayback struct {
	Dearer float64  `json:"dearer"`
	Gain   float64  `json:"gain_per_cycle"`
	Cycles *float64 `json:"cycles"` // null if never
}

// payback compares a device with the first, where the prices are known.
func (r *cycle) payback(k int) (duty.Payback, float64, bool) {
	dearer, ok := r.prices.dearer(k)
	p := duty.PaybackOf(&r.accounts[0], &r.accounts[k], duty.Prices{Energy: r.prices.energy, Device: dearer})
	return p, dearer, ok && r.prices.energy > 0
}

func (r *cycle) report() cycleReport {
	w := &r.work
	rep := cycleReport{
		Cycle: r.file, Title: r.title, Rows: r.read, Duration: r.cycle.Duration(),
		Supply: r.pair.Supply, Carrier: r.pair.Carrier, Notices: append([]string{}, r.notices()...),
		Machine: cycleMachine{Motoring: w.Motoring, Braking: w.Braking, Copper: w.Copper, Drag: w.Drag, Missing: w.Missing, Friction: w.Friction},
	}
	m := &rep.Machine
	for _, s := range w.Steps {
		m.MostSpeed = max(m.MostSpeed, math.Abs(s.Done.Speed)*30/math.Pi)
		m.MostTorque, m.Least = max(m.MostTorque, s.Done.Torque), min(m.Least, s.Done.Torque)
		m.Current = max(m.Current, math.Hypot(s.Done.Current.D, s.Done.Current.Q))
	}
	if r.cycle.Road {
		way := r.distance()
		rep.Distance = &way
	}
	if b := r.battery; b.Capacity > 0 {
		rep.Battery = &cycleBattery{b.Capacity, 100 * b.Charge, b.ChargeLimit}
	}
	for k := range r.accounts {
		a := &r.accounts[k]
		d := cycleDevice{
			Device: r.devices[k].asked, Name: a.Device.Name, Technology: a.Device.Technology,
			Drawn: a.Drawn, Returned: a.Returned, Refused: a.Refused, Short: a.Short, Net: a.Net(), Bridge: a.Bridge(),
			Switch: cycleSwitch{a.Conduction, a.TurnOn, a.TurnOff, a.ChannelPeak},
			Diode:  cycleDiode{a.Diode, a.Recovery, a.DiodePeak},
		}
		if r.battery.Capacity > 0 {
			full := 100 * a.Charge
			d.Charge = &full
		}
		if price := r.prices.of[k]; price > 0 {
			d.Price = &price
		}
		if p, dearer, ok := r.payback(k); k > 0 {
			d.Saved = p.Saved
			if ok {
				d.Payback = &cyclePayback{Dearer: dearer, Gain: p.Gain}
				if p.Ever {
					d.Payback.Cycles = &p.Cycles
				}
			}
		}
		rep.Devices = append(rep.Devices, d)
	}
	return rep
}

// notices says what makes the figures doubtful, or the cycle more than the drive can do.
func (r *cycle) notices() (list []string) {
	say := func(sure bool, format string, args ...any) {
		if sure {
			list = append(list, fmt.Sprintf(format, args...))
		}
	}
	w, whole := &r.work, minutes(r.cycle.Duration())
	limited, lost, first, fast := 0.0, 0.0, 0.0, 0.0
	for _, s := range w.Steps {
		if s.Limited && limited == 0 {
			first = s.Asked.From
		}
		if s.Limited {
			limited += s.Seconds()
		}
		if s.Lost {
			lost += s.Seconds()
		}
		fast = max(fast, math.Abs(s.Asked.Speed))
	}
	say(w.Missing > 0, "the drive cannot do all that is asked: %s of it is missing; limits hold for %s of %s, first at %.6g s", wattHours(w.Missing), minutes(limited), whole, first)
	say(w.Friction > 0, "the machine cannot brake all that is asked: friction brakes take %s", wattHours(w.Friction))
	say(lost > 0, "for %s of %s the machine turns too fast for the voltage to hold any current; none is counted there", minutes(lost), whole)
	star := r.pair.Machine.Star()
	generating := star.GeneratingSpeed(r.pair.Supply, 0) / float64(star.PolePairs)
	say(fast > generating, "the EMF exceeds the supply above %.5g rpm, and the cycle goes to %.5g rpm: with its gates off the machine charges the link by itself", generating*30/math.Pi, fast*30/math.Pi)
	most := 0.0
	for _, s := range w.Steps {
		most = max(most, math.Hypot(s.Done.Current.D, s.Done.Current.Q))
	}
	slow := 0.0
	for _, s := range w.Steps {
		i, hz := math.Hypot(s.Done.Current.D, s.Done.Current.Q), math.Abs(s.Done.Speed)*float64(star.PolePairs)/(2*math.Pi)
		if i > most/2 && hz < slowest {
			slow += s.Seconds()
		}
	}
	say(slow > 0, "for %s of %s much current turns slower than %g Hz: there some junctions get hotter than the mean over a turn, which is what is given", minutes(slow), whole, slowest)
	for k := range r.accounts {
		a, name := &r.accounts[k], r.devices[k].short()
		hot := max(a.ChannelPeak, a.DiodePeak)
		say(hot > a.Device.Heat.Limit, "%s: a junction's %.0f C is above its limit of %s", name, hot, si.Temperature.Text(a.Device.Heat.Limit))
		say(hot > a.Device.Hottest(), "%s: a junction's %.0f C is beyond the data, which are held at %s", name, hot, si.Temperature.Text(a.Device.Hottest()))
		say(most > a.Device.Current, "%s: the current's peak of %.4g A is above the rated %s", name, most, si.Current.Text(a.Device.Current))
		say(r.pair.Supply > a.Device.Voltage, "%s: the supply of %s is above the rated %s", name, si.Voltage.Text(r.pair.Supply), si.Voltage.Text(a.Device.Voltage))
		say(a.Short > 0, "%s: the battery runs empty; %s are asked of it after that", name, wattHours(a.Short))
	}
	return list
}

// slowest is the frequency in Hz below which junctions swing by more than half of their mean rise: a period then
// is longer than the time constants of a chip (common practice).
const slowest = 5.0

// wattHours writes an energy in J as people count it.
func wattHours(joules float64) string {
	s := scaleFor(math.Abs(joules)/3600, "Wh", 4)
	return s.with(joules / 3600)
}

// cycleColumns is the first row of a file of intervals, before the columns of the devices.
const cycleColumns = "time_s,speed_rpm,torque_nm,asked_torque_nm,id_a,iq_a,voltage_v,shaft_w,copper_w,drag_w"

func appendNumber(b []byte, x float64) []byte {
	return strconv.AppendFloat(append(b, ','), x, 'g', -1, 64)
}
