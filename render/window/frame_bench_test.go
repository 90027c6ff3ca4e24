//go:build display

package window

import (
	"fmt"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"

	"sextant/motor/drive"
	"sextant/render/window/show"
)

// BenchmarkFrame draws a running drive frame by frame, and waits until the graphics have done each, without
// handing it to a screen: what a frame costs processor and graphics together, one after the other.
func BenchmarkFrame(b *testing.B) {
	for _, size := range []struct{ w, h int }{{1280, 720}, {1920, 1080}, {3840, 2160}} {
		b.Run(fmt.Sprintf("%dx%d", size.w, size.h), func(b *testing.B) {
			const name = "hauler-pwm"
			sc, err := drive.Open(name)
			if err != nil {
				b.Fatal(err)
			}
			s, err := show.New([]show.Choice{{Name: name, Scenario: sc}}, 0, true)
			if err != nil {
				b.Fatal(err)
			}
			g := &game{show: s, width: float64(size.w), height: float64(size.h), ratio: 1}
			picture, grain := ebiten.NewImage(size.w, size.h), ebiten.NewImage(8, 8)
			defer picture.Deallocate()
			var shrink ebiten.DrawImageOptions
			shrink.GeoM.Scale(8/float64(size.w), 8/float64(size.h))
			pixels := make([]byte, 4*8*8)
			frame := func() {
				s.Tick(1.0 / 60)
				g.Draw(picture)
				grain.DrawImage(picture, &shrink) // depends on the picture, so that reading it waits for that
				grain.ReadPixels(pixels)
			}
			for range 30 {
				frame() // what is kept from frame to frame
			}
			b.ReportAllocs()
			for b.Loop() {
				frame()
			}
		})
	}
}
