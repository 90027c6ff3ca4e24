package render

import (
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
