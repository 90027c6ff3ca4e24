package render

import (
	"math/rand/v2"
	"testing"

	"sextant/inverter/pattern"
)

// A picture of any shape is drawn with few strokes: one that is a thousand times as wide as high has as many dashes as others.
func TestOddShapesAreDrawnWithFewStrokes(t *testing.T) {
	v := demo(t, pattern.SpaceVector, 0.1)
	v.Span = 0.05
	for _, size := range [][2]int{{1920, 1080}, {1600, 20}, {1600, 3}, {1600, 1}, {4000, 1}, {1, 1}, {1, 1000}, {20, 1600}, {700, 60}} {
		var c nothing
		l := Arrange(Everything, area(size[0], size[1]), 1)
		DrawStill(&c, l, v)
		DrawMoving(&c, l, v)
		if c.comps > 40_000 {
			t.Errorf("%d x %d takes %d pieces of path", size[0], size[1], c.comps)
		}
	}
}

// However narrow the stage, large its text and many its cursors, its waveforms have room left of the now-line.
func TestNowLineLiesWithinTheTrace(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	v := demo(t, pattern.SpaceVector, 0.05)
	v.Span = 0.03
	for k := range 20_000 {
		width, height := 1+r.IntN(1400), 1+r.IntN(900)
		switch k % 4 {
		case 0:
			width = 1 + r.IntN(60)
		case 1:
			height = 1 + r.IntN(60)
		}
		l := Arrange(Focuses[r.IntN(len(Focuses))], area(width, height), []float64{1, 1.2, 1.45}[r.IntN(3)]).WithCursors(r.IntN(3))
		if empty(l.Tape) {
			continue
		}
		if !(l.Now > l.Trace.Min.X && l.Now <= l.Trace.Max.X) {
			t.Fatalf("%d x %d: the now-line is at %g, the trace from %g to %g", width, height, l.Now, l.Trace.Min.X, l.Trace.Max.X)
		}
		if k%100 == 0 {
			DrawMoving(&nothing{}, l, v)
		}
	}
	narrow := Arrange(OnTape, area(400, 700), 1) // a hand-made layout without room draws no waveforms, and ends
	narrow.Now = narrow.Trace.Min.X - 1
	DrawMoving(&nothing{}, narrow, v)
}
