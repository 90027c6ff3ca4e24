package show

import (
	"fmt"
	"math"
	"slices"

	"sextant/inverter"
	"sextant/inverter/device"
	"sextant/inverter/loss"
	"sextant/inverter/pattern"
	"sextant/motor/drive"
	"sextant/render"
)

// heatEvery is how many of the spectator's seconds pass between two looks at the losses.
const heatEvery = 0.3

// A heating is what two devices, one technology beside the other, turn to heat at the drive's present
// operating point.
type heating struct {
	names  []string // of all devices
	chosen [2]int
	loaded map[int]device.Device

	results [2]loss.Result
	point   loss.Point
	doubt   string  // why there are no results, or what makes them doubtful
	known   bool    // there are results
	age     float64 // s since they were found
	edition int     // of the scenario then
}

// begin chooses two devices that suit a scenario: its own and another, where it names one.
func (h *heating) begin(sc *drive.Scenario) {
	volts := sc.Supply.Voltage
	h.names, h.loaded = device.Names(), map[int]device.Device{}
	pair := [2]string{"igbt-750", "sic-750"}
	switch {
	case volts <= 70:
		pair = [2]string{"mosfet-100", "igbt-750"}
	case volts > 550:
		pair = [2]string{"igbt-1200", "sic-1200"}
	}
	for k, name := range pair {
		h.chosen[k] = max(slices.Index(h.names, name), 0)
	}
	own := &sc.Switches
	if own.Device == nil {
		return
	}
	k := slices.Index(h.names, own.Use)
	if k < 0 { // a file
		k = len(h.names)
		h.names = append(h.names, own.Use)
	}
	if h.loaded[k] = *own.Device; k == h.chosen[1] {
		h.chosen[1] = h.chosen[0]
	}
	h.chosen[0] = k
}

// turn chooses the next device for one of the two.
func (h *heating) turn(which, step int) {
	n := len(h.names)
	h.chosen[which] = ((h.chosen[which]+step)%n + n) % n
	h.age = math.Inf(1)
}

// device returns one of the two.
func (h *heating) device(which int) (device.Device, error) {
	k := h.chosen[which]
	if d, ok := h.loaded[k]; ok {
		return d, nil
	}
	d, err := device.Open(h.names[k])
	if err == nil {
		h.loaded[k] = d
	}
	return d, err
}

// looksAtHeat reports whether the devices' heat is shown: where it is asked for, and in lessons on devices.
func (s *Show) looksAtHeat() bool {
	sc := s.drive.Scenario()
	return s.panel == Heat || s.panel == Lesson && sc.Switches.Device != nil
}

// warm works the losses out where they are looked at, some time after the last time or at once after a
// change.
func (s *Show) warm(wall float64) {
	h := &s.heating
	if h.age += wall; !s.looksAtHeat() || h.age < heatEvery && h.edition == s.edition {
		return
	}
	h.age, h.edition, s.changed = 0, s.edition, true
	h.known, h.doubt = false, ""
	sc, now := s.drive.Scenario(), s.drive.Now().Time
	at, ok := drive.OperatingOf(s.record(now-1.2*s.turn(), now), &sc)
	if !ok {
		h.doubt = "wait for a whole turn to pass"
		return
	}
	h.point = pointOf(&sc, &at)
	for k := range h.results {
		d, err := h.device(k)
		if err == nil {
			h.results[k], err = loss.Of(&d, h.point)
		}
		if err != nil {
			h.doubt = lower(sentence(err))
			return
		}
		if notices := h.results[k].Notices; len(notices) > 0 && h.doubt == "" {
			h.doubt = h.names[h.chosen[k]] + ": " + notices[0]
		}
	}
	h.known = true
	if len(s.FaultsNow()) > 0 {
		h.doubt = "something is broken, and these averages are of a sound drive"
	}
}

// pointOf returns a drive's operating point as the averages want it.
func pointOf(sc *drive.Scenario, at *drive.Operating) loss.Point {
	g := &sc.Gating
	p := loss.Point{
		Pattern: g.Kind, Supply: sc.Supply.Voltage, Current: at.Current, Lag: at.Lag, Frequency: at.Frequency,
		Carrier: g.Carrier, DeadTime: g.DeadTime, Duty: g.Duty, Angle: at.Angle, Sink: device.UsualSink,
	}
	if g.CarrierRatio > 0 {
		p.Carrier = g.CarrierRatio * math.Abs(g.Frequency)
	}
	if w := &sc.Switches; w.Device != nil {
		p.Sink, p.Fixed, p.Junction = w.Sink, w.Fixed, w.Junction
	}
	switch {
	case g.Kind.Compares() && g.Follow == drive.Clock:
		p.Modulation = g.Modulation
	case g.Kind.Compares():
		p.Modulation = min(2*at.Voltage/sc.Supply.Voltage, pattern.SixStepModulation)
	}
	return p
}

// warmth returns how warm the first device's six positions are, nil where that is not looked at.
func (s *Show) warmth() *render.Warmth {
	h := &s.heating
	if !s.looksAtHeat() || !h.known {
		return nil
	}
	d, err := h.device(0)
	if err != nil {
		return nil
	}
	w := render.Warmth{Sink: h.point.Sink, Limit: d.Heat.Limit}
	if math.IsInf(w.Limit, 0) {
		w.Limit = 175
	}
	for _, sw := range inverter.Switches {
		p := positionOf(&h.results[0], sw)
		w.Junction[sw] = max(p.SwitchJunction.Peak, p.DiodeJunction.Peak)
	}
	return &w
}

// positionOf returns what a switch's position does.
func positionOf(r *loss.Result, sw inverter.Switch) loss.Position {
	switch p, still := r.Standstill[sw]; {
	case still:
		return p
	case sw.High():
		return r.Upper
	default:
		return r.Lower
	}
}

// heatButtons returns the choice of the two devices, and what changes their losses most.
func (s *Show) heatButtons() [][]piece {
	sc := s.drive.Scenario()
	h := &s.heating
	return [][]piece{
		stepper(PreviousDeviceA, NextDeviceA, 2.6, "device A", h.names[h.chosen[0]]),
		stepper(PreviousDeviceB, NextDeviceB, 2.6, "device B", h.names[h.chosen[1]]),
		stepper(CarrierDown, CarrierUp, 2.4, "carrier", carrier(&sc.Gating)),
		{{wish: Dismiss, width: 2, text: "close"}},
	}
}

// summary returns one result's figures for the table beside the bars.
func (h *heating) summary(which int) []string {
	r := &h.results[which]
	var conduction, switching float64
	for _, sw := range inverter.Switches {
		p := positionOf(r, sw)
		conduction += p.Conduction + p.Diode
		switching += p.TurnOn + p.TurnOff + p.Recovery
	}
	efficiency := "-"
	if e, ok := r.Efficiency(); ok {
		efficiency = fmt.Sprintf("%.2f %%", 100*e)
	}
	junction := fmt.Sprintf("%.0f °C", r.Peak())
	if r.Settling.Runaway {
		junction = "runs away"
	}
	return []string{
		h.names[h.chosen[which]], watts(conduction), watts(switching), watts(conduction + switching), junction, efficiency,
	}
}

var summaryNames = []string{"device", "conduction", "switching", "bridge heat", "hottest", "efficiency"}

func watts(w float64) string { return fmt.Sprintf("%.0f W", w) }
