package lesson

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"github.com/dustin/go-humanize"
)

// written writes a number to three figures with its unit.
func written(x float64, unit string) string {
	if math.Abs(x) < 1e-9 {
		x = 0
	}
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'e', 2, 64), 64)
	prefix := ""
	for _, u := range units {
		if u.unit == unit && u.prefixed {
			x, prefix = humanize.ComputeSI(x)
			x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'e', 2, 64), 64)
			if prefix == "µ" {
				prefix = "u"
			}
		}
	}
	return strings.TrimSpace(strconv.FormatFloat(x, 'f', -1, 64) + " " + prefix + unit)
}

// fill puts figures in the place of what stands in braces: {machine.torque_mean_nm}, {a / b * 100 | %} where the
// unit is given, or a key of the scenario, {gating.carrier}.
func (r *reader) fill(m *moment, text string) (string, error) {
	var b strings.Builder
	for {
		before, rest, ok := strings.Cut(text, "{")
		b.WriteString(before)
		if !ok {
			if strings.Contains(before, "}") {
				return "", errors.New("a } has no { before it")
			}
			return b.String(), nil
		}
		inside, after, ok := strings.Cut(rest, "}")
		if !ok {
			return "", errors.New("a { has no } behind it")
		}
		filled, err := r.filling(m, strings.TrimSpace(inside))
		if err != nil {
			return "", err
		}
		b.WriteString(filled)
		text = after
	}
}

func (r *reader) filling(m *moment, inside string) (string, error) {
	if s, ok := m.keys.text(inside); ok {
		return s, nil
	}
	formula, asked, given := strings.Cut(inside, "|")
	x, unit, err := r.evaluate(m, formula)
	if err != nil {
		return "", err
	}
	if given {
		if unit, err = parseUnit(asked); err != nil {
			return "", err
		}
	}
	return written(x, unit), nil
}
