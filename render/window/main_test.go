//go:build display

package window

import (
	"flag"
	"os"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
)

// TestMain runs the tests within Ebitengine's loop, outside of which no pixel can be read. They need a
// display; TestOnDisplay of the package display gives them one.
func TestMain(m *testing.M) {
	flag.Parse()
	if *frames > 0 {
		if err := timeFrames(*frames, *width, *height); err != nil {
			panic(err)
		}
		return
	}
	loop := &testLoop{run: m.Run}
	ebiten.SetWindowSize(320, 240)
	if err := ebiten.RunGame(loop); err != nil {
		panic(err)
	}
	os.Exit(loop.status)
}

type testLoop struct {
	run    func() int
	status int
}

func (l *testLoop) Update() error {
	l.status = l.run()
	return ebiten.Termination
}

func (l *testLoop) Draw(*ebiten.Image) {}

func (l *testLoop) Layout(w, h int) (int, int) { return w, h }
