package handout

import (
	"fmt"
	"math"
	"math/rand/v2"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// vectorsToDraw asks for vectors in the hexagon: of states, or of a reference and the states beside it.
func vectorsToDraw(r *rig, rng *rand.Rand) (Exercise, error) {
	supply := sixths(r, rng)
	x := Exercise{Name: "vectors", Points: 3, Answer: "The vectors drawn:", Given: []Given{{"V", supply, "V"}}}
	on := Given{Value: supply, Unit: "V"}.text()
	h := &hexagon{supply: supply}
	x.Figure = h
	x.Table = &Table{Groups: []Group{{"", []string{"", "what", "length, V", "angle"}}}}
	add := func(what string, v inverter.Vector) {
		name := string(rune('a' + len(h.vectors)))
		h.vectors = append(h.vectors, arrow{name, v.Abs(), v.Angle()})
		deg := math.Mod(v.Angle()*180/math.Pi+360.0001, 360) - 0.0001
		x.Table.Rows = append(x.Table.Rows, append(row(true, name, what), row(false, significant(v.Abs()), degrees(deg))...))
	}
	if r.kind.Stepped() {
		t, err := pattern.Steps(r.kind, supply)
		if err != nil {
			return x, err
		}
		for _, k := range rng.Perm(len(t.Steps))[:3] {
			add(t.Steps[k].Gates.String(), t.Steps[k].Gates.Vector(supply))
		}
		x.Ask = fmt.Sprintf("The supply is %s. Draw the voltage vectors that these states of the pattern %v make, and write down their lengths and angles.", on, r.kind)
		x.Working = "The phase voltages' vector: α = (2u - v - w)/3, β = (v - w)/√3. Three switches on give 2/3 of the supply, two give 1/√3."
		return x, nil
	}
	for range tries {
		m, deg := between(0.5, 0.98, 0.02)(r, rng), float64(rng.IntN(360))
		if in := math.Mod(deg, 60); in < 8 || in > 52 || !clear(m*supply/2) {
			continue
		}
		angle := deg * math.Pi / 180
		ref := inverter.Vector{Alpha: m * supply / 2 * math.Cos(angle), Beta: m * supply / 2 * math.Sin(angle)}
		k := int(deg / 60)
		p := periodOf(r.kind, m, angle, 1)
		first, second := inverter.Active[k], inverter.Active[(k+1)%6]
		a, b := stateTime(p, first), stateTime(p, second)
		if !decided(100*a, 1) || !decided(100*b, 1) {
			continue
		}
		x.Table.Groups[0].Columns = append(x.Table.Groups[0].Columns, "share, %")
		add("reference", ref)
		add("state before it", first.Vector(supply))
		add("state behind it", second.Vector(supply))
		for i, share := range []string{"-", decimal(100*a, 1), decimal(100*b, 1)} {
			x.Table.Rows[i] = append(x.Table.Rows[i], Cell{share, i == 0})
		}
		x.Table.Rows[0][3].Given = true
		x.Given = append(x.Given, Given{"M", m, ""}, Given{"a", deg, "deg"})
		x.Ask = fmt.Sprintf("The supply is %s and the modulation index %g; the reference vector stands at %s. Draw it and the vectors of the two states beside it. How long are they, and for what share of a carrier period is each state on, to a tenth of a per cent?", on, m, degrees(deg))
		x.Working = fmt.Sprintf("Reference M V/2; states 2/3 V: %v and %v. Shares √3/2 · M · sin(%s - θ) = %s %% and √3/2 · M · sin(θ - %s) = %s %%; the rest is zero states.",
			first, second, degrees(60*float64(k+1)), decimal(100*a, 1), degrees(60*float64(k)), decimal(100*b, 1))
		x.Points = 5
		return x, nil
	}
	return x, fmt.Errorf("exercise vectors: no reference of %v makes clear shares", r.kind)
}
