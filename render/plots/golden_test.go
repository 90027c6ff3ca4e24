package plots

import (
	"testing"

	"gonum.org/v1/plot/vg"

	"sextant/render"
	"sextant/render/golden"
)

func TestGolden(t *testing.T) {
	for _, tt := range []struct {
		scenario string
		theme    render.Theme
		w, h     vg.Length
	}{
		{"hauler-phase-lost", render.Print, 480, 360},
		{"hauler-full-battery", render.Print, 480, 360},
		{"trainer-120", render.Dark, 292.5, 633},
	} {
		f := record(t, tt.scenario, int(tt.w*96/72))
		f.Theme = tt.theme
		golden.Matches(t, tt.scenario, tt.w, tt.h, f.Draw)
	}
}
