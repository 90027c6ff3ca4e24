package inverter_test

import (
	"fmt"
	"math"

	"sextant/inverter"
)

// One step of six-step on 350 V: what each winding of a star sees, and where the field points.
func Example() {
	g := inverter.On(inverter.UHigh, inverter.VHigh, inverter.WLow)
	poles := g.Poles(350)
	fmt.Println(g, "lays on the poles", poles)
	fmt.Printf("lines %.1f, phases %.1f\n", poles.Lines(), poles.Star())
	v := g.Vector(350)
	fmt.Printf("the field points at %.0f degrees, %.1f V long\n", v.Angle()*180/math.Pi, v.Abs())
	// Output:
	// U+ V+ W- lays on the poles [350 350 0]
	// lines [0.0 350.0 -350.0], phases [116.7 116.7 -233.3]
	// the field points at 60 degrees, 233.3 V long
}

// "1 2 3 on" is no field in one numbering and a field at 60 degrees in the other.
func ExampleNumbering() {
	for _, n := range []inverter.Numbering{inverter.Rows, inverter.Firing} {
		var g inverter.Gates
		for i := 1; i <= 3; i++ {
			s, err := n.Switch(i)
			if err != nil {
				fmt.Println(err)
				return
			}
			g = g.With(s)
		}
		fmt.Printf("%v: %v, field %.0f V\n", n, g, g.Vector(350).Abs())
	}
	// Output:
	// rows: U+ V+ W+, field 0 V
	// firing: U+ V+ W-, field 233 V
}
