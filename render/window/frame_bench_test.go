//go:build display

package window

import (
	"fmt"
	"syscall"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"

	"sextant/motor/scenario"
	"sextant/render/window/show"
)

// BenchmarkFrame draws a running drive frame by frame, and waits until the graphics have done each, without
// handing it to a screen: what a frame costs processor and graphics together, one after the other.
func BenchmarkFrame(b *testing.B) {
	bySize(b, func(b *testing.B, w, h int) { benchmarkFrames(b, w, h, ebiten.NewImage(w, h)) })
}

// BenchmarkProcessor draws the same frames on a few pixels, of which graphics have next to nothing to do: what
// the processor takes. Its own time, ns of CPU, does not depend on what else a machine does.
func BenchmarkProcessor(b *testing.B) {
	bySize(b, func(b *testing.B, w, h int) { benchmarkFrames(b, w, h, ebiten.NewImage(8, 8)) })
}

func bySize(b *testing.B, run func(b *testing.B, w, h int)) {
	for _, size := range []struct{ w, h int }{{1280, 720}, {1920, 1080}, {3840, 2160}} {
		b.Run(fmt.Sprintf("%dx%d", size.w, size.h), func(b *testing.B) { run(b, size.w, size.h) })
	}
}

// benchmarkFrames draws frames of w by h pixels, as much of them as there is of picture.
func benchmarkFrames(b *testing.B, w, h int, picture *ebiten.Image) {
	defer picture.Deallocate()
	const name = "hauler-pwm"
	sc, err := scenario.Open(name)
	if err != nil {
		b.Fatal(err)
	}
	s, err := show.New([]show.Choice{{Name: name, Scenario: sc}}, 0, true)
	if err != nil {
		b.Fatal(err)
	}
	g := &game{show: s, width: float64(w), height: float64(h), ratio: 1}
	const few = 8
	grain := ebiten.NewImage(few, few)
	defer grain.Deallocate()
	var shrink ebiten.DrawImageOptions
	size := picture.Bounds().Size()
	shrink.GeoM.Scale(few/float64(size.X), few/float64(size.Y))
	pixels := make([]byte, 4*few*few)
	frame := func() {
		s.Tick(1.0 / 60)
		g.Draw(picture)
		grain.DrawImage(picture, &shrink) // depends on the picture, so that reading it waits for that
		grain.ReadPixels(pixels)
	}
	for range 30 {
		frame() // what is kept from frame to frame
	}
	start := processorTime(b)
	b.ReportAllocs()
	for b.Loop() {
		frame()
	}
	b.ReportMetric((processorTime(b)-start)/float64(b.N), "cpu-ns/op")
}

// processorTime returns the ns that this process has run on any core.
func processorTime(b *testing.B) float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return float64(u.Utime.Nano() + u.Stime.Nano())
}
