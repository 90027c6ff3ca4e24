package edition

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestTold goes through a lesson with the eyes shut and by keys alone, wanting no motion: it hears the words, the
// question, the verdict, the parts of the picture, the lessons and the keys, and nothing moves by itself.
func TestTold(t *testing.T) {
	t.Parallel()
	url, _ := serveHere(t)
	b := openTab(t, 960, 600)
	calm := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "reduce"}}}
	if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, calm); err != nil {
		t.Fatal(err)
	}
	hears := func(when string, what ...string) string {
		return b.said(when, `document.getElementById("now").textContent`, func(s string) bool {
			for _, w := range what {
				if !strings.Contains(s, w) {
					return false
				}
			}
			return true
		})
	}
	b.do(chromedp.Navigate(url + "#lesson=one-switch&scene=2"))
	s := b.until("the link opens the second scene", func(s state) bool { return s.Frames > 0 && s.Lesson == "one-switch" && s.Scene == 2 })
	if s.Playing {
		t.Error("the scene moves by itself")
	}
	hears("the scene's words", "A third switch shares the way home", "W– is on as well.")
	b.do(chromedp.KeyEvent("q"))
	hears("a question with its choices", "Why is it more now?", "1: V and W lie side by side", "3: it is not more")
	b.do(chromedp.KeyEvent("3"))
	if said := hears("the verdict", "Not so. It is: V and W lie side by side"); strings.Contains(said, "Why is it more now?") {
		t.Errorf("the question is told again: %q", said)
	}
	b.do(chromedp.KeyEvent(kb.Tab))
	hears("the part that Tab leads to", ": ")
	b.do(chromedp.KeyEvent("q"))
	b.until("on to the next question", func(s state) bool { return strings.Contains(s.Question, "volts") })
	b.do(chromedp.KeyEvent("q"))
	if s := b.until("on to the third scene", func(s state) bool { return s.Scene == 3 }); s.Playing {
		t.Error("the next scene moves by itself")
	}
	b.said("the address tells the scene", `location.hash`, func(s string) bool { return strings.Contains(s, "scene=3") })
	b.do(chromedp.KeyEvent(kb.Escape), chromedp.KeyEvent("h"))
	hears("the keys", "space: play or pause.")
	b.do(chromedp.KeyEvent(kb.Escape))
	b.content()
	b.do(chromedp.Navigate("about:blank"), chromedp.Navigate(url+"#lesson=one-switch&scene=9"))
	b.said("a scene that is not there is refused", `document.body?.innerText ?? ""`, func(s string) bool { return strings.Contains(s, "scenes 1 to 3") })
}
