package symptom

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/dustin/go-humanize"
)

// quantity writes x to three digits with a prefix that suits it.
func quantity(x float64, unit string) string {
	if x == 0 {
		return "0 " + unit
	}
	v, prefix := humanize.ComputeSI(x)
	return number(v) + " " + prefix + unit
}

// number writes x to three digits.
func number(x float64) string {
	if x == 0 {
		return "0"
	}
	decimals := 2 - int(math.Floor(math.Log10(math.Abs(x))))
	if decimals < 0 {
		decimals = 0
	}
	return strconv.FormatFloat(x, 'f', min(decimals, 6), 64)
}

// percent writes a part in per cent.
func percent(x float64) string { return fmt.Sprintf("%.0f %%", 100*x) }

// and joins words as a sentence has them.
func and(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}
