package edition

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image/png"
	"math"
	"net"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/render"
	"sextant/render/window/show"
)

// browser returns the path of a Chromium, or fails the test.
func browser(t *testing.T) string {
	if path := os.Getenv("CHROMIUM"); path != "" {
		return path
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Fatal("no Chromium on this machine for a test in the browser; run .ci/setup, or name one in CHROMIUM")
	return ""
}

// serveHere serves the browser edition of this source until stopped or the test ends, and returns its URL.
func serveHere(t *testing.T) (url string, stop func()) {
	t.Helper()
	root, err := FindSource(".")
	if err != nil {
		t.Fatal(err)
	}
	files, err := Build(t.Context(), root, t.Output())
	if err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	served := make(chan error, 1)
	go func() { served <- files.Serve(ctx, l) }()
	stop = sync.OnceFunc(func() {
		cancel()
		if err := <-served; err != nil {
			t.Errorf("serving ended with %v", err)
		}
	})
	t.Cleanup(stop)
	return "http://" + l.Addr().String() + "/", stop
}

// A tab is a page of a real browser, and what it complained of.
type tab struct {
	*testing.T
	ctx context.Context

	mu         sync.Mutex
	complaints []string
}

func openTab(t *testing.T, width, height int) *tab {
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(browser(t)),
		chromedp.UserDataDir(t.TempDir()),
		chromedp.WindowSize(width, height),
		chromedp.NoSandbox,
		chromedp.Flag("use-gl", "angle"),
		chromedp.Flag("use-angle", "swiftshader"),
		chromedp.Flag("enable-unsafe-swiftshader", true),
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true),
	)
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewExecAllocator(ctx, options...)
	t.Cleanup(cancel)
	b := &tab{T: t}
	b.ctx, cancel = chromedp.NewContext(ctx, chromedp.WithListener(b.listen))
	t.Cleanup(cancel)
	return b
}

// listen notes what the browser complains of.
func (b *tab) listen(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		b.complaints = append(b.complaints, e.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeAssert {
			text := ""
			for _, a := range e.Args {
				text += string(a.Value) + " "
			}
			b.complaints = append(b.complaints, text)
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError {
			b.complaints = append(b.complaints, e.Entry.Text+" "+e.Entry.URL)
		}
	}
}

func (b *tab) do(actions ...chromedp.Action[chromedp.Void]) {
	b.Helper()
	if err := chromedp.Do(b.ctx, actions...); err != nil {
		b.Fatal(err)
	}
}

// value returns what an action yields.
func value[T any](b *tab, a chromedp.Action[T]) T {
	b.Helper()
	x, err := chromedp.Run(b.ctx, a)
	if err != nil {
		b.Fatal(err)
	}
	return x
}

// state is what the page says the show is at.
type state struct {
	Time     float64  `json:"time_s"`
	Playing  bool     `json:"playing"`
	Theme    string   `json:"theme"`
	Scenario string   `json:"scenario"`
	Pattern  string   `json:"pattern"`
	Focus    string   `json:"focus"`
	Faults   []string `json:"faults"`
	Rotor    float64  `json:"rotor_deg"`
	Frames   int      `json:"frames"`
}

func (b *tab) state() (s state) {
	b.Helper()
	text := value(b, chromedp.Evaluate[string](`typeof sextantState === "function" ? sextantState() : "{}"`))
	if err := json.Unmarshal([]byte(text), &s); err != nil {
		b.Fatalf("the state is %q: %v", text, err)
	}
	return s
}

// until waits for the state to be so.
func (b *tab) until(what string, so func(state) bool) state {
	b.Helper()
	for deadline := time.Now().Add(40 * time.Second); time.Now().Before(deadline); time.Sleep(100 * time.Millisecond) {
		if s := b.state(); so(s) {
			return s
		}
	}
	said := value(b, chromedp.Evaluate[string](`document.body.innerText`))
	b.Fatalf("waited in vain: %s; state %+v, page says %q, complaints %q", what, b.state(), said, b.complaints)
	return state{}
}

func (b *tab) picture() []byte {
	b.Helper()
	return value(b, chromedp.CaptureScreenshot())
}

// TestInTheBrowser loads the page that serve serves in a real browser, and uses it.
func TestInTheBrowser(t *testing.T) {
	url, _ := serveHere(t)
	const width, height = 960, 600
	b := openTab(t, width, height)
	if _, err := chromedp.Call(b.ctx, log.Enable, cdp.Empty{}); err != nil {
		t.Fatal(err)
	}
	b.do(chromedp.EmulateViewport(width, height), chromedp.Navigate(url))
	first := b.until("the picture plays", func(s state) bool { return s.Frames > 2 && s.Playing })
	b.until("time goes on", func(s state) bool { return s.Time > first.Time })
	a := b.picture()
	if n := colours(t, a); n < 50 {
		t.Errorf("the picture has only %d colours", n)
	}
	deadline := time.Now().Add(10 * time.Second)
	for bytes.Equal(a, b.picture()) {
		if time.Now().After(deadline) {
			t.Fatal("the picture plays but does not change")
		}
	}

	b.do(chromedp.KeyEvent(" "))
	paused := b.until("space pauses", func(s state) bool { return !s.Playing })
	still := b.picture()
	time.Sleep(500 * time.Millisecond)
	if now := b.state(); now.Time != paused.Time || !bytes.Equal(still, b.picture()) {
		t.Errorf("paused at %g s, and half a second later it is %g s, the picture the same: %t", paused.Time, now.Time, bytes.Equal(still, b.picture()))
	}
	b.do(chromedp.KeyEvent(kb.ArrowRight))
	b.until("the right arrow goes to the next event", func(s state) bool { return s.Time > paused.Time && !s.Playing })
	b.do(chromedp.KeyEvent("t"))
	b.until("t changes the theme", func(s state) bool { return s.Theme != paused.Theme })
	b.do(chromedp.KeyEvent("p"))
	b.until("p changes the pattern", func(s state) bool { return s.Pattern != paused.Pattern })
	x, y := playButton(t, width, height)
	b.do(chromedp.MouseClickXY(x, y))
	b.until("a click on the button plays", func(s state) bool { return s.Playing })
	b.do(chromedp.MouseClickXY(x, y))
	b.until("and another pauses", func(s state) bool { return !s.Playing })
	x, y = partMiddle(t, width, height, render.Part{Kind: render.WirePart, Phase: inverter.V})
	b.do(chromedp.MouseClickXY(x, y))
	b.until("a click on a wire cuts it", func(s state) bool { return len(s.Faults) == 1 && s.Faults[0] == "Phase V is open." })
	b.do(chromedp.KeyEvent("u"))
	b.until("u mends it", func(s state) bool { return len(s.Faults) == 0 })
	b.do(chromedp.KeyEvent("U"))
	b.until("U cuts it again", func(s state) bool { return len(s.Faults) == 1 })
	b.do(chromedp.KeyEvent("X"))
	b.until("X mends all", func(s state) bool { return len(s.Faults) == 0 })
	before := b.state().Rotor
	x, y = partMiddle(t, width, height, render.Part{Kind: render.RotorPart})
	b.do(
		chromedp.MouseEvent(chromedp.MouseMoved, x+20, y),
		chromedp.MouseEvent(chromedp.MousePressed, x+20, y, chromedp.ButtonLeft),
	)
	time.Sleep(500 * time.Millisecond)
	b.do(chromedp.MouseEvent(chromedp.MouseMoved, x, y-20, chromedp.ButtonLeft))
	turned := b.until("dragging the rotor turns it", func(s state) bool { return math.Abs(math.Remainder(s.Rotor-before, 360)) > 45 })
	b.do(chromedp.MouseEvent(chromedp.MouseReleased, x, y-20, chromedp.ButtonLeft))
	if by := math.Remainder(turned.Rotor-before, 360); math.Abs(by-90) > 10 {
		t.Errorf("a quarter turn of the hand turned the rotor by %g degrees", by)
	}
	b.do(chromedp.KeyEvent("o"))
	b.until("o looks at the bridge alone", func(s state) bool { return s.Focus == "bridge" })
	theme := b.state().Theme
	time.Sleep(1500 * time.Millisecond) // it is kept once it has stayed for a second
	b.do(chromedp.Navigate(url))
	b.until("opened again, it plays", func(s state) bool { return s.Frames > 2 && s.Playing })
	if again := b.state().Theme; theme == "dark" || again != theme {
		t.Errorf("the theme was %s, and opened again it is %s", theme, again)
	}
	if len(b.complaints) > 0 {
		t.Errorf("the browser complains: %q", b.complaints)
	}
}

// TestLink opens links to states of the show, with the server and without.
func TestLink(t *testing.T) {
	url, stop := serveHere(t)
	b := openTab(t, 960, 600)
	said := func(what string, expression string, so func(string) bool) string {
		t.Helper()
		text := ""
		for deadline := time.Now().Add(40 * time.Second); time.Now().Before(deadline); time.Sleep(100 * time.Millisecond) {
			if text = value(b, chromedp.Evaluate[string](expression)); so(text) {
				return text
			}
		}
		t.Fatalf("waited in vain: %s; it is %q", what, text)
		return ""
	}
	b.do(chromedp.Navigate(url + "?theme=print&focus=wheel#scenario=trainer-six-step&theme=light&paused=1&at=50ms"))
	b.until("the link opens", func(s state) bool {
		return s.Frames > 0 && s.Scenario == "trainer-six-step" && s.Theme == "light" && s.Focus == "wheel" && !s.Playing && s.Time == 0.05
	})
	const live = `document.getElementById("now").textContent`
	first := said("the sentence is told", live, func(s string) bool { return strings.Contains(s, "are on") })
	b.do(chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight))
	moved := b.until("the arrows step on", func(s state) bool { return s.Time > 0.05 })
	said("the next sentence is told", live, func(s string) bool { return s != first })
	link := said("the address follows", `location.hash`, func(s string) bool { return !strings.Contains(s, "at=0.05s") })
	if len(b.complaints) > 0 {
		t.Errorf("the browser complains: %q", b.complaints)
	}

	said("the site is kept", `document.documentElement.dataset.kept ?? ""`, func(s string) bool { return s == "yes" })
	stop()
	b.do(chromedp.Navigate("about:blank"), chromedp.Navigate(url+link))
	b.until("without its server the link opens the same", func(s state) bool {
		return s.Frames > 0 && s.Scenario == "trainer-six-step" && s.Theme == "light" && !s.Playing && s.Time >= moved.Time
	})
	for bad, want := range map[string]string{
		"#theme=pink":        `"pink" is not a theme`,
		"#scenario=zeppelin": "zeppelin",
		"#speed=9":           "it can ask for scenario, theme",
		"#at=-1s":            "zero or more",
	} {
		b.do(chromedp.Navigate("about:blank"), chromedp.Navigate(url+bad))
		said(bad+" is refused", `document.body?.innerText ?? ""`, func(s string) bool { return strings.Contains(s, want) })
	}
}

// partMiddle returns where a part of the stage is on a page of that size.
func partMiddle(t *testing.T, width, height float64, part render.Part) (x, y float64) {
	t.Helper()
	f := model(t).Arrange(width, height, 1)
	l := render.Arrange(f.Stage, 1)
	r, ok := l.Where(part)
	if !ok {
		t.Fatalf("there is no %v", part)
	}
	p := r.Min.Add(r.Max).Scale(0.5)
	return p.X.Points(), height - p.Y.Points()
}

// model returns a show that lies as the page's does.
func model(t *testing.T) *show.Show {
	t.Helper()
	sc, err := drive.Open("trainer-six-step")
	if err != nil {
		t.Fatal(err)
	}
	s, err := show.New([]show.Choice{{Name: "trainer-six-step", Scenario: sc}}, 0, false)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// playButton returns where the button to play and pause is on a page of that size.
func playButton(t *testing.T, width, height float64) (x, y float64) {
	t.Helper()
	f := model(t).Arrange(width, height, 1)
	p, ok := f.Center(show.PlayPause)
	if !ok {
		t.Fatal("there is no button to play")
	}
	return p.X.Points(), height - p.Y.Points()
}

func colours(t *testing.T, shot []byte) int {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(shot))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	r := img.Bounds()
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			seen[fmt.Sprint(img.At(x, y))] = true
		}
	}
	return len(seen)
}
