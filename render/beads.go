package render

import (
	"math"

	"gonum.org/v1/plot/vg"

	"sextant/motor/drive"
)

// Beads is how far along the beads are that show current flowing in each wire. The zero value is good;
// [Beads.Advance] moves them.
type Beads struct {
	offset [wires]float64 // in bead spacings, 0 to beadCycle
	peak   float64        // A, largest current of late; it moves at full speed
}

const (
	beadCycle = 4   // beads differ within as many
	beadSpeed = 3.4 // bead spacings a second at the peak current
	peakFade  = 8.0 // s in which a past peak is forgotten by 1/e
)

// Advance moves the beads by wall seconds of the spectator's time at the currents of now.
func (b *Beads) Advance(now drive.Instant, wall float64) {
	if !(wall > 0) {
		return
	}
	b.peak *= math.Exp(-wall / peakFade)
	for _, i := range now.Current {
		b.peak = max(b.peak, math.Abs(i))
	}
	if !(b.peak > 0) {
		return
	}
	for w := range b.offset {
		step := beadSpeed * wall * wireCurrent(wire(w), &now) / b.peak
		b.offset[w] += step
		b.offset[w] -= beadCycle * math.Floor(b.offset[w]/beadCycle)
	}
}

// carryBeads draws the beads of w along the path, straight pieces: small heads that taper in the sense of the
// current, as far along as the view's beads are. Of the beads every fourth is always there, those between grow
// with the current, so that more current is more beads and none jumps. They grow and shrink at the wire's ends.
func (p *pen) carryBeads(f frame, w wire) {
	const spacing = 2.3
	gap := spacing * f.u
	side := 0.4 * p.thickness(f, w)
	offset := p.v.Beads.offset[w]
	first := math.Floor(offset)
	next := vg.Length(offset-first) * gap // of the next bead, from the piece's start
	k := beadCycle - int(first)
	sense := vg.Length(1)
	if wireCurrent(w, &p.v.Now) < 0 {
		sense = -1
	}
	strength := p.strength(w)
	whole, passed := extent(p.path), vg.Length(0)
	p.beads = p.beads[:0]
	for i := 1; i < len(p.path); i++ {
		a, b := p.path[i-1].Pos, p.path[i].Pos
		length := apart(a, b)
		if length <= 0 {
			continue
		}
		along := b.Sub(a).Scale(1 / length)
		for ; next < length; next, k = next+gap, k+1 {
			d := passed + next
			size := beadSize(k, strength) * min(1, d/f.u, (whole-d)/f.u)
			if size > 0.2 && p.path[i].Type != vg.MoveComp {
				p.bead(a.Add(along.Scale(next)), along.Scale(sense), size*f.u, size*side)
			}
		}
		next -= length
		passed += length
	}
	p.SetColor(p.ink.ground)
	p.Fill(p.beads)
}

// bead adds a bead to the beads: a head with a notched back, its middle at a point.
func (p *pen) bead(at, ahead vg.Point, long, half vg.Length) {
	across := vg.Point{X: -ahead.Y, Y: ahead.X}.Scale(half)
	back := at.Sub(ahead.Scale(0.65 * long))
	p.beads.Move(at.Add(ahead.Scale(0.75 * long)))
	p.beads.Line(back.Add(across))
	p.beads.Line(at.Sub(ahead.Scale(0.35 * long)))
	p.beads.Line(back.Sub(across))
	p.beads.Close()
}

// extent returns how long a path of straight pieces is, from its first point to its last.
func extent(path vg.Path) vg.Length {
	sum := vg.Length(0)
	for i := 1; i < len(path); i++ {
		sum += apart(path[i-1].Pos, path[i].Pos)
	}
	return sum
}

// apart returns how far apart two points are.
func apart(a, b vg.Point) vg.Length { return vg.Length(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y))) }

// beadSize returns how large the k-th bead is, 0 to 1, where the current is a share of the full scale.
func beadSize(k int, strength float64) vg.Length {
	grown := func(from, to float64) vg.Length { return vg.Length(max(0, min(1, (strength-from)/(to-from)))) }
	switch k % beadCycle {
	case 0:
		return 0.6 + 0.4*grown(0, 0.2)
	case 2:
		return grown(0.08, 0.25)
	}
	return grown(0.3, 0.55)
}
