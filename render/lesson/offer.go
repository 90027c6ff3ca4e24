package lesson

import (
	"errors"
	"fmt"
	"math"
	"strconv"
)

// factors are what the right number is offered among; which set, and so where the right one stands, goes by the
// question.
var factors = [][]float64{{1, 1.5, 2, 3}, {0.5, 1, 1.5, 2}, {0.25, 0.5, 1, 2}, {0.25, 0.5, 0.75, 1}}

// most is the largest number that wrong ones are counted off from, rather than multiplied.
const most = 12

// Offers returns what there is to choose from, where nobody can type: the choices, or for a number the right one among
// wrong ones.
func (q *Question) Offers() []string {
	if q.Choices != nil {
		return q.Choices
	}
	var offers []string
	for _, x := range q.offers() {
		offers = append(offers, written(x, q.Unit))
	}
	return offers
}

func (q *Question) offers() []float64 {
	place := len(q.Ask) % len(factors)
	if v := math.Round(q.Value); math.Abs(v-q.Value) < 1e-6 && math.Abs(v) <= most && (q.Unit == "" || v == 0) {
		first := max(v-float64(place), 0)
		return []float64{first, first + 1, first + 2, first + 3}
	}
	if q.Unit == "%" && q.Value <= 100 { // a part of a whole is not offered as more than that
		place = len(factors) - 1
	}
	var offers []float64
	for _, f := range factors[place] {
		offers = append(offers, q.Value*f)
	}
	return offers
}

// Choose judges the choice of one of the present question's offers, from 0, as [Player.Answer] does.
func (p *Player) Choose(n int) (*Verdict, error) {
	q := p.Question()
	switch {
	case q == nil:
		return nil, errors.New("no question is put")
	case n < 0 || n >= len(q.Offers()):
		return nil, fmt.Errorf("there is no choice %d; give 1 to %d", n+1, len(q.Offers()))
	case q.Choices != nil:
		return p.Answer(strconv.Itoa(n + 1))
	}
	return p.keep(q, q.judgeNumber(q.offers()[n])), nil
}
