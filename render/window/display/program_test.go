package display_test

import (
	"bytes"
	"fmt"
	"image"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"gonum.org/v1/plot/vg"

	"sextant/motor/scenario"
	"sextant/render"
	"sextant/render/window/display"
	"sextant/render/window/show"
)

const shown = "trainer-six-step"

// lookAtSource looks at the source that another process builds, so that go test takes a result from its
// cache only while that has not changed.
func lookAtSource(t *testing.T) {
	t.Helper()
	for _, dir := range []string{"..", "../../../cmd/sextant-window"} {
		err := filepath.WalkDir(dir, func(path string, _ fs.DirEntry, err error) error {
			if err == nil {
				_, err = os.Stat(path)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

// TestMain removes what build built.
func TestMain(m *testing.M) {
	status := m.Run()
	os.RemoveAll(built)
	os.Exit(status)
}

var built string // the folder with the program, once there is one

// made makes the window's program, once for all tests.
var made = sync.OnceValues(func() (string, error) {
	var err error
	if built, err = os.MkdirTemp("", "sextant"); err != nil {
		return "", err
	}
	program := filepath.Join(built, "sextant-window")
	out, err := exec.Command("go", "build", "-buildvcs=false", "-o", program, "sextant/cmd/sextant-window").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("%w\n%s", err, out)
	}
	return program, nil
})

// build builds the window's program.
func build(t *testing.T) string {
	t.Helper()
	lookAtSource(t)
	program, err := made()
	if err != nil {
		t.Fatal(err)
	}
	return program
}

// TestProgram uses the program as its user does: looks, presses keys, clicks buttons and a gate.
func TestProgram(t *testing.T) {
	const width, height = 640, 400
	program := build(t)
	name := display.Start(t, width, height)
	var said bytes.Buffer
	cmd := exec.Command(program, "--size", "640x400", shown)
	home := t.TempDir()
	cmd.Env = append(os.Environ(), "DISPLAY="+name, "LIBGL_ALWAYS_SOFTWARE=1", "HOME="+home, "XDG_CONFIG_HOME="+home, "XDG_DOCUMENTS_DIR=")
	cmd.Stdout, cmd.Stderr = &said, &said
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	t.Cleanup(func() {
		cmd.Process.Kill()
		if err := <-ended; t.Failed() {
			t.Logf("the program ended: %v\n%s", err, said.String())
		}
	})
	s := newScreen(t, name, width, height)

	// until waits for something to be so on a picture and on two that follow: on a busy machine a film may stand still for a while.
	until := func(what string, so func(a, b *image.RGBA) bool) {
		t.Helper()
		deadline := time.Now().Add(60 * time.Second)
		for time.Now().Before(deadline) {
			a := s.grab()
			time.Sleep(100 * time.Millisecond)
			if !so(a, s.grab()) {
				continue
			}
			if time.Sleep(350 * time.Millisecond); so(a, s.grab()) {
				return
			}
		}
		t.Fatalf("waited in vain: %s", what)
	}
	moving := func(a, b *image.RGBA) bool { return !bytes.Equal(a.Pix, b.Pix) }
	resting := func(a, b *image.RGBA) bool { return bytes.Equal(a.Pix, b.Pix) }

	until("a picture with many colours", func(a, _ *image.RGBA) bool { return colours(a) > 50 })
	until("it moves", moving)
	s.press(spaceSym)
	until("space stops it", resting)
	dark := s.grab()
	s.press('t')
	until("t makes the ground light", func(_, b *image.RGBA) bool {
		return brightness(b, 2, 2) > brightness(dark, 2, 2)+0.5
	})
	light := s.grab()
	s.press(rightSym)
	until("the right arrow steps to another picture, and rests there", func(a, b *image.RGBA) bool {
		return resting(a, b) && !bytes.Equal(b.Pix, light.Pix)
	})

	// Where buttons and gates are is known from the same layout.
	sc, err := scenario.Open(shown)
	if err != nil {
		t.Fatal(err)
	}
	model, err := show.New([]show.Choice{{Name: shown, Scenario: sc}}, 0, false)
	if err != nil {
		t.Fatal(err)
	}
	frame := model.Arrange(width, height, 1)
	click := func(p vg.Point) {
		s.point(int(p.X), height-int(p.Y))
		time.Sleep(100 * time.Millisecond) // the program must see the pointer come before it presses
		s.button(leftButton, true)
		time.Sleep(100 * time.Millisecond)
		s.button(leftButton, false)
		time.Sleep(100 * time.Millisecond) // and let go before it leaves
	}
	play, ok := frame.Center(show.PlayPause)
	if !ok {
		t.Fatal("there is no button to play")
	}
	click(play)
	until("the button to play lets it move", moving)
	click(play)
	s.point(3, 3)
	until("and stop", resting)
	before := s.grab()
	tape := render.Arrange(render.Everything, frame.Stage, 1).Lanes[render.CurrentLane]
	middle := tape.Min.Add(tape.Max).Scale(0.5)
	s.point(int(middle.X), height-int(middle.Y))
	until("the pointer is seen on the tape", func(a, b *image.RGBA) bool {
		return resting(a, b) && !bytes.Equal(b.Pix, before.Pix)
	})
	here := s.grab()
	s.button(wheelDown, true)
	s.button(wheelDown, false)
	until("the wheel stretches the tape", func(a, b *image.RGBA) bool {
		return resting(a, b) && differ(b, here) > 500
	})
	here = s.grab()
	s.button(leftButton, true)
	for x := range 5 {
		time.Sleep(60 * time.Millisecond)
		s.point(int(middle.X)+20*x, height-int(middle.Y))
	}
	s.button(leftButton, false)
	until("dragging the tape shows the past", func(a, b *image.RGBA) bool {
		return resting(a, b) && differ(b, here) > 2000
	})
	s.point(3, 3)
	until("and rests", resting)
	before = s.grab()
	click(find(t, frame, render.GatePart))
	until("a click on a gate switches it", func(a, b *image.RGBA) bool {
		return resting(a, b) && !bytes.Equal(b.Pix, before.Pix)
	})
	s.point(3, 3)
	until("and rests", resting)
	whole := s.grab()
	click(find(t, frame, render.WirePart))
	s.point(3, 3)
	until("a click on a wire cuts it", func(a, b *image.RGBA) bool {
		return resting(a, b) && differ(b, whole) > 1000
	})
	cut := s.grab()
	s.press('u')
	until("u mends it", func(a, b *image.RGBA) bool {
		return resting(a, b) && differ(b, cut) > 500
	})
	mended := s.grab()
	s.press('?')
	until("? covers the picture with help", func(a, b *image.RGBA) bool {
		return resting(a, b) && differ(b, before) > width*height/3
	})
	s.press(escapeSym)
	until("and escape uncovers it", func(a, b *image.RGBA) bool {
		return resting(a, b) && differ(b, mended) < width*height/6
	})
	// Cursors measure: they come by a key, and one goes where it is dragged.
	s.press('M')
	until("M puts cursors on the tape", func(a, b *image.RGBA) bool { return resting(a, b) && differ(b, mended) > 500 })
	measured := s.grab()
	layout := render.Arrange(render.Everything, frame.Stage, 1).WithCursors(2)
	a := layout.XAt(0, &render.View{Span: 1}) - 0.6*(layout.Now-layout.Trace.Min.X)
	at := int(a)
	s.point(at, height-int(layout.Trace.Min.Y+layout.Trace.Max.Y)/2)
	time.Sleep(100 * time.Millisecond)
	s.button(leftButton, true)
	time.Sleep(500 * time.Millisecond) // so that a busy machine sees it pressed before it moves
	for x := range 5 {
		time.Sleep(60 * time.Millisecond)
		s.point(at+15*x, height-int(layout.Trace.Min.Y+layout.Trace.Max.Y)/2)
	}
	s.button(leftButton, false)
	s.point(3, 3)
	until("a cursor is dragged", func(a, b *image.RGBA) bool { return resting(a, b) && differ(b, measured) > 100 })
	s.press('M')
	s.press('M')
	until("M takes the cursors off", func(a, b *image.RGBA) bool { return resting(a, b) && differ(b, mended) < width*height/6 })
	// What is shown can be saved, and the file is a scenario.
	s.chord('s')
	saved := filepath.Join(home, "sextant", shown+".toml")
	until("control and s save", func(_, _ *image.RGBA) bool {
		_, err := scenario.Open(saved)
		return err == nil
	})
	s.press('F')
	until("F lists scenarios", func(a, b *image.RGBA) bool { return resting(a, b) && differ(b, mended) > width*height/8 })
	s.press(escapeSym)
	until("escape closes the list", func(a, b *image.RGBA) bool { return resting(a, b) && differ(b, mended) < width*height/6 })
	s.press('b')
	until("b lists the lessons", func(a, b *image.RGBA) bool { return resting(a, b) && differ(b, mended) > width*height/8 })
	listed := s.grab()
	s.press('1')
	until("1 plays the first", func(_, b *image.RGBA) bool { return differ(b, listed) > width*height/6 })
	s.press(spaceSym)
	until("which space stops", resting)
	words := s.grab()
	s.press('q')
	until("q puts its question", func(a, b *image.RGBA) bool { return resting(a, b) && differ(b, words) > 500 })
	question := s.grab()
	s.press('1')
	until("1 answers it", func(a, b *image.RGBA) bool { return resting(a, b) && differ(b, question) > 300 })
	select {
	case err := <-ended:
		ended <- err
		t.Errorf("the program ended by itself: %v", err)
	default:
	}
}

// find finds a part of a kind on the stage.
func find(t *testing.T, f show.Frame, kind render.PartKind) vg.Point {
	l := render.Arrange(render.Everything, f.Stage, 1)
	for y := f.Stage.Min.Y; y < f.Stage.Max.Y; y += 2 {
		for x := f.Stage.Min.X; x < f.Stage.Max.X; x += 2 {
			if p := (vg.Point{X: x + 2, Y: y + 2}); l.At(p).Kind == kind {
				return p
			}
		}
	}
	t.Fatalf("nothing of kind %d on the stage", kind)
	return vg.Point{}
}

func colours(img *image.RGBA) int {
	seen := map[[3]byte]bool{}
	for i := 0; i < len(img.Pix); i += 4 {
		seen[[3]byte(img.Pix[i:i+3])] = true
	}
	return len(seen)
}

// brightness returns the mean of red, green and blue at a place, from 0 to 1.
func brightness(img *image.RGBA, x, y int) float64 {
	p := img.Pix[img.PixOffset(x, y):]
	return (float64(p[0]) + float64(p[1]) + float64(p[2])) / (3 * 255)
}

// differ counts the pixels that differ.
func differ(a, b *image.RGBA) (n int) {
	for i := 0; i < len(a.Pix); i += 4 {
		if [3]byte(a.Pix[i:i+3]) != [3]byte(b.Pix[i:i+3]) {
			n++
		}
	}
	return n
}

func TestProgramRefuses(t *testing.T) {
	program := build(t)
	name := display.Start(t, 640, 400)
	for _, tt := range []struct{ args, want string }{
		{"--size 12", "is not a size"},
		{"--theme pink", "is not a theme"},
		{"--at 5V", "is not a time"},
		{"--lesson no-such-lesson", "no-such-lesson"},
		{"no-such-scenario", "no-such-scenario"},
		{"one two", "arg"},
	} {
		cmd := exec.Command(program, strings.Fields(tt.args)...)
		cmd.Env = append(os.Environ(), "DISPLAY="+name, "LIBGL_ALWAYS_SOFTWARE=1", "XDG_CONFIG_HOME="+t.TempDir())
		out, _ := cmd.CombinedOutput()
		if code := cmd.ProcessState.ExitCode(); code != 2 || !strings.Contains(string(out), tt.want) {
			t.Errorf("%s: status %d, and said:\n%s", tt.args, code, out)
		}
	}
}
