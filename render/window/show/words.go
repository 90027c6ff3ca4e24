package show

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// lower returns a sentence as part of another.
func lower(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToLower(r)) + text[n:]
}

// round rounds to so many figures.
func round(x float64, figures int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', figures, 64), 64)
	if err != nil {
		return x
	}
	return y
}

// number returns x to three figures, without an exponent.
func number(x float64) string { return strconv.FormatFloat(round(x, 3), 'f', -1, 64) }

// sentence returns an error as a sentence.
func sentence(err error) string {
	return upper(strings.TrimSuffix(strings.TrimPrefix(err.Error(), "drive: "), ".")) + "."
}

func upper(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[n:]
}

// stepped returns x and a step more; what is left of nothing by rounding is nothing.
func stepped(x, step float64) float64 {
	if x += step; math.Abs(x) < math.Abs(step)/100 {
		return 0
	}
	return round(x, 6)
}
