package si

import (
	"math"
	"strconv"
	"strings"

	"github.com/dustin/go-humanize"
)

// written lists the prefixes that Text uses, in the order in which it tries them.
var written = []string{"", "k", "M", "G", "m", "u", "n", "p"}

// Text returns x in the shortest form that [Dimension.Parse] reads back to the very same number: with a
// prefix, in degrees or in turns a minute where that is exact, else in d's own unit. x is finite.
func (d Dimension) Text(x float64) string {
	own := join(strconv.FormatFloat(x, 'g', -1, 64), kinds[d].units[0].label())
	best := own
	for _, u := range kinds[d].units {
		for _, prefix := range written {
			if prefix != "" && (!u.prefixed || x == 0) {
				continue
			}
			// 15 digits are as many as a float64 holds of any decimal number.
			y := (x - u.offset) / u.scale / math.Pow10(prefixes[prefix])
			s := join(trim(y), prefix+u.label())
			if back, err := d.Parse(s); err == nil && back == x && len(s) < len(best) {
				best = s
			}
		}
	}
	return best
}

// trim writes y in at most 15 digits, without an exponent unless it must have one.
func trim(y float64) string {
	s := strconv.FormatFloat(y, 'g', 15, 64)
	y, _ = strconv.ParseFloat(s, 64)
	if a := math.Abs(y); a == 0 || a >= 1e-3 && a < 1e6 {
		return strconv.FormatFloat(y, 'f', -1, 64)
	}
	return strconv.FormatFloat(y, 'g', -1, 64)
}

// Format returns x for people, in d's own unit with a prefix where it takes one, rounded to the given
// number of significant digits, trailing zeros kept: "22.6 A", "8.00 kHz". x is finite.
func (d Dimension) Format(x float64, digits int) string {
	u := kinds[d].units[0]
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'e', digits-1, 64), 64)
	prefix := ""
	if u.prefixed {
		x, prefix = humanize.ComputeSI(x)
	}
	decimals := digits - 1
	if a := math.Abs(x); a > 0 {
		// The small lift keeps a quotient such as 9.999999999999998 from counting as one digit.
		decimals -= int(math.Floor(math.Log10(a * (1 + 1e-12))))
	}
	s := strconv.FormatFloat(x, 'f', max(decimals, 0), 64)
	return join(s, prefix+u.label())
}

func join(number, unit string) string { return strings.TrimSpace(number + " " + unit) }
