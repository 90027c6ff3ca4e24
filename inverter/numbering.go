package inverter

import (
	"fmt"
	"strconv"
	"strings"
)

// A Numbering is a habit of the trade for numbering the six switches. Two are common, and taking one for
// the other is a classic error: "1 2 3 on" is all high in one and a field at 60 degrees in the other.
type Numbering uint8

// The numberings: Names uses no numbers; Rows counts the upper row, then the lower (1 2 3 = U+ V+ W+,
// 4 5 6 = U- V- W-); Firing counts in the order in which six-step turns them on (1 = U+, 2 = W-, 3 = V+,
// 4 = U-, 5 = W+, 6 = V-).
const (
	Names Numbering = iota
	Rows
	Firing
)

var numberingNames = [3]string{"names", "rows", "firing"}

// numbers is indexed by Numbering and Switch.
var numbers = [3][6]int{
	Rows:   {UHigh: 1, VHigh: 2, WHigh: 3, ULow: 4, VLow: 5, WLow: 6},
	Firing: {UHigh: 1, WLow: 2, VHigh: 3, ULow: 4, WHigh: 5, VLow: 6},
}

// String returns the numbering's name as flags and files have it.
func (n Numbering) String() string {
	if int(n) < len(numberingNames) {
		return numberingNames[n]
	}
	return fmt.Sprintf("Numbering(%d)", uint8(n))
}

// MarshalText returns the numbering's name.
func (n Numbering) MarshalText() ([]byte, error) { return []byte(n.String()), nil }

// UnmarshalText reads "names", "rows" or "firing" and refuses all else.
func (n *Numbering) UnmarshalText(text []byte) error {
	for i, name := range numberingNames {
		if string(text) == name {
			*n = Numbering(i)
			return nil
		}
	}
	return fmt.Errorf("%q is not a numbering; numberings are %s", text, strings.Join(numberingNames[:], ", "))
}

// Number returns s's number, from 1 to 6, or 0 under Names.
func (n Numbering) Number(s Switch) int { return numbers[n][s] }

// Label returns how n writes s: its number, or its name under Names.
func (n Numbering) Label(s Switch) string {
	if n == Names {
		return s.String()
	}
	return strconv.Itoa(n.Number(s))
}

// Switch returns the switch that n numbers i. It fails for i outside 1 to 6 and for Names, which has no
// numbers.
func (n Numbering) Switch(i int) (Switch, error) {
	if n != Names {
		for _, s := range Switches {
			if numbers[n][s] == i {
				return s, nil
			}
		}
	}
	return 0, fmt.Errorf("%v numbers no switch %d; numbers run from 1 to 6 under rows and firing", n, i)
}
