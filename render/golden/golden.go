// Package golden compares pictures with ones that somebody has looked at. It is for tests.
package golden

import (
	"bytes"
	"flag"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/plot/cmpimg"
	"gonum.org/v1/plot/vg"

	"sextant/render/picture/raster"
)

var renew = flag.Bool("renew", false, "write the golden pictures anew; look at them before committing")

// delta forgives 25 grey levels in 255 at a pixel: rounding that differs between processors moves an edge by
// less than that, whatever is misplaced moves more.
const delta = 0.1

// Matches compares what draw draws, so large, with testdata/NAME.png, or renews that under -renew. A picture
// that differs fails the test and is kept among its artifacts.
func Matches(t *testing.T, name string, w, h vg.Length, draw func(vg.Canvas, vg.Rectangle)) {
	t.Helper()
	img := raster.Image(w, h)
	draw(raster.New(img), vg.Rectangle{Max: vg.Point{X: w, Y: h}})
	matches(t, name, img, img)
}

// MatchesSmall is [Matches] for many small pictures: they are kept with 256 colours, in a quarter of the room.
func MatchesSmall(t *testing.T, name string, w, h vg.Length, draw func(vg.Canvas, vg.Rectangle)) {
	t.Helper()
	img := raster.Image(w, h)
	draw(raster.New(img), vg.Rectangle{Max: vg.Point{X: w, Y: h}})
	matches(t, name, img, reduced(img))
}

// matches compares img with what is kept, or keeps it in the form given.
func matches(t *testing.T, name string, img *image.RGBA, form image.Image) {
	t.Helper()
	kept := filepath.Join("testdata", name+".png")
	if *renew {
		var file bytes.Buffer
		if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&file, form); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(kept, file.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(kept)
	if err != nil {
		t.Fatal(err)
	}
	if few, err := png.Decode(bytes.NewReader(want)); err != nil {
		t.Fatalf("%s: %v", kept, err)
	} else if few, ok := few.(*image.Paletted); ok {
		settle(img, few)
	}
	var got bytes.Buffer
	if err := png.Encode(&got, img); err != nil {
		t.Fatal(err)
	}
	same, err := cmpimg.EqualApprox("png", got.Bytes(), want, delta)
	if err != nil {
		t.Fatal(err)
	}
	if !same {
		seen := filepath.Join(t.ArtifactDir(), name+".png")
		if err := os.WriteFile(seen, got.Bytes(), 0o644); err != nil {
			t.Error(err)
		}
		t.Errorf("the picture differs from %s; it is at %s (with -artifacts), and -renew accepts it", kept, seen)
	}
}
