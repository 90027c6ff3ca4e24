package lesson

import (
	"fmt"

	"sextant/render"
)

// Shows returns what the probe shows.
func (p *Probe) Shows() (all []render.Paragraph) {
	for _, says := range p.Says {
		all = append(all, render.Paragraph{Text: says, Tone: render.Quiet})
	}
	return all
}

// Shows returns what all of the scene's probes show.
func (s *Scene) Shows() (all []render.Paragraph) {
	for k := range s.Probes {
		all = append(all, s.Probes[k].Shows()...)
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
