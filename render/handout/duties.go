package handout

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// decimal returns x with so many decimals.
func decimal(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if y, _ := strconv.ParseFloat(s, 64); y == 0 {
		return strconv.FormatFloat(0, 'f', decimals, 64)
	}
	return s
}

// decided reports whether x with so many decimals is not within a fiftieth of the last from where rounding turns over.
func decided(x float64, decimals int) bool {
	m := math.Abs(x) * math.Pow10(decimals)
	return math.Abs(m-math.Floor(m)-0.5) > 0.02
}

// zeroSequence says in words what a pattern adds to its references, all in units of half the supply.
var zeroSequence = map[pattern.Kind]string{
	pattern.ThirdHarmonic: "The zero sequence is -(M/6) cos 3θ.",
	pattern.SpaceVector:   "The zero sequence is -(max + min)/2 of the three references.",
	pattern.ClampedHigh:   "The zero sequence lifts the highest of the three references to 1.",
	pattern.ClampedLow:    "The zero sequence takes the lowest of the three references down to -1.",
	pattern.Clamped60:     "The zero sequence takes the reference of greatest magnitude to its rail, 1 or -1.",
	pattern.Clamped30:     "Of the highest and the lowest reference, the zero sequence takes the one of less magnitude to its rail, 1 or -1.",
}

// duties is the switching table of one carrier period, to be filled in.
func duties(r *rig, rng *rand.Rand) (Exercise, error) {
	for range tries {
		m, deg := between(0.5, 0.96, 0.02)(r, rng), float64(rng.IntN(360))
		fc := carrier.of(r, rng)
		angle := deg * math.Pi / 180
		ref := reference(m, angle)
		shaped := pattern.Shape(r.kind, ref)
		p := periodOf(r.kind, m, angle, fc)
		table := Table{Groups: []Group{{"", []string{"leg", "reference"}}, {"", []string{"share on, %", "on for, µs"}}}}
		adds := zeroSequence[r.kind]
		if adds != "" {
			table.Groups[0].Columns = append(table.Groups[0].Columns, "with zero sequence")
		}
		ok := !tied(r.kind, ref)
		for _, ph := range inverter.Phases {
			on := upperTime(p, ph)
			ok = ok && decided(ref[ph], 3) && decided(shaped[ph], 3) && decided(100*on/p.length, 1) && decided(1e6*on, 1) && math.Abs(ref[ph]) > 0.02
			cells := append(row(true, ph.String()+"+"), row(false, decimal(ref[ph], 3))...)
			if adds != "" {
				cells = append(cells, row(false, decimal(shaped[ph], 3))...)
			}
			table.Rows = append(table.Rows, append(cells, row(false, decimal(100*on/p.length, 1), decimal(1e6*on, 1))...))
		}
		if !ok {
			continue
		}
		given := []Given{{"M", m, ""}, {"a", deg, "deg"}, {"fc", fc, "Hz"}}
		ask := fill("In one carrier period of the pattern "+r.kind.String()+" at <fc> the modulation index is <M> and the reference vector stands at <a>. Fill in the three references, in units of half the supply to three decimals, and how long each upper switch is on, to one decimal.", given)
		if adds != "" {
			ask += " " + adds
		}
		return Exercise{
			Name: "carrier period", Ask: ask, Table: &table, Points: 6, Answer: "The table filled in:", Given: given,
			Working: "Reference of U = M cos θ, of V = M cos(θ - 120°), of W = M cos(θ + 120°); share on = (1 + reference with zero sequence)/2; the period is 1/f_{c} = " + written(1/fc, "s") + ".",
		}, nil
	}
	return Exercise{}, fmt.Errorf("exercise carrier period: no values of %v make a clear table", r.kind)
}

// upperTime returns how long in p the upper switch of a leg is on.
func upperTime(p period, ph inverter.Phase) (sum float64) {
	for i, g := range p.gates {
		if g.Has(inverter.High(ph)) {
			sum += p.end(i) - p.edges[i]
		}
	}
	return sum
}
