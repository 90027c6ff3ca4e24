package edition

import (
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/render"
)

// fingers puts fingers on the page, moves them from place to place, and lifts them after a rest.
func (p *phone) fingers(rest time.Duration, places ...[]vg.Point) {
	p.Helper()
	for k, at := range append(places, nil) {
		e := input.DispatchTouchEventParams{Type: input.DispatchTouchEventTypeTouchMove, TouchPoints: []*input.TouchPoint{}}
		switch {
		case k == 0:
			e.Type = input.DispatchTouchEventTypeTouchStart
		case at == nil:
			e.Type = input.DispatchTouchEventTypeTouchEnd
			p.do(chromedp.Sleep(rest))
		}
		for id, pt := range at {
			e.TouchPoints = append(e.TouchPoints, &input.TouchPoint{X: pt.X.Points(), Y: phoneHeight - pt.Y.Points(), ID: new(float64(id))})
		}
		if _, err := chromedp.Call(p.ctx, input.DispatchTouchEvent, e); err != nil {
			p.Fatal(err)
		}
		p.do(chromedp.Sleep(80 * time.Millisecond))
	}
}

// TestStageByTouch lays fingers on the stage: a tap cuts a wire, one that rests has it explained and cuts nothing, the
// tape is dragged into the past and stretched, and a lane is carried by its name.
func TestStageByTouch(t *testing.T) {
	t.Parallel()
	url, _ := serveHere(t)
	p := openPhone(t, url)
	p.do(chromedp.KeyEvent(" "))
	p.until("a key stops it", func(s state) bool { return !s.Playing })

	f := p.model.Arrange(phoneWidth, phoneHeight, 1)
	l := render.Arrange(render.Everything, f.Stage, p.model.StageText(&f))
	middle := func(r vg.Rectangle) vg.Point { return r.Min.Add(r.Max).Scale(0.5) }
	wire, ok := l.Where(render.Part{Kind: render.WirePart, Phase: inverter.V})
	if !ok {
		t.Fatal("there is no wire")
	}
	p.fingers(900*time.Millisecond, []vg.Point{middle(wire)})
	p.do(chromedp.Sleep(300 * time.Millisecond))
	if s := p.state(); len(s.Faults) != 0 {
		t.Errorf("a finger that rests on a wire cuts it: %v", s.Faults)
	}
	p.fingers(0, []vg.Point{middle(wire)})
	p.until("a tap cuts the wire", func(s state) bool { return len(s.Faults) == 1 })
	p.do(chromedp.KeyEvent("u"))
	p.until("u mends it", func(s state) bool { return len(s.Faults) == 0 })

	tape := middle(l.Lanes[render.CurrentLane])
	right := func(by vg.Length) vg.Point { return vg.Point{X: tape.X + by, Y: tape.Y} }
	p.fingers(0, []vg.Point{tape}, []vg.Point{right(20)}, []vg.Point{right(40)}, []vg.Point{right(60)})
	past := p.until("the tape is dragged into the past", func(s state) bool { return s.Past > 0 })
	p.fingers(0, []vg.Point{right(-20), right(20)}, []vg.Point{right(-40), right(40)}, []vg.Point{right(-60), right(60)})
	p.until("two fingers stretch the tape", func(s state) bool { return s.Span < past.Span/1.5 })

	shown := p.state().Lanes
	first, second := l.Lanes[render.GateLane], l.Lanes[l.Shown()[1]]
	name := vg.Point{X: l.Tape.Min.X + 12, Y: middle(first).Y}
	below := vg.Point{X: name.X, Y: second.Min.Y + (second.Max.Y-second.Min.Y)/8}
	p.fingers(0, []vg.Point{name}, []vg.Point{middle(vg.Rectangle{Min: name, Max: below})}, []vg.Point{below})
	p.until("a lane is carried below the next", func(s state) bool {
		return len(s.Lanes) == len(shown) && s.Lanes[1] == shown[0] && slices.Contains(s.Lanes, shown[1])
	})
	p.content()
}
