package handout

import (
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
)

// A question is for a number that is worked out from others. In ask and working, <V> is the value that is given for V.
type question struct {
	name    string
	suits   func(r *rig) bool
	ask     string
	given   []draw
	unit    string
	answer  func(r *rig, v values) (float64, error) // by the model
	working string                                  // formula and numbers, up to the last equals sign
}

// A draw is how a given value comes about.
type draw struct {
	symbol, unit string
	of           choice
}

// values are given values by symbol, in their units.
type values map[string]float64

// tries is how often values are drawn that make no good question, before one gives up.
const tries = 500

// exercise draws values until the answer is clear. It fails with [errRedraw] where no values make it so.
func (q *question) exercise(r *rig, rng *rand.Rand) (Exercise, error) {
	for range tries {
		v := values{}
		var given []Given
		for _, d := range q.given {
			x := d.of(r, rng)
			v[d.symbol] = x
			given = append(given, Given{d.symbol, x, d.unit})
		}
		x, err := q.answer(r, v)
		if errors.Is(err, errRedraw) {
			continue
		}
		if err != nil {
			return Exercise{}, fmt.Errorf("exercise %s: %w", q.name, err)
		}
		if !clear(x) {
			continue
		}
		answer := written(x, q.unit)
		return Exercise{
			Name: q.name, Ask: fill(q.ask, given), Number: true, Points: 2,
			Answer: answer, Working: fill(q.working, given) + " = " + answer + ".",
			Given: given, Value: x, Unit: q.unit,
		}, nil
	}
	return Exercise{}, fmt.Errorf("exercise %s: %w", q.name, errRedraw)
}

// errRedraw says that values do not go together.
var errRedraw = errors.New("values do not go together")

// fill puts given values in their places.
func fill(text string, given []Given) string {
	for _, g := range given {
		text = strings.ReplaceAll(text, "<"+g.Symbol+">", g.text())
	}
	return text
}

// numbers draws up to n different questions that suit a rig, in the order of the list.
func numbers(r *rig, rng *rand.Rand, n int) (all []Exercise, err error) {
	var fit []int
	for i := range questions {
		if questions[i].suits(r) {
			fit = append(fit, i)
		}
	}
	rng.Shuffle(len(fit), func(i, j int) { fit[i], fit[j] = fit[j], fit[i] })
	drawn := map[int]Exercise{}
	for _, i := range fit {
		x, err := questions[i].exercise(r, rng)
		switch {
		case errors.Is(err, errRedraw):
			continue // such as what a drive cannot do
		case err != nil:
			return nil, err
		}
		if drawn[i] = x; len(drawn) == n {
			break
		}
	}
	for _, i := range slices.Sorted(maps.Keys(drawn)) {
		all = append(all, drawn[i])
	}
	return all, nil
}

// questions is all there are, from the bridge to the shaft and to the heat.
var questions = slices.Concat(steppedQuestions, carrierQuestions, loadQuestions, machineQuestions, heatQuestions)
