package lesson

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"sextant/inverter/slip"
)

// units are what names of figures end with, and how that is written; SI prefixes go before those so marked.
var units = []struct {
	end, unit string
	prefixed  bool
}{
	{"_v", "V", true}, {"_a", "A", true}, {"_w", "W", true}, {"_j", "J", true}, {"_s", "s", true}, {"_hz", "Hz", true}, {"_ohm", "ohm", true},
	{"_nm", "N m", false}, {"_deg", "deg", false}, {"_rpm", "rpm", false}, {"_c", "C", false}, {"_percent", "%", false},
}

func unitOf(name string) string {
	for _, u := range units {
		if strings.HasSuffix(name, u.end) {
			return u.unit
		}
	}
	return ""
}

// parseUnit returns the unit that a lesson asks for, or none. It has no prefix, since figures are reckoned in units
// without, and [written] puts the prefix that a figure's size asks for.
func parseUnit(text string) (string, error) {
	text = strings.TrimSpace(text)
	if slices.Contains(strings.Fields(text), "size") {
		return "", fmt.Errorf("%q is no unit; size stands before the |, behind the figure that it is of", text)
	}
	for _, u := range units {
		if before, ok := strings.CutSuffix(text, u.unit); ok && before != "" && strings.Contains("pnuµmkMGT", before) {
			return "", fmt.Errorf("%q has a prefix; give %s, and a prefix comes by itself", text, u.unit)
		}
	}
	return text, nil
}

// figure returns the number that a name, or a bare number, stands for in t's moment; "brake/supply.power_w" is of
// the moment called brake.
func (r *reader) figure(m *moment, name string) (float64, error) {
	if x, err := strconv.ParseFloat(name, 64); err == nil && !math.IsNaN(x) && !math.IsInf(x, 0) {
		return x, nil
	}
	if scene, rest, ok := strings.Cut(name, "/"); ok {
		if m = r.named[scene]; m == nil {
			return 0, fmt.Errorf("nothing in this lesson is called %q", scene)
		}
		name = rest
	}
	f, err := r.figures(m)
	if err != nil {
		return 0, err
	}
	x, ok := f[name]
	if !ok {
		return 0, fmt.Errorf("the run has no figure %q%s", name, slip.Meant(name, slices.Sorted(maps.Keys(f))))
	}
	return x, nil
}

// evaluate works out terms with blanks between them from left to right, like "a - b / c", which is (a - b)/c; size
// is |...| of what stands before it. The unit is that of the first term where nothing but numbers or terms of its kind
// follow.
func (r *reader) evaluate(m *moment, text string) (x float64, unit string, err error) {
	terms := strings.Fields(text)
	if len(terms) == 0 {
		return 0, "", fmt.Errorf("is empty; give a figure of the run")
	}
	if x, err = r.figure(m, terms[0]); err != nil {
		return 0, "", err
	}
	unit = unitOf(terms[0])
	for rest := terms[1:]; len(rest) > 0; {
		if rest[0] == "size" {
			x, rest = math.Abs(x), rest[1:]
			continue
		}
		if len(rest) < 2 {
			return 0, "", fmt.Errorf("%q ends with %s; a figure or a number belongs behind it", text, rest[0])
		}
		y, err := r.figure(m, rest[1])
		if err != nil {
			return 0, "", err
		}
		switch rest[0] {
		case "+":
			x += y
		case "-":
			x -= y
		case "*":
			x *= y
		case "/":
			x /= y
		default:
			return 0, "", fmt.Errorf("%q does nothing; allowed between figures, with blanks around: + - * / size", rest[0])
		}
		if strings.ContainsAny(rest[0], "*/") {
			if other := unitOf(rest[1]); other != "" {
				unit = ""
			}
		}
		rest = rest[2:]
	}
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, "", fmt.Errorf("%q comes to no finite number", text)
	}
	return x, unit, nil
}

// nearly is how far two sides of ~ may be apart, as a part of the larger.
const nearly = 0.05

// holds reports whether a claim is true of a moment, like "machine.torque_mean_nm < 0".
func (r *reader) holds(m *moment, claim string) (bool, error) {
	for _, sign := range []string{" < ", " > ", " ~ "} {
		left, right, ok := strings.Cut(claim, sign)
		if !ok {
			continue
		}
		a, _, err := r.evaluate(m, left)
		if err != nil {
			return false, err
		}
		b, _, err := r.evaluate(m, right)
		if err != nil {
			return false, err
		}
		switch sign {
		case " < ":
			return a < b, nil
		case " > ":
			return a > b, nil
		}
		return math.Abs(a-b) <= nearly*math.Max(math.Abs(a), math.Abs(b))+1e-9, nil
	}
	return false, fmt.Errorf("%q claims nothing; write a comparison with < > or ~ (alike within 5 %%)", claim)
}
