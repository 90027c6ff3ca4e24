package render

import (
	"math"
	"strconv"

	"github.com/dustin/go-humanize"
)

// finite returns x, or 0 for what is not a number or has no end and so no place in a picture.
func finite(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return x
}

// figures returns x with decimals that suit a full scale: four figures at it, so that a reading's width
// never changes while it runs. What is not a number is a dash.
func figures(x, scale float64) string {
	if finite(x) != x {
		return "-"
	}
	decimals := 0
	if scale > 0 {
		decimals = min(max(3-int(math.Floor(math.Log10(scale))), 0), 3)
	}
	if math.Abs(x) >= 1e6 || scale >= 1e6 {
		return strconv.FormatFloat(x, 'e', 2, 64)
	}
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if math.Signbit(x) && math.Round(x*math.Pow10(decimals)) == 0 {
		return s[1:] // no "-0.0"
	}
	return s
}

// quantity returns x to three figures with prefix and unit, like "31.2 kW".
func quantity(x float64, unit string) string {
	if finite(x) != x {
		return "- " + unit
	}
	if math.Abs(x) < 1e-9 || unit == "N m" && math.Abs(x) < 5e-4 {
		return "0 " + unit
	}
	if unit == "N m" && math.Abs(x) < 1 { // nobody measures torques in mN m
		return strconv.FormatFloat(x, 'f', 3, 64) + " " + unit
	}
	v, prefix := humanize.ComputeSI(x)
	if r := roundFigures(v); math.Abs(r) >= 1000 { // 999.7 becomes 1.00 k
		v, prefix = humanize.ComputeSI(math.Copysign(roundFigures(math.Abs(x)), x))
	}
	if math.Abs(v) >= 1000 {
		return strconv.FormatFloat(x, 'e', 2, 64) + " " + unit
	}
	decimals := 2
	switch a := math.Abs(roundFigures(v)); {
	case a >= 100:
		decimals = 0
	case a >= 10:
		decimals = 1
	}
	return strconv.FormatFloat(v, 'f', decimals, 64) + " " + prefix + unit
}

// steady returns x as [figures] do, with the prefix of a full scale, like "-48.5 A": neither its unit nor how many
// digits it has behind the point, two at most, changes while it runs.
func steady(x, full float64, unit string) string {
	v, prefix := humanize.ComputeSI(full)
	if unit == "N m" && full < 1 {
		v, prefix = full, ""
	}
	if !(full > 0) || !(v >= 1e-3 && v < 1e4) || finite(x) != x {
		return quantity(x, unit)
	}
	return figures(x*(v/full), max(v, 10)) + " " + prefix + unit
}

// roundFigures rounds x to three figures.
func roundFigures(x float64) float64 {
	if x == 0 {
		return 0
	}
	p := math.Pow10(2 - int(math.Floor(math.Log10(math.Abs(x)))))
	return math.Round(x*p) / p
}

// degrees returns an angle given in radians in whole degrees, 0 to 359.
func degrees(rad float64) string {
	if finite(rad) != rad {
		return "-"
	}
	d := math.Mod(math.Round(rad*180/math.Pi), 360)
	if d < 0 {
		d += 360
	}
	return strconv.Itoa(int(d)) + "°"
}

// signed returns x to three figures with its sign, prefix and unit, like "+31.2 kW".
func signed(x float64, unit string) string {
	if x > 0 {
		return "+" + quantity(x, unit)
	}
	return quantity(x, unit)
}
