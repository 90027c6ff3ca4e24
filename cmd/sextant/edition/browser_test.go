package edition

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"sextant/inverter"
	"sextant/motor/scenario"
	"sextant/render"
	"sextant/render/window/show"
)

// TestInTheBrowser loads the page that serve serves in a real browser, and uses it.
func TestInTheBrowser(t *testing.T) {
	t.Parallel()
	url, _ := serveHere(t)
	const width, height = 960, 600
	b := openTab(t, width, height)
	b.do(chromedp.Navigate(url))
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
	atOnce(b)
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
	b.content()
}

// atOnce strikes keys faster than frames come: they are taken in their order. Tab goes from part to part, and behind Escape
// on in the page.
func atOnce(b *tab) {
	b.Helper()
	strike := func(keys string) (kept string) {
		return value(b, chromedp.Evaluate[string](`[`+keys+`].map((key) => document.querySelector("canvas").dispatchEvent(
			new KeyboardEvent("keydown", { key, ctrlKey: key === "z", bubbles: true, cancelable: true })) ? "browser" : "picture").join(" ")`))
	}
	before := b.state()
	if got := strike(`"v", "v", "z", "F5"`); got != "picture picture picture browser" {
		b.Errorf("keys went to %s", got)
	}
	b.until("what was typed last is taken back", func(s state) bool { return s.Undo == before.Undo+1 && s.Redo == 1 && s.Supply > before.Supply })
	strike(`"z"`)
	b.until("and what was typed first", func(s state) bool { return s.Undo == before.Undo && s.Supply == before.Supply })
	if got := strike(`"Tab", "Escape", "Tab"`); got != "picture picture browser" {
		b.Errorf("Tab, Escape and Tab went to %s", got)
	}
	strike(strings.Repeat(`"Tab", "Enter", `, 12))
	pressed := b.until("parts that Tab leads to are pressed", func(s state) bool { return s.Undo > before.Undo })
	strike(strings.Repeat(`"z", `, pressed.Undo-before.Undo))
	b.until("and let go", func(s state) bool { return s.Undo == before.Undo })
}

// TestLink opens links to states of the show, with the server and without.
func TestLink(t *testing.T) {
	t.Parallel()
	url, stop := serveHere(t)
	b := openTab(t, 960, 600)
	b.do(chromedp.Navigate(url + "?theme=print&focus=wheel#scenario=trainer-six-step&theme=light&paused=1&at=50ms"))
	b.until("the link opens", func(s state) bool {
		return s.Frames > 0 && s.Scenario == "trainer-six-step" && s.Theme == "light" && s.Focus == "wheel" && !s.Playing && s.Time == 0.05
	})
	const live = `document.getElementById("now").textContent`
	first := b.said("the sentence is told", live, func(s string) bool { return strings.Contains(s, "are on") })
	b.do(chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight))
	moved := b.until("the arrows step on", func(s state) bool { return s.Time > 0.05 })
	b.said("the next sentence is told", live, func(s string) bool { return s != first })
	link := b.said("the address follows", `location.hash`, func(s string) bool { return !strings.Contains(s, "at=0.05s") })
	b.content()

	b.do(chromedp.KeyEvent("v"))
	changed := b.until("v raises the supply", func(s state) bool { return s.Supply > moved.Supply })
	own := b.said("the address holds the scenario", `location.hash`, func(s string) bool { return strings.Contains(s, "file=") })

	b.said("the site is kept", `document.documentElement.dataset.kept ?? ""`, func(s string) bool { return s == "yes" })
	stop()
	b.do(chromedp.Navigate("about:blank"), chromedp.Navigate(url+link))
	b.until("without its server the link opens the same", func(s state) bool {
		return s.Frames > 0 && s.Scenario == "trainer-six-step" && s.Theme == "light" && !s.Playing && s.Time >= moved.Time
	})
	for bad, want := range map[string]string{
		"#scenario=zeppelin": "zeppelin",
		"#speed=9":           "it can ask for scenario, file",
	} {
		b.do(chromedp.Navigate("about:blank"), chromedp.Navigate(url+bad))
		b.said(bad+" is refused", `document.body?.innerText ?? ""`, func(s string) bool { return strings.Contains(s, want) })
	}
	b.do(chromedp.Click("#again"))
	b.until("without what cannot be had it opens", func(s state) bool { return s.Frames > 0 && s.Playing })
	b.do(chromedp.Navigate("about:blank"), chromedp.Navigate(url+own[:len(own)/2]))
	b.said("half a link is refused", `document.body?.innerText ?? ""`, func(s string) bool { return strings.Contains(s, "damaged") })
	b.do(chromedp.Navigate("about:blank"), chromedp.Navigate(url+own))
	b.until("a scenario of one's own opens from its link", func(s state) bool {
		return s.Frames > 0 && s.Scenario == "trainer-six-step.toml" && s.Supply == changed.Supply && !s.Playing
	})
}

// partMiddle returns where a part of the stage is on a page of that size.
func partMiddle(t *testing.T, width, height float64, part render.Part) (x, y float64) {
	t.Helper()
	f := model(t).Arrange(width, height, 1)
	l := render.Arrange(render.Everything, f.Stage, 1)
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
	var choices []show.Choice
	for _, name := range scenario.Names() {
		sc, err := scenario.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		choices = append(choices, show.Choice{Name: name, Scenario: sc})
	}
	first := slices.IndexFunc(choices, func(c show.Choice) bool { return c.Name == "hauler-pwm" })
	s, err := show.New(choices, first, true)
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
