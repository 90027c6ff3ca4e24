package lesson

import (
	"fmt"

	"sextant/render"
)

// Says returns what a scene says at one of its moments.
func (s *Scene) Says(m *Moment) []render.Paragraph {
	return []render.Paragraph{{Text: s.Title, Tone: render.Strong}, {Text: m.Words}}
}

// Shows returns what the scene's probes show.
func (s *Scene) Shows() (all []render.Paragraph) {
	for _, probe := range s.Probes {
		for _, says := range probe.Says {
			all = append(all, render.Paragraph{Text: says, Tone: render.Quiet})
		}
	}
	return all
}

// Asks returns the question with what there is to choose from, which is numbered from 1.
func (q *Question) Asks(offers []string) []render.Paragraph {
	all := []render.Paragraph{{Text: q.Ask, Tone: render.Strong}}
	for k, offer := range offers {
		all = append(all, render.Paragraph{Text: fmt.Sprintf("%d: %s", k+1, offer)})
	}
	return all
}
