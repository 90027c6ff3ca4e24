package edition

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// A page that loses the graphics processor says so and, when asked, opens again what it showed.
func TestGraphicsLost(t *testing.T) {
	t.Parallel()
	url, _ := serveHere(t)
	b := openTab(t, 960, 600)
	b.do(chromedp.Navigate(url + "#scenario=trainer-six-step&theme=dark"))
	b.until("the picture plays", func(s state) bool { return s.Frames > 2 && s.Playing })
	b.do(chromedp.KeyEvent("t"))
	shown := b.until("t changes the theme", func(s state) bool { return s.Theme != "dark" })
	b.said("the address follows", `location.hash`, func(s string) bool { return strings.Contains(s, "theme="+shown.Theme) })

	const lose = `globalThis.sameLoad = "yes";
		document.querySelector("canvas").getContext("webgl2").getExtension("WEBGL_lose_context").loseContext(), ""`
	value(b, chromedp.Evaluate[string](lose))
	b.said("the page says what happened", `document.getElementById("wait").hidden ? "" : document.getElementById("message").textContent`,
		func(s string) bool { return strings.Contains(s, "has taken the graphics processor") })
	time.Sleep(time.Second) // for what the program does without it
	b.said("and stays with that", `globalThis.sameLoad + " " + document.getElementById("message").textContent`,
		func(s string) bool {
			return strings.HasPrefix(s, "yes") && strings.Contains(s, "has taken the graphics processor")
		})
	b.said("it offers to try again", `document.getElementById("again").hidden ? "" : document.getElementById("again").textContent`,
		func(s string) bool { return s == "Try again" })
	b.do(chromedp.Click("#again"))
	b.until("which opens what was shown", func(s state) bool {
		return s.Frames > 2 && s.Playing && s.Scenario == shown.Scenario && s.Theme == shown.Theme
	})
}
