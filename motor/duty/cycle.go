package duty

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
