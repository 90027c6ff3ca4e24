package plots

import (
	"math"
	"strconv"
	"strings"

	"github.com/dustin/go-humanize"
	"gonum.org/v1/plot"
)

// prefixed returns the factor and the unit with its prefix that suit numbers up to size. Rotations a minute
// and newton metres take none, seconds none of a thousand and more.
func prefixed(size float64, unit string) (factor float64, name string) {
	if size <= 0 || unit == "rpm" || unit == "N m" || unit == "s" && size >= 1 {
		return 1, unit
	}
	x, prefix := humanize.ComputeSI(size)
	return x / size, prefix + unit
}

// marks returns ticks at round numbers from low to high, about so many, but three where there is room for them.
func marks(low, high float64, about int) plot.ConstantTicks {
	step := roundStep((high - low) / float64(max(about, 1)))
	ticks := every(step, low, high)
	if finer := every(roundStep(0.4*step), low, high); len(ticks) < 3 && about >= 3 {
		return finer
	}
	return ticks
}

// every returns ticks at the multiples of a step from low to high.
func every(step, low, high float64) plot.ConstantTicks {
	if !(step > 0) {
		return nil
	}
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	if m := step * math.Pow10(decimals); m != math.Round(m) {
		decimals++
	}
	var ticks plot.ConstantTicks
	for k := math.Ceil(low/step - 1e-9); k*step <= high+1e-9*step; k++ {
		ticks = append(ticks, plot.Tick{Value: k * step, Label: number(k*step, decimals)})
	}
	return ticks
}

// outer returns ticks at zero and, either side of it, at a round number near the end, but not so near that its
// label meets that of the panel above.
func outer(low, high float64) plot.ConstantTicks {
	most := 0.85 * max(-low, high)
	if !(most > 0) {
		return nil
	}
	decade := math.Pow(10, math.Floor(math.Log10(most)))
	step := decade
	for _, m := range []float64{1.5, 2, 2.5, 3, 4, 5, 6, 8} {
		if m*decade <= most {
			step = m * decade
		}
	}
	return every(step, low, high)
}

// roundStep returns the least of 1, 2, 5 times a power of ten that is at least x.
func roundStep(x float64) float64 {
	if !(x > 0) || math.IsInf(x, 0) {
		return 0
	}
	decade := math.Pow(10, math.Floor(math.Log10(x)))
	for _, m := range []float64{1, 2, 5} {
		if x <= m*decade*(1+1e-9) {
			return m * decade
		}
	}
	return 10 * decade
}

// number writes x with so many decimals and a minus sign as wide as a digit; zero has none.
func number(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return strings.Replace(s, "-", "–", 1)
}

// figures writes x to four figures at most.
func figures(x float64) string {
	decimals := 0
	if a := math.Abs(x); a > 0 {
		decimals = min(max(0, 3-int(math.Floor(math.Log10(a)))), 3)
	}
	s := number(x, decimals)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
