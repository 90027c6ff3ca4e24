package main

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"

	"sextant/inverter/si"
	"sextant/motor"
	"sextant/motor/envelope"
	"sextant/motor/pair"
)

// envelopeReport is what --json prints. A speed is null where there is none.
type envelopeReport struct {
	Title      string       `json:"title"`
	Supply     float64      `json:"supply_v"`
	Voltage    float64      `json:"voltage_limit_v"` // peak of a phase
	Current    float64      `json:"current_limit_a"`
	Corner     float64      `json:"corner_speed_rpm"`
	Top        *float64     `json:"top_speed_rpm"`
	Generating *float64     `json:"generating_speed_rpm"`
	Charact    float64      `json:"characteristic_current_a"`
	Best       bestReport   `json:"best"`
	Limits     []edgeReport `json:"limits"`
	Map        mapReport    `json:"map"`
	Notices    []string     `json:"notices"`
}

type bestReport struct {
	Efficiency float64 `json:"efficiency_percent"`
	Speed      float64 `json:"speed_rpm"`
	Torque     float64 `json:"torque_nm"`
}

type edgeReport struct {
	Speed    float64    `json:"speed_rpm"`
	Motoring sideReport `json:"motoring"`
	Braking  sideReport `json:"braking"`
}

type sideReport struct {
	Torque  float64      `json:"torque_nm"`
	Power   float64      `json:"shaft_power_w"`
	ID      float64      `json:"id_a"`
	IQ      float64      `json:"iq_a"`
	Voltage float64      `json:"voltage_v"`
	Bound   motor.Region `json:"bound"`
}

// mapReport has a row for each speed, in it a value for each torque.
type mapReport struct {
	Speed      []float64   `json:"speed_rpm"`
	Torque     [][]float64 `json:"torque_nm"`
	Efficiency [][]float64 `json:"efficiency_percent"`
	Copper     [][]float64 `json:"copper_w"`
	Drag       []float64   `json:"drag_w"` // by speed
	Bridge     [][]float64 `json:"bridge_w"`
}

func sideOf(s pair.State, bound motor.Region) sideReport {
	return sideReport{s.Torque, s.Shaft(), s.Current.D, s.Current.Q, math.Hypot(s.Voltage.D, s.Voltage.Q), bound}
}

// finite returns a speed in turns a minute, or nil where there is none.
func finiteRPM(speed float64) *float64 {
	if math.IsInf(speed, 0) || math.IsNaN(speed) {
		return nil
	}
	x := speed * 30 / math.Pi
	return &x
}

func (r *limits) report() envelopeReport {
	star := r.pair.Machine.Star()
	rep := envelopeReport{
		Title: r.title, Supply: r.pair.Supply, Voltage: r.pair.Limit().Voltage, Current: r.pair.Current,
		Corner: r.marks.Corner * 30 / math.Pi, Top: finiteRPM(r.marks.Top), Generating: finiteRPM(r.marks.Generating),
		Charact: star.CharacteristicCurrent(), Notices: append([]string{}, r.notices()...),
	}
	best := r.best()
	rep.Best = bestReport{100 * best.Efficiency(), best.Speed * 30 / math.Pi, best.Torque}
	for k, e := range r.found.Edges {
		rpm := e.Motoring.Speed * 30 / math.Pi
		rep.Limits = append(rep.Limits, edgeReport{rpm, sideOf(e.Motoring, e.MotoringBound), sideOf(e.Braking, e.BrakingBound)})
		m := &rep.Map
		m.Speed = append(m.Speed, rpm)
		m.Drag = append(m.Drag, r.found.Cells[k][0].Drag)
		var torque, efficiency, copper, bridge []float64
		for _, c := range r.found.Cells[k] {
			torque, efficiency = append(torque, c.Torque), append(efficiency, 100*c.Efficiency())
			copper, bridge = append(copper, c.Copper), append(bridge, c.Bridge)
		}
		m.Torque, m.Efficiency = append(m.Torque, torque), append(m.Efficiency, efficiency)
		m.Copper, m.Bridge = append(m.Copper, copper), append(m.Bridge, bridge)
	}
	return rep
}

// best returns the cell of the greatest efficiency.
func (r *limits) best() envelope.Cell {
	var best envelope.Cell
	for _, column := range r.found.Cells {
		for _, c := range column {
			if c.Efficiency() > best.Efficiency() {
				best = c
			}
		}
	}
	return best
}

// notices warns.
func (r *limits) notices() (list []string) {
	if r.marks.Generating < r.to {
		list = append(list, fmt.Sprintf("above %s the EMF exceeds the supply of %s: once the gates go off, the machine charges the link through the diodes, up to its EMF", rpmText(r.marks.Generating), si.Voltage.Text(r.pair.Supply)))
	}
	list = append(list, "speeds are what the voltage allows; how fast the rotor may turn, its magnets and bearings say: keep to the maker's limit")
	if d := r.of; d != nil {
		if emf := r.pair.Supply * r.to / r.marks.Generating; emf > d.Voltage {
			list = append(list, fmt.Sprintf("at %s the EMF's peak is %.4g V between two phases, above the device's rated %s: if the gates go off there, nothing protects it", rpmText(r.to), emf, si.Voltage.Text(d.Voltage)))
		}
		if r.pair.Supply > d.Voltage {
			list = append(list, fmt.Sprintf("the supply of %s is above the device's rated %s", si.Voltage.Text(r.pair.Supply), si.Voltage.Text(d.Voltage)))
		}
		if r.pair.Current > d.Current {
			list = append(list, fmt.Sprintf("the current's peak of %s is above the device's rated %s", si.Current.Text(r.pair.Current), si.Current.Text(d.Current)))
		}
	}
	if r.pair.Machine.EMF != motor.Sine {
		list = append(list, "the machine's EMF is a trapezoid; here it is taken to be a sine of the same peak")
	}
	if r.pair.Drag == 0 && r.pair.DragSlope == 0 {
		list = append(list, "iron and friction are not counted, so light loads look better than they are; --drag and --drag-slope count them")
	}
	star := r.pair.Machine.Star()
	fastest := r.to * float64(star.PolePairs) / (2 * math.Pi)
	if ratio := r.pair.Carrier / fastest; !r.ideal && ratio < 20 {
		list = append(list, fmt.Sprintf("there are only %.3g carrier periods a turn at the greatest speed; averages take many", ratio))
	}
	return list
}

// rows writes a row for each cell of the map.
func (r *limits) rows(out io.Writer) error {
	w := bufio.NewWriter(out)
	fmt.Fprintln(w, "speed_rpm,torque_nm,efficiency_percent,id_a,iq_a,voltage_v,shaft_w,copper_w,drag_w,bridge_w,link_w")
	var b []byte
	for _, column := range r.found.Cells {
		for i := range column {
			c := &column[i]
			b = strconv.AppendFloat(b[:0], c.Speed*30/math.Pi, 'g', -1, 64)
			for _, x := range []float64{
				c.Torque, 100 * c.Efficiency(), c.Current.D, c.Current.Q, math.Hypot(c.Voltage.D, c.Voltage.Q),
				c.Shaft(), c.Copper, c.Drag, c.Bridge, c.Link(),
			} {
				b = appendNumber(b, x)
			}
			if _, err := w.Write(append(b, '\n')); err != nil {
				return err
			}
		}
	}
	return w.Flush()
}

// described says what was worked, in lines for people.
func (r *limits) described() []string {
	p := &r.pair
	first := fmt.Sprintf("supply %s, at most %.5g V and %s peak of a phase, modulation %.5g", si.Voltage.Text(p.Supply), p.Limit().Voltage, si.Current.Text(p.Current), p.Modulation)
	if r.ideal {
		return []string{first, "bridge without losses"}
	}
	return []string{first, fmt.Sprintf("bridge of %s, junctions at %s, %v at %s, dead time %s", r.device, si.Temperature.Text(r.junction), p.Pattern, si.Frequency.Text(p.Carrier), si.Time.Text(p.DeadTime))}
}

// print prints the limits for people.
func (r *limits) print(w io.Writer) error {
	fmt.Fprintln(w, r.title)
	printDescription(w, r.described(), r.notices())
	star := r.pair.Machine.Star()
	corner := envelope.EdgeAt(&r.pair, r.marks.Corner).Motoring
	fmt.Fprintf(w, "\ncorner speed %s: %.5g N m, %s\n", rpmText(r.marks.Corner), corner.Torque, si.Power.Format(corner.Shaft(), 4))
	if math.IsInf(r.marks.Top, 0) {
		fmt.Fprintln(w, "top speed none: the current limit reaches the characteristic current")
	} else {
		fmt.Fprintf(w, "top speed %s\n", rpmText(r.marks.Top))
	}
	fmt.Fprintf(w, "characteristic current %.5g A\n", star.CharacteristicCurrent())
	if !math.IsInf(r.marks.Generating, 0) {
		fmt.Fprintf(w, "EMF exceeds the supply above %s\n", rpmText(r.marks.Generating))
	}
	const lines = 13
	var edges []envelope.Edge
	most := 0.0
	for k := range lines {
		e := envelope.EdgeAt(&r.pair, r.to*float64(k)/(lines-1))
		edges = append(edges, e)
		most = max(most, e.Motoring.Shaft(), -e.Braking.Shaft())
	}
	watts := scaleFor(most, "W", 4)
	rows := [][]string{nil, {"rpm", "N m", watts.unit, "id A", "iq A", "phase V", "bound by", "braking N m", watts.unit}}
	for _, e := range edges {
		m, b := &e.Motoring, &e.Braking
		rows = append(rows, []string{
			fixed(m.Speed*30/math.Pi, 0), fixed(m.Torque, 2), watts.of(m.Shaft()), fixed(m.Current.D, 1), fixed(m.Current.Q, 1),
			fixed(math.Hypot(m.Voltage.D, m.Voltage.Q), 1), boundWords[e.MotoringBound], fixed(b.Torque, 2), watts.of(b.Shaft()),
		})
	}
	return table(w, rows)
}

var boundWords = map[motor.Region]string{
	motor.TorquePerAmpere: "current", motor.FieldWeakening: "both", motor.TorquePerVolt: "voltage",
}
