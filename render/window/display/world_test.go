package display_test

import (
	"bytes"
	"image"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"sextant/render/window/display"
)

func TestProgramWithoutDisplay(t *testing.T) {
	for _, tt := range []struct{ display, says string }{
		{"", "DISPLAY is not set"},
		{":7777", `DISPLAY is ":7777"`},
		{"nowhere", `DISPLAY is "nowhere"`},
	} {
		cmd := exec.Command(build(t))
		for _, v := range os.Environ() {
			if !strings.HasPrefix(v, "DISPLAY=") {
				cmd.Env = append(cmd.Env, v)
			}
		}
		if tt.display != "" {
			cmd.Env = append(cmd.Env, "DISPLAY="+tt.display)
		}
		out, _ := cmd.CombinedOutput()
		said := string(out)
		if cmd.ProcessState.ExitCode() != 1 || !strings.Contains(said, "there is no display here ("+tt.says) || strings.Contains(said, "goroutine") {
			t.Errorf("DISPLAY=%s: %v, and said:\n%s", tt.display, cmd.ProcessState, said)
		}
	}
}

// A display that goes away ends the program, which says so.
func TestDisplayUnplugged(t *testing.T) {
	var p *program
	t.Run("plugged", func(inner *testing.T) { // its end stops the display
		p = begin(t, build(t), display.Start(inner, 640, 400), 640, 400)
		p.window()
		p.until("a picture", func(_, b *image.RGBA) bool { return colours(b) > 50 })
	})
	select {
	case <-p.ended:
	case <-time.After(30 * time.Second):
		p.cmd.Process.Kill()
		t.Fatal("the program goes on without its display")
	}
	said := p.words.String()
	if p.cmd.ProcessState.ExitCode() != 1 || !strings.Contains(said, "X connection to ") && !strings.Contains(said, "the display has gone away") || strings.Contains(said, "goroutine") {
		t.Errorf("%v, and said:\n%s", p.cmd.ProcessState, said)
	}
}

// A window as small as can be, and back, shows what it showed.
func TestSmallestWindow(t *testing.T) {
	const width, height = 640, 400
	p := begin(t, build(t), display.Start(t, width, height), width, height, "--size", "640x400", "--paused", shown)
	w := p.window()
	p.point(3, 3)
	rest := func(a, b *image.RGBA) bool { return bytes.Equal(a.Pix, b.Pix) && colours(b) > 50 }
	before := p.until("a picture that rests", rest)
	for range 3 {
		p.resize(w, 1, 1)
		p.until("the window is small", func(_, b *image.RGBA) bool { return colours(b) < 5 })
		time.Sleep(200 * time.Millisecond) // in which it is drawn so
		p.resize(w, width, height)
		p.until("back from 1x1 it shows what it showed", func(_, b *image.RGBA) bool { return bytes.Equal(b.Pix, before.Pix) })
	}
	select {
	case <-p.ended:
		t.Errorf("the program ended by itself: %s", p.words.String())
	default:
	}
}
