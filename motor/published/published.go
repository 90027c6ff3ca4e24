// Package published holds figures that books, papers and closed forms give for inverters and their machines, each
// with the calculation of ours that answers it: what says, on any day and any machine, how far they agree.
package published

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A Basis is what a published figure rests on.
type Basis uint8

// The bases.
const (
	Printed  Basis = iota // the source prints the figure
	Formula               // the source gives the formula, and the figure is what it comes to
	Computed              // another program works the figure out, from the circuit or the equations of the source
)

// String returns the basis in a word.
func (b Basis) String() string { return [...]string{"printed", "formula", "computed"}[b] }

// MarshalText returns the basis in a word.
func (b Basis) MarshalText() ([]byte, error) { return []byte(b.String()), nil }

// A Check is a published figure and how to get ours.
type Check struct {
	Field    string // that the figure is of, like "heat"
	Case     string // what the figure is taken at
	Quantity string
	Unit     string // empty for a number
	Figure   string // in as many digits as are published or kept
	Basis    Basis
	Source   *Source
	Within   float64 // how far ours may be off, as a part of the figure; 0 is half a unit of its last digit
	Because  string  // why that is not 0

	ours func() (float64, error)
}

// An Answer is a check that was made. Its JSON is the calculator's.
type Answer struct {
	Field      string  `json:"field"`
	Case       string  `json:"case"`
	Quantity   string  `json:"quantity"`
	Unit       string  `json:"unit"`
	Ours       float64 `json:"ours"`
	Published  float64 `json:"published"`
	Difference float64 `json:"difference"`
	Tolerance  float64 `json:"tolerance"`
	Agrees     bool    `json:"agrees"`
	Basis      Basis   `json:"basis"`
	Source     string  `json:"source"`
	Because    string  `json:"tolerance_because,omitempty"`

	Check *Check `json:"-"`
}

// Decimals returns with how many decimals the figure is given.
func (c *Check) Decimals() int {
	_, after, _ := strings.Cut(c.Figure, ".")
	return len(after)
}

// Answer works out our figure and compares. It fails where ours cannot be had.
func (c *Check) Answer() (Answer, error) {
	want, err := strconv.ParseFloat(c.Figure, 64)
	if err != nil {
		return Answer{}, fmt.Errorf("%s: %w", c.Quantity, err)
	}
	ours, err := c.ours()
	if err != nil {
		return Answer{}, fmt.Errorf("%s: %w", c.Quantity, err)
	}
	tolerance := c.Within * math.Abs(want)
	if c.Within == 0 {
		tolerance = 0.5 * math.Pow10(-c.Decimals()) * (1 + 1e-6) // ours may end with the very half
	}
	return Answer{
		Field: c.Field, Case: c.Case, Quantity: c.Quantity, Unit: c.Unit, Ours: ours, Published: want, Difference: ours - want,
		Tolerance: tolerance, Agrees: math.Abs(ours-want) <= tolerance, Basis: c.Basis, Source: c.Source.Title,
		Because: c.Because, Check: c,
	}, nil
}

// Checks lists all checks, those of a field together. In the lists that it draws on a quantity may stand behind the
// case that it is taken at, which then holds until the next.
func Checks() []Check {
	var all []Check
	for _, field := range []struct {
		name   string
		checks []Check
	}{
		{"six-step and its kin", steps()},
		{"carrier patterns", carriers()},
		{"zero sequences", zeros()},
		{"ripple and dead time", ripples()},
		{"currents from run to end", coils()},
		{"losses", losses()},
		{"heat", heats()},
		{"machine", machines()},
		{"limits of a drive", limits()},
		{"vehicle", vehicles()},
		{"gates off, shorted, boosting", coasting()},
		{"faults", faults()},
	} {
		at := ""
		for _, c := range field.checks {
			if before, after, ok := strings.Cut(c.Quantity, ": "); ok {
				at, c.Quantity = before, after
			}
			c.Field, c.Case = field.name, at
			all = append(all, c)
		}
	}
	return all
}

// known is a figure that is at hand.
func known(x float64) func() (float64, error) { return func() (float64, error) { return x, nil } }
