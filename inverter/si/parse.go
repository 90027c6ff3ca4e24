package si

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

const (
	degree = math.Pi / 180 // rad
	rpm    = math.Pi / 30  // rad/s
)

// prefixes gives the power of ten of each prefix that may stand before a unit.
var prefixes = map[string]int{"p": -12, "n": -9, "u": -6, "m": -3, "": 0, "k": 3, "M": 6, "G": 9}

// quantity splits a number, its power of ten and its unit.
var quantity = regexp.MustCompile(`^([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))(?:[eE]([+-]?[0-9]+))?(.*)$`)

// Parse returns the value of text in d's unit. The space before the unit is optional, and so is the unit
// where d allows a bare number. It refuses numbers that are not finite.
//
// A prefix moves the decimal point before the text becomes binary, so that Parse of "0.2 mH" is the very
// number that 0.0002 is.
func (d Dimension) Parse(text string) (float64, error) {
	m := quantity.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return 0, d.refusal(text)
	}
	exponent := 0
	if m[2] != "" {
		var err error
		if exponent, err = strconv.Atoi(m[2]); err != nil || exponent > math.MaxInt32 { // a prefix raises it
			return 0, fmt.Errorf("%q is out of the range of numbers", text)
		}
	}
	u, shift, ok := d.unit(plain.Replace(m[3]))
	if !ok {
		return 0, d.refusal(text)
	}
	x, err := strconv.ParseFloat(m[1]+"e"+strconv.Itoa(exponent+shift), 64)
	x = x*u.scale + u.offset
	if err != nil || math.IsInf(x, 0) {
		return 0, fmt.Errorf("%q is out of the range of numbers", text)
	}
	return x, nil
}

// Bare returns x as a quantity of d without a unit, or an error where d refuses those or x is not finite.
func (d Dimension) Bare(x float64) (float64, error) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("not a finite number; give %s", d.Advice())
	}
	if kinds[d].refuses {
		return 0, fmt.Errorf("%v has no unit; give %s", x, d.Advice())
	}
	return x, nil
}

// unit finds the unit written s, and the power of ten of its prefix.
func (d Dimension) unit(s string) (u unit, shift int, ok bool) {
	if s == "" && !kinds[d].refuses {
		return kinds[d].units[0], 0, true
	}
	for _, u := range kinds[d].units {
		for _, spelling := range u.spellings {
			prefix, found := strings.CutSuffix(s, spelling)
			if !found || (prefix != "" && !u.prefixed) {
				continue
			}
			if shift, ok := prefixes[prefix]; ok {
				return u, shift, true
			}
		}
	}
	return unit{}, 0, false
}

// refusal says what text is not, and what to write instead.
func (d Dimension) refusal(text string) error {
	if m := quantity.FindStringSubmatch(strings.TrimSpace(text)); m != nil {
		switch {
		case strings.TrimSpace(m[3]) == "":
			return fmt.Errorf("%q has no unit; give %s", text, d.Advice())
		case m[3][0] == ',':
			return fmt.Errorf("%q has a decimal comma; write a point, and give %s", text, d.Advice())
		}
	}
	article := "a"
	if strings.IndexByte("aeiou", d.String()[0]) >= 0 {
		article = "an"
	}
	return fmt.Errorf("%q is not %s %v; give %s", text, article, d, d.Advice())
}
