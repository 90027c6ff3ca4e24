package handout

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"sextant/inverter/si"
)

// digits is how many significant digits answers have.
const digits = 3

// dimensions are those whose units take prefixes.
var dimensions = map[string]si.Dimension{
	"V": si.Voltage, "A": si.Current, "W": si.Power, "J": si.Energy, "s": si.Time, "Hz": si.Frequency,
	"Ω": si.Resistance, "H": si.Inductance, "Wb": si.Flux,
}

// written returns x as an answer: to three significant digits, trailing zeros kept, with its unit.
func written(x float64, unit string) string {
	if math.Abs(x) < 1e-12 {
		x = 0
	}
	if x == 0 {
		return strings.TrimSpace("0 " + unit)
	}
	if d, ok := dimensions[unit]; ok {
		return onPaper(d.Format(x, digits))
	}
	return strings.TrimSpace(significant(x) + " " + unit)
}

// significant returns x to three significant digits in plain notation.
func significant(x float64) string {
	if x == 0 {
		return "0"
	}
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'e', digits-1, 64), 64)
	decimals := max(digits-1-int(math.Floor(math.Log10(math.Abs(x))+1e-12)), 0)
	return strconv.FormatFloat(x, 'f', decimals, 64)
}

// text returns g as the question has it: the very number, in the shortest form.
func (g Given) text() string {
	if d, ok := dimensions[g.Unit]; ok {
		return onPaper(d.Text(g.Value))
	}
	number := strconv.FormatFloat(g.Value, 'f', -1, 64)
	if g.Unit == "deg" {
		return number + "°"
	}
	return strings.TrimSpace(number + " " + g.Unit)
}

// onPaper sets units as books do.
func onPaper(s string) string {
	s = strings.Replace(s, "ohm", "Ω", 1)
	if head, ok := strings.CutSuffix(s, " us"); ok {
		return head + " µs"
	}
	if i := strings.LastIndex(s, " u"); i >= 0 && len(s) > i+2 {
		return s[:i] + " µ" + s[i+2:]
	}
	return s
}

// spelled are units and constants that screens spell out.
var spelled = []struct {
	word *regexp.Regexp
	set  string
}{
	{regexp.MustCompile(`(\d) deg\b`), "$1°"},
	{regexp.MustCompile(`(\d) ([mk]?)ohm\b`), "$1 ${2}Ω"},
	{regexp.MustCompile(`(\d) u([sHAVWJF])\b`), "$1 µ$2"},
	{regexp.MustCompile(`\bpi\b`), "π"},
}

// printed returns words of a lesson with units set as books do.
func printed(words string) string {
	for _, s := range spelled {
		words = s.word.ReplaceAllString(words, s.set)
	}
	return words
}

// whole returns x without decimals, with a minus where it is below zero.
func whole(x float64) string {
	return strconv.FormatFloat(math.Round(x)+0, 'f', -1, 64)
}

// clear reports whether x, rounded to three digits, is what anybody gets who carries a digit more, or is exact: it is
// not zero, and not within a fiftieth of the last digit from where rounding turns over.
func clear(x float64) bool {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return false
	}
	m := math.Abs(x) / math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-(digits-1))
	return math.Abs(m-math.Floor(m)-0.5) > 0.02
}
