package render

import (
	"testing"

	"gonum.org/v1/plot/vg"

	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/render/golden"
)

func TestGolden(t *testing.T) {
	passive := demo(t, pattern.SixStep180, 0.0137)
	passive.Scenario.Machine.Kind = motor.Passive
	printed := demo(t, pattern.SixStep120, 0.0137)
	printed.Theme = Print
	for _, tt := range []struct {
		name          string
		view          *View
		width, height int
	}{
		{"stage-dark", demo(t, pattern.SpaceVector, 0.0121), 640, 360},
		{"stage-print", printed, 640, 360},
		{"stage-passive", passive, 640, 360},
		{"stage-phone", demo(t, pattern.SixStep180, 0.0137), 390, 844},
	} {
		size := area(tt.width, tt.height).Max
		golden.Matches(t, tt.name, size.X, size.Y, func(c vg.Canvas, r vg.Rectangle) { Draw(c, Arrange(Everything, r, 1), tt.view) })
	}
}
