package handout

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
)

// A Paper is a size of sheets. It prints as flags have it.
type Paper uint8

// The papers: ISO 216 A4, 210 mm by 297 mm, and ANSI A, 8.5 in by 11 in.
const (
	A4 Paper = iota
	Letter
)

var paperNames = []string{"a4", "letter"}

// String returns the paper's name.
func (p Paper) String() string {
	if int(p) < len(paperNames) {
		return paperNames[p]
	}
	return fmt.Sprintf("Paper(%d)", uint8(p))
}

// MarshalText returns the paper's name.
func (p Paper) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// UnmarshalText reads a paper's name, in any case, and refuses all else.
func (p *Paper) UnmarshalText(text []byte) error {
	for i, name := range paperNames {
		if strings.EqualFold(string(text), name) {
			*p = Paper(i)
			return nil
		}
	}
	return fmt.Errorf("%q is no paper; papers are %s", text, strings.Join(paperNames, ", "))
}

// size returns the paper's width and height.
func (p Paper) size() (width, height vg.Length) {
	if p == Letter {
		return 8.5 * vg.Inch, 11 * vg.Inch
	}
	return 21 * vg.Centimeter, 29.7 * vg.Centimeter
}
