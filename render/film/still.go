package film

import (
	"fmt"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/inverter/si"
	"sextant/render"
	"sextant/render/lesson"
	"sextant/render/picture"
)

// A Still is a picture of a lesson's scene.
type Still struct {
	Scene     *lesson.Scene
	At        float64      // s of the drive since the scene began
	Look      picture.Look // its focus is the scene's
	Theme     render.Theme
	Numbering inverter.Numbering
	Bare      bool // without a ground
}

// Draw returns what draws the picture: the stage, and below it, unless the look is silent, the words that are said then.
// It fails for a time below zero, and as the drive does.
func (s *Still) Draw() (func(c vg.Canvas), error) {
	if !(s.At >= 0) {
		return nil, fmt.Errorf("%g s: a scene begins at 0", s.At)
	}
	f := &Film{Rate: 1, Size: s.Look.Size, Theme: s.Theme, Numbering: s.Numbering, Lanes: s.Look.Lanes}
	scene := f.played(s.Scene)
	if lasts := scene.passes(); s.At > lasts {
		return nil, fmt.Errorf("%s: the scene is over after %s of the drive's time", si.Time.Format(s.At, 3), si.Time.Format(lasts, 3))
	}
	scene.cut(s.At)
	if s.Look.Silent {
		for i := range scene.pages {
			scene.pages[i].words = nil
		}
	}
	var last shot
	if _, err := f.shoot(&scene, func(s shot) bool { last = s; return true }); err != nil {
		return nil, err
	}
	set := last.setting
	set.look.Text, set.look.Silent, set.look.Mute, set.bare = s.Look.Text, s.Look.Silent, s.Look.Mute, s.Bare
	last.view.Bare = s.Bare
	return func(c vg.Canvas) {
		set.draw(c)
		last.move(c)
	}, nil
}

// passes returns how many s of the drive's time pass in a scene.
func (s *scene) passes() (sum float64) {
	for i := range s.pages {
		sum += s.pages[i].passes
	}
	return sum
}

// cut leaves of a scene what comes up to a time, in s of the drive since it began, and a page that shows just that.
func (s *scene) cut(at float64) {
	n, left := 0, at
	for ; n+1 < len(s.pages) && s.pages[n].passes <= left; n++ {
		left -= s.pages[n].passes
	}
	s.pages = s.pages[:n+1]
	p := &s.pages[n]
	p.passes = left
	last := *p
	last.carry, last.passes, last.lasts = nil, 0, 1
	last.lit = false // framed is enough where there is time to look
	s.pages = append(s.pages, last)
}
