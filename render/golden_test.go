package render

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/plot/cmpimg"
	"gonum.org/v1/plot/vg/vgimg"

	"sextant/inverter/pattern"
	"sextant/motor"
)

var renew = flag.Bool("renew", false, "write the golden pictures anew; look at them before committing")

// Delta 0.1 forgives 25 grey levels in 255 at a pixel: rounding that differs between processors moves an edge by
// less than that, whatever is misplaced moves more.
func TestGolden(t *testing.T) {
	passive := demo(t, pattern.SixStep180, 0.0137)
	passive.Scenario.Machine.Kind = motor.Passive
	printed := demo(t, pattern.SixStep120, 0.0137)
	printed.Theme = Print
	for _, tt := range []struct {
		file          string
		view          *View
		width, height int
	}{
		{"stage-dark.png", demo(t, pattern.SpaceVector, 0.0121), 640, 360},
		{"stage-print.png", printed, 640, 360},
		{"stage-passive.png", passive, 640, 360},
		{"stage-phone.png", demo(t, pattern.SixStep180, 0.0137), 390, 844},
	} {
		r := area(tt.width, tt.height)
		c := vgimg.NewWith(vgimg.UseWH(r.Max.X, r.Max.Y), vgimg.UseDPI(96))
		Draw(c, Arrange(r, 1), tt.view)
		var got bytes.Buffer
		if _, err := (vgimg.PngCanvas{Canvas: c}).WriteTo(&got); err != nil {
			t.Fatal(err)
		}
		golden := filepath.Join("testdata", tt.file)
		if *renew {
			if err := os.WriteFile(golden, got.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
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
			seen := filepath.Join(t.ArtifactDir(), tt.file)
			if err := os.WriteFile(seen, got.Bytes(), 0o644); err != nil {
				t.Error(err)
			}
			t.Errorf("the picture differs from %s; it is at %s (with -artifacts), and -renew accepts it", golden, seen)
		}
	}
}
