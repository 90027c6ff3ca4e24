package main

import (
	"math"

	"sextant/motor/envelope"
	"sextant/render/plots"
)

// figure returns the picture of the envelope.
func (r *limits) figure() *plots.Envelope {
	f := &plots.Envelope{Title: r.title, Subtitle: r.described(), Theme: r.plot.theme}
	f.Marks = append(f.Marks, plots.SpeedMark{Speed: r.marks.Corner * 30 / math.Pi, Name: "corner " + rpmText(r.marks.Corner)})
	if !math.IsInf(r.marks.Generating, 0) {
		f.Marks = append(f.Marks, plots.SpeedMark{Speed: r.marks.Generating * 30 / math.Pi, Name: "EMF exceeds the supply above " + rpmText(r.marks.Generating), Warns: true})
	}
	motoring, braking := plots.DQLine{Name: "motoring"}, plots.DQLine{Name: "braking"}
	for _, i := range envelope.PerAmpere(&r.pair, 50) {
		motoring.D, motoring.Q = append(motoring.D, i.D), append(motoring.Q, i.Q)
		braking.D, braking.Q = append(braking.D, i.D), append(braking.Q, -i.Q)
	}
	for k, e := range r.found.Edges {
		f.Speed = append(f.Speed, e.Motoring.Speed*30/math.Pi)
		if e.Motoring.Torque > 0 {
			motoring.D, motoring.Q = append(motoring.D, e.Motoring.Current.D), append(motoring.Q, e.Motoring.Current.Q)
		}
		if e.Braking.Torque < 0 {
			braking.D, braking.Q = append(braking.D, e.Braking.Current.D), append(braking.Q, e.Braking.Current.Q)
		}
		var torque, efficiency []float64
		for _, c := range r.found.Cells[k] {
			torque, efficiency = append(torque, c.Torque), append(efficiency, 100*c.Efficiency())
		}
		f.Torque, f.Efficiency = append(f.Torque, torque), append(f.Efficiency, efficiency)
	}
	p := &f.Plane
	p.Limit, p.Courses = r.pair.Current, []plots.DQLine{motoring, braking}
	for _, share := range []float64{1, 1.4, 2} {
		speed := share * r.marks.Corner
		if speed > r.to {
			continue
		}
		l := plots.DQLine{Name: rpmText(math.Round(speed*30/math.Pi) * math.Pi / 30)}
		for _, i := range envelope.VoltageLimit(&r.pair, speed, 361) {
			l.D, l.Q = append(l.D, i.D), append(l.Q, i.Q)
		}
		p.Ellipses = append(p.Ellipses, l)
	}
	corner := envelope.EdgeAt(&r.pair, r.marks.Corner).Motoring.Current
	star := r.pair.Machine.Star()
	p.Marks = []plots.DQMarked{
		{Name: "most torque per ampere", D: corner.D, Q: corner.Q},
		{Name: "characteristic current", D: -star.CharacteristicCurrent()},
		{Name: "braking", D: corner.D, Q: -corner.Q},
	}
	return f
}
