package render

import (
	"image/color"

	"sextant/inverter"
)

// look takes up the colours in which parts are drawn: faint where others are emphasised and none of these is.
func (p *pen) look(parts ...Part) {
	p.ink = &faint[p.v.Theme.known()]
	for _, part := range parts {
		if p.v.Emphasis.includes(part) {
			p.ink = p.v.Theme.inks()
		}
	}
	if p.v.Emphasis == (Part{}) {
		p.ink = p.v.Theme.inks()
	}
}

// background takes up the colours of what is never itself pointed at.
func (p *pen) background() { p.look() }

// bright takes up the theme's own colours.
func (p *pen) bright() { p.ink = p.v.Theme.inks() }

// includes reports whether a part is emphasised with another: itself, and what tells of it elsewhere on the stage.
func (p Part) includes(q Part) bool {
	switch {
	case p == q:
		return true
	case q.Kind == LanePart:
		return laneKinds[q.Lane].tells != Nowhere && laneKinds[q.Lane].tells == p.Kind
	case q.Kind == LedgerPart && q.Row >= 0:
		return ledgerRows[q.Row].tells != Nowhere && ledgerRows[q.Row].tells == p.Kind
	}
	return false
}

func gatePart(s inverter.Switch) Part   { return Part{Kind: GatePart, Switch: s} }
func devicePart(s inverter.Switch) Part { return Part{Kind: DevicePart, Switch: s} }
func diodePart(s inverter.Switch) Part  { return Part{Kind: DiodePart, Switch: s} }
func wirePart(ph inverter.Phase) Part   { return Part{Kind: WirePart, Phase: ph} }

// faint holds each theme's colours as they are where something else is emphasised: drawn towards the ground, the
// surfaces too, but text no further than that it can be read.
var faint = func() (all [themes]inks) {
	for t := range all {
		k := palettes[t]
		for _, hue := range []*color.Color{&k.wire, &k.accent, &k.north, &k.south, &k.field, &k.volt, &k.pull, &k.heat, &k.phase[0], &k.phase[1], &k.phase[2]} {
			*hue = Mix(*hue, k.ground, 0.62)
		}
		k.rule, k.iron, k.panel = Mix(k.rule, k.ground, 0.4), Mix(k.iron, k.ground, 0.4), Mix(k.panel, k.ground, 0.4)
		k.text, k.muted = Mix(k.text, k.ground, 0.5), Mix(k.muted, k.ground, 0.25)
		all[t] = k
	}
	return all
}()
