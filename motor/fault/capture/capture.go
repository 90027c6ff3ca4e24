// Package capture reads what an oscilloscope or a logger recorded of a drive's phase currents, from CSV.
//
// Files come from many hands, so delimiters, decimal commas, preambles, comments, units and gaps are taken
// as they are found, and said in the capture's notes; what cannot be understood is a finding with its line.
// A file is read as it streams by: what is kept is bounded, however long the file.
package capture

import "sextant/inverter"

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
