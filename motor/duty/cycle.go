package duty

import "math"

// A Row is what is asked for at a time, in s: a machine's speed (mechanical, rad/s) and torque (N m); or a
// vehicle's speed (m/s) and the road's grade (rise over run).
type Row struct{ Time, Speed, Torque, Grade float64 }

// A Cycle is rows by rising time, two at least.
type Cycle struct {
	Road bool // rows are a vehicle's
	Rows []Row
}

// Duration returns the time from first to last row in s.
func (c *Cycle) Duration() float64 { return c.Rows[len(c.Rows)-1].Time - c.Rows[0].Time }

// A Demand is what an interval between two rows asks of the machine.
type Demand struct {
	From, To float64 // s
	Speed    float64 // mechanical, rad/s
	Torque   float64 // N m
}

// Demands returns what c asks of the machine, with v around it if c is of a road.
func (c *Cycle) Demands(v *Vehicle) []Demand {
	ds := make([]Demand, 0, len(c.Rows)-1)
	for i, b := range c.Rows[1:] {
		a := c.Rows[i]
		d := Demand{From: a.Time, To: b.Time, Speed: (a.Speed + b.Speed) / 2, Torque: (a.Torque + b.Torque) / 2}
		if c.Road {
			d.Speed, d.Torque = v.machine(d.Speed, (b.Speed-a.Speed)/(b.Time-a.Time), (a.Grade+b.Grade)/2)
		}
		ds = append(ds, d)
	}
	return ds
}

const (
	// coarse is the part of its greatest by which speed, torque or grade may change from row to row, to be worked
	// at the middle.
	coarse = 0.05
	// longest is the part of a cycle that may lie between rows, for how warm devices get in it to be seen.
	longest = 0.02
)

// Refined returns c with rows between those that lie far apart, along the straight lines from one to the next:
// worked at its middle, a long ramp from rest would ask for but three quarters of its energy.
func (c *Cycle) Refined() Cycle {
	most := Row{}
	for _, r := range c.Rows {
		most.Speed, most.Torque, most.Grade = max(most.Speed, math.Abs(r.Speed)), max(most.Torque, math.Abs(r.Torque)), max(most.Grade, math.Abs(r.Grade))
	}
	fine := Cycle{Road: c.Road, Rows: []Row{c.Rows[0]}}
	for i, b := range c.Rows[1:] {
		a := c.Rows[i]
		part := func(from, to, most float64) float64 {
			if most == 0 {
				return 0
			}
			return math.Abs(to-from) / most
		}
		changes := max(part(a.Speed, b.Speed, most.Speed), part(a.Torque, b.Torque, most.Torque), part(a.Grade, b.Grade, most.Grade))
		n := math.Ceil(max(changes/coarse, (b.Time-a.Time)/(longest*c.Duration())) - 1e-9)
		for k := 1.0; k < n; k++ {
			x := k / n
			r := Row{a.Time + x*(b.Time-a.Time), a.Speed + x*(b.Speed-a.Speed), a.Torque + x*(b.Torque-a.Torque), a.Grade + x*(b.Grade-a.Grade)}
			if r.Time > fine.Rows[len(fine.Rows)-1].Time && r.Time < b.Time { // there are numbers between
				fine.Rows = append(fine.Rows, r)
			}
		}
		fine.Rows = append(fine.Rows, b)
	}
	return fine
}
