package film

import (
	"fmt"
	"iter"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/render"
	"sextant/render/picture"
)

// pointing is for how many s the part that a scene points at stands out from all else.
const pointing = 3

// A shot is what a frame shows, or why it cannot.
type shot struct {
	setting *setting
	view    *render.View // nil where there is no drive to be seen
	says    string
	left    float64 // part of the time to think that is left; 0 shows none
	err     error
}

// shots runs the drives and yields the shots of all frames in order.
func (f *Film) shots() iter.Seq[shot] {
	return func(yield func(shot) bool) {
		for _, s := range f.scenes() {
			more, err := f.shoot(&s, yield)
			if err != nil && f.Lesson != nil {
				err = fmt.Errorf("scene %q: %w", s.title, err)
			}
			if err != nil {
				yield(shot{err: err})
			}
			if err != nil || !more {
				return
			}
		}
	}
}

// shoot hands the shots of a scene to take, and tells whether that wants more.
func (f *Film) shoot(s *scene, take func(shot) bool) (more bool, err error) {
	if s.begins == nil {
		for i := range s.pages {
			p := &s.pages[i]
			card := &setting{look: picture.Look{Size: f.Size}, theme: f.Theme, words: p.words}
			for range f.frames(p) {
				if !take(shot{setting: card, says: p.says}) {
					return false, nil
				}
			}
		}
		return true, nil
	}
	r, err := f.begin(s)
	if err != nil {
		return false, err
	}
	for i := range s.pages {
		if more, err := r.page(&s.pages[i], take); err != nil || !more {
			return more, err
		}
	}
	return r.finish(take)
}

// A run is a scene's drive as it goes on, and the shots for which the tape does not reach far enough yet.
type run struct {
	film    *Film
	scene   *scene
	drive   *drive.Drive
	record  *picture.Record
	span    float64 // s, of its tape
	since   float64 // s, when the scenario was last changed
	scales  render.Scales
	beads   render.Beads
	waiting []shot
}

// begin runs a scene's drive up to where its first page begins.
func (f *Film) begin(s *scene) (*run, error) {
	d, err := drive.New(*s.begins)
	if err != nil {
		return nil, err
	}
	r := &run{film: f, scene: s, drive: d, span: picture.Span(s.begins)}
	if err := d.Advance(max(0, s.at-r.span)); err != nil {
		return nil, err
	}
	r.record = picture.NewRecord(d, r.span)
	return r, d.Advance(s.at - d.Time())
}

// look returns how a scene's stage is shown.
func (f *Film) look(s *scene) picture.Look {
	return picture.Look{Size: f.Size, Focus: s.focus, Lanes: f.Lanes}
}

// page carries the drive through a page.
func (r *run) page(p *page, take func(shot) bool) (more bool, err error) {
	if p.carry != nil {
		if err := r.drive.Change(*p.carry); err != nil {
			return false, err
		}
		r.since = r.drive.Time()
	}
	scenario := r.drive.Scenario()
	if r.scene.hidden {
		scenario.Faults = nil
	}
	f, n, began := r.film, r.film.frames(p), r.drive.Time()
	labels := f.Numbering
	if labels == inverter.Names {
		labels = r.scene.labels
	}
	set := func(lit render.Part) *setting {
		return &setting{
			look: f.look(r.scene), theme: f.Theme, words: p.words, room: p.room,
			scenario: &scenario, numbering: labels, lit: lit,
		}
	}
	lit, plain := set(r.scene.point), set(render.Part{})
	for k := range n {
		if err := r.drive.Advance(max(0, began+p.passes*float64(k)/float64(n)-r.drive.Time())); err != nil {
			return false, err
		}
		now := plain
		if p.lit && float64(k) < pointing*float64(f.Rate) {
			now = lit
		}
		hover := r.scene.point
		if p.think { // the frame may be the answer
			hover = render.Part{}
		}
		s := shot{setting: now, says: p.says, view: &render.View{
			Scenario: &scenario, Now: r.drive.Now(), Span: r.span, Since: r.since, Playing: true, TimeScale: p.passes / p.lasts,
			Hover: hover, Emphasis: now.lit, Numbering: labels, Theme: f.Theme,
		}}
		if p.think {
			s.left = 1 - float64(k)/float64(n)
		}
		r.waiting = append(r.waiting, s)
		for len(r.waiting) > 0 && r.record.Covers(r.waiting[0].view.Now.Time) {
			if !r.next(take) {
				return false, nil
			}
		}
	}
	return true, r.drive.Advance(max(0, began+p.passes-r.drive.Time()))
}

// next hands on the first shot that waits, with what the tape has.
func (r *run) next(take func(shot) bool) bool {
	s := r.waiting[0]
	r.waiting = r.waiting[1:]
	v := s.view
	v.Tape = r.record.Around(v.Now.Time)
	r.scales = r.scales.Union(render.ScalesOf(&v.Now, v.Tape))
	v.Scales, v.Beads = r.scales, r.beads
	r.beads.Advance(v.Now, 1/float64(r.film.Rate))
	return take(s)
}

// finish hands on what waits still.
func (r *run) finish(take func(shot) bool) (more bool, err error) {
	r.record.RunOut()
	for len(r.waiting) > 0 {
		if !r.next(take) {
			return false, nil
		}
	}
	return true, nil
}
