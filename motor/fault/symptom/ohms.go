package symptom

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"sextant/inverter"
	"sextant/motor"
	"sextant/motor/drive"
)

// A Resistance is what an ohmmeter reads between two of the motor's leads, taken off the inverter.
type Resistance struct {
	Between string   `json:"between"` // "U-V"
	Ohms    *float64 `json:"ohm"`     // nil is open
}

// A resistor joins two of the nodes of a circuit.
type resistor struct {
	a, b int
	ohms float64 // +Inf is open
}

// The nodes of a motor: where the meter touches its leads, the terminals behind them, and a star's neutral.
const (
	leadNode     = 0 // and the two after it
	terminalNode = 3
	neutralNode  = 6
	motorNodes   = 7
)

// phaseToPhase returns the readings U-V, V-W and W-U of a motor with fault f.
func phaseToPhase(m motor.Machine, f drive.Fault) []Resistance {
	var parts []resistor
	for _, k := range inverter.Phases {
		n, lead, winding := int(k), 0., m.Resistance
		if f.Phase == k {
			switch f.Kind {
			case drive.PhaseOpen:
				lead = math.Inf(1)
			case drive.PhaseResistance:
				lead = f.Value
			case drive.TurnsShorted:
				winding *= 1 - f.Value
			}
		}
		parts = append(parts, resistor{leadNode + n, terminalNode + n, lead})
		to := neutralNode
		if m.Connection == motor.Delta {
			to = terminalNode + int(k.Next())
		}
		parts = append(parts, resistor{terminalNode + n, to, winding})
	}
	return readings(parts)
}

// openWinding returns the readings of a motor whose winding k is open inside, which in a delta is not what an
// open lead reads.
func openWinding(m motor.Machine, k inverter.Phase) []Resistance {
	var parts []resistor
	for _, p := range inverter.Phases {
		to, ohms := neutralNode, m.Resistance
		if m.Connection == motor.Delta {
			to = terminalNode + int(p.Next())
		}
		if p == k {
			ohms = math.Inf(1)
		}
		parts = append(parts, resistor{leadNode + int(p), terminalNode + int(p), 0}, resistor{terminalNode + int(p), to, ohms})
	}
	return readings(parts)
}

func readings(parts []resistor) []Resistance {
	var r []Resistance
	for _, k := range inverter.Phases {
		reading := Resistance{Between: k.String() + "-" + k.Next().String()}
		if x := between(parts, motorNodes, leadNode+int(k), leadNode+int(k.Next())); !math.IsInf(x, 1) {
			reading.Ohms = &x
		}
		r = append(r, reading)
	}
	return r
}

// between returns the resistance between nodes a and b of a circuit, +Inf where nothing joins them: the
// voltage that 1 A from a to b makes, from Kirchhoff's current law at every node that a reaches,
//
//	Σ (v_i - v_j)/R_ij = i_i
func between(parts []resistor, nodes, a, b int) float64 {
	group := shorted(parts, nodes)
	if group[a] == group[b] {
		return 0
	}
	row := reached(parts, group, group[a])
	ground, ok := row[group[b]]
	if !ok {
		return math.Inf(1)
	}
	n := len(row)
	laws, currents := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	add := func(i, j int, g float64) { laws.Set(i, j, laws.At(i, j)+g) }
	for _, p := range parts {
		i, in := row[group[p.a]]
		j := row[group[p.b]]
		if !in || i == j || math.IsInf(p.ohms, 1) {
			continue
		}
		g := 1 / p.ohms
		add(i, i, g)
		add(j, j, g)
		add(i, j, -g)
		add(j, i, -g)
	}
	for j := range n { // b is at 0 V
		laws.Set(ground, j, 0)
	}
	laws.Set(ground, ground, 1)
	currents.SetVec(0, 1)
	var volts mat.VecDense
	if err := volts.SolveVec(laws, currents); err != nil {
		return math.Inf(1)
	}
	return volts.AtVec(0)
}

// shorted returns the group of each node: nodes that no resistance separates have the same.
func shorted(parts []resistor, nodes int) []int {
	group := make([]int, nodes)
	for i := range group {
		group[i] = i
	}
	for _, p := range parts {
		if p.ohms != 0 {
			continue
		}
		keep, drop := group[p.a], group[p.b]
		for i, g := range group {
			if g == drop {
				group[i] = keep
			}
		}
	}
	return group
}

// reached numbers the groups of nodes that resistors join with one, which is 0, in the order in which they are found.
func reached(parts []resistor, group []int, from int) map[int]int {
	number := map[int]int{from: 0}
	for grew := true; grew; {
		grew = false
		for _, p := range parts {
			for _, ends := range [2][2]int{{p.a, p.b}, {p.b, p.a}} {
				here, there := group[ends[0]], group[ends[1]]
				_, known := number[here]
				if _, old := number[there]; known && !old && !math.IsInf(p.ohms, 1) {
					number[there], grew = len(number), true
				}
			}
		}
	}
	return number
}
