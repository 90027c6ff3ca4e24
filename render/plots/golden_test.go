package plots

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/plot/cmpimg"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"

	"sextant/render"
)

var renew = flag.Bool("renew", false, "write the golden pictures anew; look at them before committing")

// Delta 0.1 forgives 25 grey levels in 255 at a pixel: rounding that differs between processors moves an edge by
// less than that, whatever is misplaced moves more.
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
		matches(t, tt.scenario, tt.w, tt.h, f.Draw)
	}
}

// matches compares a picture with the golden one of that name, or renews that.
func matches(t *testing.T, name string, w, h vg.Length, draw func(vg.Canvas, vg.Rectangle)) {
	t.Helper()
	c := vgimg.NewWith(vgimg.UseWH(w, h), vgimg.UseDPI(96))
	draw(c, vg.Rectangle{Max: vg.Point{X: w, Y: h}})
	var got bytes.Buffer
	if _, err := (vgimg.PngCanvas{Canvas: c}).WriteTo(&got); err != nil {
		t.Fatal(err)
	}
	golden := filepath.Join("testdata", name+".png")
	if *renew {
		if err := os.WriteFile(golden, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	same, err := cmpimg.EqualApprox("png", got.Bytes(), want, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	if !same {
		seen := filepath.Join(t.ArtifactDir(), name+".png")
		if err := os.WriteFile(seen, got.Bytes(), 0o644); err != nil {
			t.Error(err)
		}
		t.Errorf("the picture differs from %s; it is at %s (with -artifacts), and -renew accepts it", golden, seen)
	}
}
