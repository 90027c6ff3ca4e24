package lesson

import (
	"errors"
	"fmt"

	"sextant/inverter/file"
	"sextant/inverter/si"
	"sextant/motor/drive"
)

// mostChoices is how many choices a question has at most: sheets give each a letter.
const mostChoices = 26

// A draft is a scene whose words are not worked out, which may speak of scenes behind it.
type draft struct {
	*table
	moments   []*moment
	questions []*table
	probes    []string
}

// figures runs a moment's scenario, once.
func (r *reader) figures(m *moment) (figures, error) {
	id := m.found + "\x00" + string(file.Written(m.keys))
	if f, ok := r.runs[id]; ok {
		return f, nil
	}
	f, err := run(m.scenario, &r.strides)
	if err != nil {
		return nil, err
	}
	r.runs[id] = f
	return f, nil
}

// work fills in what has to be worked out.
func (d *draft) work(s *Scene) {
	for _, m := range d.moments {
		f, err := d.r.figures(m)
		if err != nil {
			m.unrun(err)
			return
		}
		s.Moments = append(s.Moments, Moment{After: m.after, Scenario: m.scenario, Words: m.filled(m, m.words), figures: f})
	}
	now := d.moments[len(d.moments)-1] // questions are asked at the end
	s.Note = d.filled(d.moments[0], "note")
	for _, name := range d.probes {
		f, _ := d.r.figures(now)
		s.Probes = append(s.Probes, Probe{name, probes[name](&now.scenario, f, &d.r.strides)})
		if d.r.strides < 0 {
			now.unrun(drive.ErrStrides)
			return
		}
	}
	for _, q := range d.questions {
		s.Questions = append(s.Questions, q.question(now))
	}
}

// unrun reports why the moment's scenario cannot be run.
func (m *moment) unrun(err error) {
	if errors.Is(err, drive.ErrStrides) {
		key := "scenario"
		if m.after > 0 {
			key = "set"
		}
		m.wrong(key, fmt.Errorf("its run is too long: all runs of a lesson together may take %d steps from event to event; settle and measure less, or give a slower carrier", mostStrides))
		return
	}
	m.wrong(m.words, fmt.Errorf("its scenario cannot be run: %w", err))
}

// filled returns the words of a key with figures of a moment.
func (t *table) filled(m *moment, key string) string {
	words, err := t.r.fill(m, t.prose(key))
	if err != nil {
		t.wrong(key, err)
	}
	return words
}

func (t *table) question(m *moment) Question {
	t.needed("ask")
	t.needed("because")
	q := Question{Ask: t.filled(m, "ask"), Because: t.filled(m, "because")}
	choices := t.tables("choice")
	quantity := t.prose("quantity")
	switch {
	case (choices == nil) == (quantity == ""):
		t.wrong("choice", errors.New("a question has either choices or a quantity to be answered with"))
	case choices != nil:
		t.choose(m, &q, choices)
	default:
		t.number(m, &q, quantity)
	}
	t.done()
	return q
}

// choose reads the choices and finds the one that is right.
func (t *table) choose(m *moment, q *Question, choices []*table) {
	var right []int
	for i, c := range choices {
		c.needed("say")
		q.Choices = append(q.Choices, c.filled(m, "say"))
		claims := c.strings("when")
		if len(claims) == 0 {
			c.wrong("when", errors.New("is missing; give what the run must show for this to be right, like \"machine.torque_mean_nm < 0\""))
		}
		all := true
		for _, claim := range claims {
			ok, err := t.r.holds(m, claim)
			if err != nil {
				c.wrong("when", err)
			}
			all = all && ok
		}
		if all {
			right = append(right, i)
		}
		c.done()
	}
	switch {
	case len(choices) < 2 || len(choices) > mostChoices:
		t.wrong("choice", fmt.Errorf("there are %d; give 2 to %d", len(choices), mostChoices))
	case len(right) != 1:
		t.wrong("choice", fmt.Errorf("in the run %d of %d are right; one must be", len(right), len(choices)))
	default:
		q.Right = right[0]
	}
}

// number works out the number that is the answer.
func (t *table) number(m *moment, q *Question, quantity string) {
	x, unit, err := t.r.evaluate(m, quantity)
	if err != nil {
		t.wrong("quantity", err)
		return
	}
	if given := t.prose("unit"); given != "" {
		if unit, err = parseUnit(given); err != nil {
			t.wrong("unit", err)
		}
	}
	q.Value, q.Unit = x, unit
	q.Tolerance = t.positive("tolerance", si.Number, 0.05)
}
