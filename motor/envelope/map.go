package envelope

import (
	"sextant/inverter/cores"
	"sextant/inverter/loss"
	"sextant/motor/pair"
)

// Heat returns what a bridge turns to heat at an operating point, in W.
type Heat func(loss.Point) (float64, error)

// Ideal is the heat of a bridge of ideal switches: none.
func Ideal(loss.Point) (float64, error) { return 0, nil }

// A Cell is a steady state with the power that it takes.
type Cell struct {
	pair.State
	Bridge float64 // heat, W
}

// Link returns the power that the bridge takes from its supply in W, negative where it feeds it.
func (c *Cell) Link() float64 { return c.Terminals() + c.Bridge }

// Efficiency returns the part of the power put in that comes out, from supply to shaft or from shaft to supply;
// 0 where nothing does.
func (c *Cell) Efficiency() float64 {
	shaft, link := c.Shaft(), c.Link()
	switch {
	case shaft > 0 && link > 0:
		return shaft / link
	case shaft < 0 && link < 0:
		return link / shaft
	}
	return 0
}

// A Map is cells between the limits of torque: a column for each speed, in it a row for each torque from the
// braking limit to the motoring one, evenly on either side of no torque at all. So it has no ragged edge.
type Map struct {
	Edges []Edge   // by speed
	Cells [][]Cell // by speed, then torque
}

// MapOf returns the map of p at so many torques on either side of none, with the heat of a bridge. All cores
// work on it; heat must allow that. An error is heat's, of the first speed that it fails at.
func MapOf(p *pair.Pair, speeds []float64, torques int, heat Heat) (Map, error) {
	m := Map{Edges: make([]Edge, len(speeds)), Cells: make([][]Cell, len(speeds))}
	err := cores.Each(len(speeds), func(k int) (err error) {
		m.Edges[k] = EdgeAt(p, speeds[k])
		m.Cells[k], err = column(p, m.Edges[k], torques, heat)
		return err
	})
	if err != nil {
		return Map{}, err
	}
	return m, nil
}

// column returns the cells between the limits at one speed.
func column(p *pair.Pair, e Edge, torques int, heat Heat) ([]Cell, error) {
	cells := make([]Cell, 2*torques+1)
	for k := range cells {
		c := &cells[k]
		switch share := float64(k-torques) / float64(torques); share {
		case -1:
			c.State = e.Braking
		case 1:
			c.State = e.Motoring
		default:
			limit := e.Motoring
			if share < 0 {
				limit = e.Braking
			}
			var ok bool
			if c.State, ok = p.Making(limit.Torque*max(share, -share), limit.Speed); !ok {
				c.State = limit // as near to the edge as rounding allows
			}
		}
		var err error
		if c.Bridge, err = heat(p.Asks(&c.State)); err != nil {
			return nil, err
		}
	}
	return cells, nil
}
