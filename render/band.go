package render

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
)

// bandStill draws the title.
func (p *pen) bandStill() {
	if p.v.Scenario == nil {
		return
	}
	l := p.l
	a := label{
		at:   vg.Point{X: l.Sentence.Min.X + l.margin, Y: l.Sentence.Max.Y - l.margin - l.body*0.5},
		size: l.body, color: p.ink.muted, room: l.clock() - l.Sentence.Min.X - 2*l.margin,
	}
	if l.narrow {
		a.room = l.Sentence.Max.X - l.Sentence.Min.X - 2*l.margin
	}
	p.write(p.v.Scenario.Title, a)
}

// clock is where the time begins: beside the title, or below it where the stage is narrow.
func (l *Layout) clock() vg.Length {
	if l.narrow {
		return l.Sentence.Min.X + l.margin
	}
	return l.Sentence.Min.X + (l.Sentence.Max.X-l.Sentence.Min.X)*0.6
}

// bandMoving draws the time and the sentence.
func (p *pen) bandMoving() {
	l := p.l
	edge := l.Sentence.Max.X - l.margin
	line := l.Sentence.Max.Y - l.margin - l.body*0.5
	top := l.Sentence.Max.Y - l.margin - l.body*1.35
	if l.narrow {
		line -= l.body * 1.3
		top -= l.body * 1.3
	}
	p.write(p.clockText(), label{
		at:   vg.Point{X: edge, Y: line},
		size: l.body, align: right, color: p.ink.text, bold: true, room: edge - l.clock(),
	})
	text := Typeset(Sentence(&p.v.Now, p.v.Scenario))
	room := edge - l.Sentence.Min.X - l.margin
	high := top - l.Sentence.Min.Y
	size, t := l.large, bold()
	for {
		p.lines = t.wrap(p.lines, text, size, room)
		if need := size * 1.22 * vg.Length(len(p.lines)); need <= high || size < l.small*0.6 {
			break
		}
		size *= 0.94
	}
	for k, line := range p.lines {
		p.write(line, label{
			at:   vg.Point{X: l.Sentence.Min.X + l.margin, Y: top - size*(1.22*vg.Length(k)+0.6)},
			size: size, color: p.ink.text, bold: true, room: room,
		})
	}
}

// clockText says the time, how much it is slowed and whether it runs.
func (p *pen) clockText() string {
	b := p.digit[:0]
	if slow := p.v.TimeScale; slow > 0 {
		if !p.v.Playing {
			b = append(b, "paused   "...)
		}
		if slow >= 0.9999 {
			b = append(b, "real time   "...)
		} else {
			b = append(b, "1/"...)
			b = strconv.AppendFloat(b, math.Round(1/slow), 'f', 0, 64)
			b = append(b, " speed   "...)
		}
	}
	b = append(b, "t = "...)
	b = strconv.AppendFloat(b, p.v.Now.Time*1e3, 'f', 4, 64)
	b = append(b, " ms"...)
	p.digit = b
	return string(b)
}
