package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"sextant/motor"
	"sextant/motor/drive"
)

// mostRunOrders bounds the harmonics of a run: each costs a little at every event.
const mostRunOrders = 10_000

// printOrders prints the harmonics of a run for people; orders in which all rounds to zero are left out.
func printOrders(w io.Writer, s drive.Scenario, sum drive.Summary) error {
	if len(sum.Harmonics) == 0 {
		return nil
	}
	// The means set the scales too, so that rounding errors beside them are not blown up.
	amps, newtons, most := 0.0, math.Abs(sum.Machine.TorqueMean), math.Abs(sum.Supply.CurrentMean)
	for _, h := range sum.Harmonics {
		amps = max(amps, h.U, h.V, h.W)
		newtons = max(newtons, h.Torque)
		most = max(most, h.Supply)
	}
	phase, torque, supply := scaleFor(amps, "A", 5), scaleFor(newtons, "N m", 5), scaleFor(most, "A", 5)
	turning := s.Machine.Kind != motor.Passive
	head := []string{"order", "Hz", "U " + phase.unit, "deg", "V " + phase.unit, "deg", "W " + phase.unit, "deg"}
	if turning {
		head = append(head, "torque "+torque.unit)
	}
	rows := [][]string{append(head, "supply "+supply.unit)}
	for _, h := range sum.Harmonics {
		row := []string{fmt.Sprint(h.Order), fmt.Sprintf("%.6g", float64(h.Order)*sum.Fundamental)}
		row = append(row, polarCells(phase, h.U, h.UAngle)...)
		row = append(row, polarCells(phase, h.V, h.VAngle)...)
		row = append(row, polarCells(phase, h.W, h.WAngle)...)
		all := []string{phase.of(h.U), phase.of(h.V), phase.of(h.W), supply.of(h.Supply)}
		if turning {
			row = append(row, torque.of(h.Torque))
			all = append(all, torque.of(h.Torque))
		}
		if strings.Trim(strings.Join(all, ""), "0.") != "" {
			rows = append(rows, append(row, supply.of(h.Supply)))
		}
	}
	turns := math.Floor((sum.To-sum.From)*sum.Fundamental + 1e-9)
	fmt.Fprintf(w, "\nharmonics of %.6g Hz, peak, over whole turns: %g\n", sum.Fundamental, turns)
	if err := spaced(w, 1, rows); err != nil {
		return err
	}
	if hidden := len(sum.Harmonics) - len(rows) + 1; hidden > 0 {
		_, err := fmt.Fprintf(w, "%d of %d orders round to zero and are left out; --json lists them\n", hidden, len(sum.Harmonics))
		return err
	}
	return nil
}

// polarCells writes an amplitude and its angle; what rounds to zero has none.
func polarCells(s scale, peak, angle float64) []string {
	text := s.of(peak)
	if strings.Trim(text, "0.") == "" {
		return []string{text, "-"}
	}
	return []string{text, fixed(angle, 1)}
}
