package film

import (
	"image"
	"image/color"
	"slices"
	"sync"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/render"
	"sextant/render/picture"
	"sextant/render/picture/raster"
)

// A setting is what stays the same through a page: the ground, what of the stage does not move, and words. It is
// drawn once.
type setting struct {
	look        picture.Look
	theme       render.Theme
	bare        bool               // without a ground
	words, room []render.Paragraph // below the stage; they have it for themselves where there is no scenario
	scenario    *drive.Scenario
	lit         render.Part
	numbering   inverter.Numbering

	once   sync.Once
	layout render.Layout
	foot   vg.Rectangle // of the words; empty where there are none
	still  *image.RGBA
}

// most of the height may be words.
const most = 0.42

// units returns the picture's area, and the size of its letters.
func (s *setting) units() (area vg.Rectangle, letters vg.Length) {
	const point = 72.0 / 96
	area.Max = vg.Point{X: vg.Length(s.look.Size.Width) * point, Y: vg.Length(s.look.Size.Height) * point}
	if w, h := area.Max.X, area.Max.Y; w < 0.9*h {
		return area, 2.5 * min(w/64, h/138)
	} else {
		return area, 2.7 * min(w/160, h/90)
	}
}

// draw draws the setting on c, which is on its still.
func (s *setting) draw(c vg.Canvas) {
	c = s.look.On(c)
	area, letters := s.units()
	if s.scenario == nil {
		s.card(c, area, letters)
		return
	}
	stage := area
	if len(s.words) > 0 {
		wide := area.Max.X - 2*letters
		tall := min(render.ProseHeight(s.room, wide, letters)+1.2*letters, most*area.Max.Y)
		s.foot = vg.Rectangle{Max: vg.Point{X: area.Max.X, Y: tall}}
		stage.Min.Y = tall
	}
	s.layout = s.look.Arrange(stage)
	render.DrawStill(c, s.layout, &render.View{Scenario: s.scenario, Theme: s.theme, Numbering: s.numbering, Emphasis: s.lit, Bare: s.bare})
	if len(s.words) == 0 {
		return
	}
	c.SetColor(s.theme.Panel())
	c.Fill(s.foot.Path())
	s.rule(c, 1, s.theme.Rule())
	inner := s.foot
	inner.Min.X, inner.Max.X = letters, area.Max.X-letters
	inner.Max.Y -= 0.7 * letters
	render.DrawProse(c, inner, letters, s.theme, s.words)
}

// rule draws a part of the line between stage and words.
func (s *setting) rule(c vg.Canvas, part float64, ink color.Color) {
	_, letters := s.units()
	c.SetColor(ink)
	r := s.foot
	r.Max.X *= vg.Length(part)
	r.Min.Y = r.Max.Y - 0.18*letters
	c.Fill(r.Path())
}

// move draws on c, which the setting is drawn on, what of a shot moves.
func (s *shot) move(c vg.Canvas) {
	set := s.setting
	render.DrawMoving(set.look.On(c), set.layout, s.view)
	if s.left > 0 {
		set.rule(c, s.left, set.theme.Accent())
	}
}

// picture returns a shot's picture, which must not be changed; c is any canvas.
func (s *shot) picture(c *raster.Canvas) *image.RGBA {
	set := s.setting
	set.once.Do(func() {
		set.still = image.NewRGBA(image.Rect(0, 0, set.look.Size.Width, set.look.Size.Height))
		c.On(set.still)
		set.draw(c)
	})
	if s.view == nil {
		return set.still
	}
	p := &image.RGBA{Pix: slices.Clone(set.still.Pix), Stride: set.still.Stride, Rect: set.still.Rect}
	c.On(p)
	s.move(c)
	return p
}

// card draws a title.
func (s *setting) card(c vg.Canvas, area vg.Rectangle, letters vg.Length) {
	c.SetColor(s.theme.Ground())
	c.Fill(area.Path())
	large := 2.2 * letters
	head, body := s.words[:1], s.words[1:]
	wide := min(area.Max.X-4*letters, 36*letters)
	inner := vg.Rectangle{Min: vg.Point{X: (area.Max.X - wide) / 2}, Max: vg.Point{X: (area.Max.X + wide) / 2}}
	tall := render.ProseHeight(head, wide, large)
	inner.Max.Y = min(area.Max.Y-letters, area.Max.Y/2+tall+letters)
	inner.Min.Y = inner.Max.Y - tall
	render.DrawProse(c, inner, large, s.theme, head)
	c.SetColor(s.theme.Accent())
	line := inner.Min.Y - 0.5*letters
	c.Fill(vg.Rectangle{Min: vg.Point{X: inner.Min.X, Y: line}, Max: vg.Point{X: inner.Min.X + 6*letters, Y: line + 0.2*letters}}.Path())
	inner.Max.Y, inner.Min.Y = line-0.7*letters, 0
	for _, p := range body {
		render.DrawProse(c, inner, letters, s.theme, []render.Paragraph{p})
		inner.Max.Y -= render.ProseHeight([]render.Paragraph{p}, wide, letters) + 0.6*letters
	}
}
