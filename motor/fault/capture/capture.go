// Package capture reads what an oscilloscope or a logger recorded of a drive's phase currents, from CSV.
//
// Files come from many hands, so delimiters, decimal commas, preambles, comments, units and gaps are taken
// as they are found, and said in the capture's notes; what cannot be understood is a finding with its line.
// A file is read as it streams by: what is kept is bounded, however long the file.
package capture

import (
	"fmt"
	"slices"

	"sextant/inverter"
)

// MostRows is how many rows of a file are kept; those beyond are read and checked, but not used.
const MostRows = 1 << 20

// A Capture is a record of the three phase currents over time.
type Capture struct {
	File    string
	Time    []float64      // s, never falling
	Current []inverter.ABC // A, positive into the machine
	Derived bool           // one current was not recorded and is the negative sum of the others:
	Third   inverter.Phase // this one
	Rows    int            // rows of data in the file, kept or not
	Notes   []string       // what a reader should know of how the file was taken
}

// Len returns the number of samples.
func (c *Capture) Len() int { return len(c.Time) }

// Slice returns samples from up to, not including, to; it shares them with c.
func (c *Capture) Slice(from, to int) Capture {
	s := *c
	s.Time, s.Current = c.Time[from:to], c.Current[from:to]
	return s
}

// Between returns the samples from t0 to t1, in s; it shares them with c.
func (c *Capture) Between(t0, t1 float64) Capture {
	from, _ := slices.BinarySearch(c.Time, t0)
	to, found := slices.BinarySearch(c.Time, t1)
	for found && to < c.Len() && c.Time[to] == t1 {
		to++
	}
	return c.Slice(from, max(from, to))
}

func (c *Capture) note(format string, args ...any) {
	c.Notes = append(c.Notes, fmt.Sprintf(format, args...))
}

// Unbroken returns the longest part of c in which the record does not pause, and whether it pauses at all.
// A pause is four times as long as all but the longest hundredth of its steps.
func (c *Capture) Unbroken() (part Capture, paused bool) {
	n := c.Len()
	if n < 3 {
		return *c, false
	}
	steps := make([]float64, n-1)
	for i := range steps {
		steps[i] = c.Time[i+1] - c.Time[i]
	}
	sorted := slices.Clone(steps)
	slices.Sort(sorted)
	pause := 4 * sorted[(len(sorted)-1)*99/100]
	from, best := 0, [2]int{0, 0}
	for i := 1; i <= n; i++ {
		if i < n && (pause == 0 || steps[i-1] <= pause) {
			continue
		}
		paused = paused || i < n
		if c.Time[i-1]-c.Time[from] > c.Time[max(best[1]-1, 0)]-c.Time[best[0]] || best[1] == 0 {
			best = [2]int{from, i}
		}
		from = i
	}
	return c.Slice(best[0], best[1]), paused
}
