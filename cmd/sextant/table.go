package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/dustin/go-humanize"
)

// table prints rows of cells in columns that are flush right; a row without cells is a blank line.
func table(w io.Writer, rows [][]string) error { return spaced(w, 2, rows) }

// spaced is table with so many blanks between columns.
func spaced(w io.Writer, blanks int, rows [][]string) error {
	t := tabwriter.NewWriter(w, 0, 0, blanks, ' ', tabwriter.AlignRight)
	for _, row := range rows {
		for _, cell := range row {
			fmt.Fprint(t, cell, "\t")
		}
		fmt.Fprintln(t)
	}
	return t.Flush()
}

// scale is a unit with the prefix that suits a largest number, so that a column of numbers has one unit
// and as many decimals as make digits significant digits of the largest.
type scale struct {
	unit     string
	factor   float64
	decimals int
}

// scaleFor returns the scale of numbers up to most, in unit.
func scaleFor(most float64, unit string, digits int) scale {
	x, prefix := humanize.ComputeSI(most)
	s := scale{unit: prefix + unit, factor: 1, decimals: digits - 1}
	if most > 0 {
		s.factor = x / most
	}
	for size := 10.0; x >= size && s.decimals > 0; size *= 10 {
		s.decimals--
	}
	return s
}

// of writes x without its unit.
func (s scale) of(x float64) string { return fixed(x*s.factor, s.decimals) }

// with writes x with its unit.
func (s scale) with(x float64) string { return s.of(x) + " " + s.unit }

// fixed writes x with so many decimals; what rounds to zero has no sign.
func fixed(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}
