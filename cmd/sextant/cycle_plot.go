package main

import (
	"fmt"
	"math"

	"sextant/motor/duty"
	"sextant/render/plots"
)

// figure returns the picture of the cycle.
func (r *cycle) figure() *plots.Course {
	f := &plots.Course{Title: r.title, Theme: r.plot.theme}
	steps := r.work.Steps
	for i := range steps {
		f.Time = append(f.Time, (steps[i].Asked.From+steps[i].Asked.To)/2)
	}
	if len(f.Time) == 1 { // a picture takes two points
		f.Time = []float64{steps[0].Asked.From, steps[0].Asked.To}
	}
	plain := func(of func(int) float64) []plots.CourseCurve {
		return []plots.CourseCurve{{Values: r.values(f, of)}}
	}
	each := func(of func(*duty.Moment) float64) (curves []plots.CourseCurve) {
		for k := range r.accounts {
			curves = append(curves, plots.CourseCurve{
				Name: r.devices[k].short(), Rank: k + 1,
				Values: r.values(f, func(i int) float64 { return of(&r.accounts[k].Moments[i]) }),
			})
		}
		return curves
	}
	rows := r.cycle.Rows
	if r.cycle.Road {
		const kmh = 3.6
		f.Panels = append(f.Panels,
			plots.CoursePanel{Caption: "Road speed", Unit: "km/h", Weight: 0.7, Zero: true, Curves: plain(func(i int) float64 { return kmh * (rows[i].Speed + rows[i+1].Speed) / 2 })},
			plots.CoursePanel{Caption: "Grade", Unit: "%", Weight: 0.6, Zero: true, Curves: plain(func(i int) float64 { return 100 * (rows[i].Grade + rows[i+1].Grade) / 2 })})
	} else {
		f.Panels = append(f.Panels, plots.CoursePanel{Caption: "Speed", Unit: "rpm", Weight: 0.7, Zero: true, Curves: plain(func(i int) float64 { return steps[i].Done.Speed * 30 / math.Pi })})
	}
	f.Panels = append(f.Panels,
		plots.CoursePanel{Caption: "Torque of the machine", Unit: "N m", Weight: 0.8, Zero: true, Curves: plain(func(i int) float64 { return steps[i].Done.Torque })},
		plots.CoursePanel{Caption: "Power to the shaft", Unit: "W", Weight: 0.8, Zero: true, Curves: plain(func(i int) float64 { return steps[i].Done.Shaft() })},
		plots.CoursePanel{Caption: "Heat of the bridge", Unit: "W", Weight: 1.1, Zero: true, Curves: each(func(m *duty.Moment) float64 { return m.Bridge })},
		plots.CoursePanel{Caption: "Hottest junction, mean over a turn", Unit: "°C", Weight: 1, Curves: each(func(m *duty.Moment) float64 { return max(m.Channel, m.Diode) })})
	if r.battery.Capacity > 0 {
		f.Panels = append(f.Panels, plots.CoursePanel{Caption: "Charge of the battery", Unit: "%", Weight: 0.8, Curves: each(func(m *duty.Moment) float64 { return 100 * m.Charge })})
	}
	seconds := r.cycle.Duration()
	for k := range r.accounts {
		a := &r.accounts[k]
		f.Bars = append(f.Bars, plots.LossBar{
			Name: r.devices[k].short(),
			Note: fmt.Sprintf("net %s", wattHours(a.Net())),
			Parts: []plots.LossPart{
				{Name: "switch", Watts: a.Conduction / seconds},
				{Name: "diode", Watts: a.Diode / seconds},
				{Name: "turn-on", Watts: a.TurnOn / seconds},
				{Name: "turn-off", Watts: a.TurnOff / seconds},
				{Name: "recovery", Watts: a.Recovery / seconds},
			},
		})
	}
	f.About = []string{"Mean over the cycle: heat of all six positions", r.saving()}
	return f
}

// values returns what is to be drawn for each time.
func (r *cycle) values(f *plots.Course, of func(int) float64) []float64 {
	xs := make([]float64, len(f.Time))
	for i := range xs {
		xs[i] = of(min(i, len(r.work.Steps)-1))
	}
	return xs
}

// saving says in half a line what the most sparing device saves against the first.
func (r *cycle) saving() string {
	best := 0
	for k := range r.accounts {
		if r.accounts[k].Net() < r.accounts[best].Net() {
			best = k
		}
	}
	switch {
	case len(r.accounts) == 1:
		return "junctions start at the sink's temperature"
	case best == 0:
		return fmt.Sprintf("nothing saves against %s", r.devices[0].short())
	}
	p, _, known := r.payback(best)
	text := fmt.Sprintf("%s saves %s", r.devices[best].short(), wattHours(p.Saved))
	if known && p.Ever && p.Cycles > 0 {
		text += fmt.Sprintf(", earned after %s cycles", count(p.Cycles))
	}
	return text
}
