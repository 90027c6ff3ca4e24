//go:build display

package window

import (
	"flag"
	"fmt"
	"image/color"
	"slices"
	"time"

	"github.com/hajimehoshi/ebiten/v2"

	"sextant/motor/scenario"
	"sextant/render/window/show"
)

// frames asks for a measurement instead of tests: how long a frame of the moving picture takes from one
// to the next, processor and graphics together, without waiting for the screen.
var frames = flag.Int("frames", 0, "time this many frames of a window of -width by -height pixels, instead of testing")
var blank = flag.Bool("blank", false, "time frames on which nothing is drawn: what the screen itself takes")
var width = flag.Int("width", 1920, "of the window whose frames are timed")
var height = flag.Int("height", 1080, "of the window whose frames are timed")

// A timer is a game that notes how long each frame takes and ends after some.
type timer struct {
	game
	last  time.Time
	took  []time.Duration
	warm  int // frames left that are not counted: the first ones build what is kept
	until int
}

func (t *timer) Update() error {
	now := time.Now()
	if t.warm--; t.warm < 0 {
		t.took = append(t.took, now.Sub(t.last))
	}
	t.last = now
	if len(t.took) >= t.until {
		return ebiten.Termination
	}
	return t.game.Update()
}

func (t *timer) Draw(screen *ebiten.Image) {
	if *blank {
		screen.Fill(color.Black)
		return
	}
	t.game.Draw(screen)
}

// timeFrames shows a drive that runs and prints how long its frames took.
func timeFrames(n, w, h int) error {
	const name = "hauler-pwm"
	sc, err := scenario.Open(name)
	if err != nil {
		return err
	}
	s, err := show.New([]show.Choice{{Name: name, Scenario: sc}}, 0, true)
	if err != nil {
		return err
	}
	t := &timer{game: game{show: s}, warm: 60, until: n}
	ebiten.SetWindowSize(w, h)
	ebiten.SetWindowDecorated(false)
	ebiten.SetScreenClearedEveryFrame(false)
	ebiten.SetTPS(ebiten.SyncWithFPS)
	ebiten.SetVsyncEnabled(false)
	if err := ebiten.RunGame(t); err != nil {
		return err
	}
	slices.Sort(t.took)
	var sum time.Duration
	for _, d := range t.took {
		sum += d
	}
	at := func(share float64) time.Duration { return t.took[int(share*float64(n-1))] }
	var gl ebiten.DebugInfo
	ebiten.ReadDebugInfo(&gl)
	fmt.Printf("%gx%g by %v: %d frames, %d drawn: mean %v, median %v, 99 %% within %v, longest %v\n",
		t.game.width, t.game.height, gl.GraphicsLibrary, n, t.game.frames, sum/time.Duration(n), at(0.5), at(0.99), at(1))
	return nil
}
