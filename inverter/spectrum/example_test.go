package spectrum_test

import (
	"fmt"
	"math"

	"sextant/inverter/pattern"
	"sextant/inverter/spectrum"
)

// The line voltage of six-step from 350 V: all that is not a multiple of two or three.
func ExampleOf() {
	s := pattern.Settings{Kind: pattern.SixStep180, Frequency: 50}
	w, err := spectrum.Of(s, spectrum.Line, 350, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	thd, _ := w.THD()
	fmt.Printf("rms %.2f V, THD %.3f %%\n", w.RMS(), 100*thd)
	series := make([]spectrum.Harmonic, 13)
	w.Harmonics(series)
	for _, h := range series {
		if h.Peak > 0 {
			fmt.Printf("%2d: %6.2f V at %4.0f degrees\n", h.Order, h.Peak, h.Angle*180/math.Pi)
		}
	}
	// Output:
	// rms 285.77 V, THD 31.084 %
	//  1: 385.93 V at   30 degrees
	//  5:  77.19 V at  -30 degrees
	//  7:  55.13 V at -150 degrees
	// 11:  35.08 V at  150 degrees
	// 13:  29.69 V at   30 degrees
}
