package edition

import (
	"flag"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/heapprofiler"
	"github.com/chromedp/cdproto/input"
	cdpage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"sextant/render/window/show"
)

var (
	soak = flag.Duration("soak", 5*time.Second, "how long the random hand uses the page")
	seed = flag.Uint64("seed", 1, "of the random hand")
)

// longSoak is the time from which on a page has been through enough for its memory to be judged.
const longSoak = 5 * time.Minute

// TestSoak gives the page to a hand that strikes, clicks, drags and resizes at random, and watches its memory: that of the
// program, which never shrinks, and that of the scripts after a garbage collection.
func TestSoak(t *testing.T) {
	t.Parallel()
	url, _ := serveHere(t)
	b := openTab(t, 960, 600)
	// The program's memory is asked of the instance, which the page keeps to itself.
	const spy = `{ const make = WebAssembly.instantiateStreaming;
		WebAssembly.instantiateStreaming = async (...args) => globalThis.made = await make(...args); }`
	if _, err := chromedp.Call(b.ctx, cdpage.AddScriptToEvaluateOnNewDocument, cdpage.AddScriptToEvaluateOnNewDocumentParams{Source: spy}); err != nil {
		t.Fatal(err)
	}
	b.do(chromedp.Navigate(url))
	b.until("the picture plays", func(s state) bool { return s.Frames > 2 && s.Playing })

	type memory struct{ program, scripts, pictures float64 } // MB, MB, number
	use := func() memory {
		if _, err := chromedp.Call(b.ctx, heapprofiler.CollectGarbage, cdp.Empty{}); err != nil {
			t.Fatal(err)
		}
		h, err := chromedp.Call(b.ctx, runtime.GetHeapUsage, cdp.Empty{})
		if err != nil {
			t.Fatal(err)
		}
		return memory{
			value(b, chromedp.Evaluate[float64](`made.instance.exports.mem.buffer.byteLength`)) / (1 << 20),
			h.UsedSize / (1 << 20), float64(b.state().Frames),
		}
	}
	r := rand.New(rand.NewPCG(*seed, 0))
	tenths := []memory{use()}
	t.Logf("at first: program %.1f MB, scripts %.1f MB", tenths[0].program, tenths[0].scripts)
	for k := range 10 {
		for end := time.Now().Add(*soak / 10); time.Now().Before(end); {
			b.handle(r)
		}
		u := use()
		tenths = append(tenths, u)
		t.Logf("after %d tenths of %v: program %.1f MB, scripts %.1f MB, %.0f pictures", k+1, *soak, u.program, u.scripts, u.pictures)
	}
	b.do(chromedp.EmulateViewport(960, 600), chromedp.KeyEvent(kb.Escape), chromedp.KeyEvent(kb.Escape), chromedp.KeyEvent(kb.Escape))
	for before, tries := b.state(), 0; b.state().Theme == before.Theme; tries++ { // a key struck while the page changes its size may be lost
		if tries == 10 {
			t.Fatalf("the page no longer hears: %+v", b.state())
		}
		b.do(chromedp.KeyEvent("t"))
		time.Sleep(2 * time.Second)
	}
	if said := value(b, chromedp.Evaluate[string](`document.getElementById("wait").hidden ? "" : document.getElementById("message").textContent`)); said != "" {
		t.Errorf("the page says %q", said)
	}
	for _, c := range b.complaints {
		if !strings.Contains(c, "ResizeObserver") {
			t.Errorf("the browser complains: %s", c)
		}
	}
	first, half, last := tenths[0], tenths[5], tenths[10]
	if last.pictures <= first.pictures {
		t.Error("no picture was drawn")
	}
	if *soak >= longSoak && (last.program > 1.25*half.program || last.scripts > 1.5*half.scripts+2) {
		t.Errorf("memory grows: %+v, half way %+v, at last %+v", first, half, last)
	}
}

// handle does one thing to the page.
func (b *tab) handle(r *rand.Rand) {
	b.Helper()
	const width, height = 960, 600
	x, y := width*r.Float64(), height*r.Float64()
	others := []string{kb.ArrowLeft, kb.ArrowRight, kb.ArrowUp, kb.ArrowDown, kb.Home, kb.End, kb.PageUp, kb.PageDown, kb.Enter, kb.Escape, kb.Escape}
	switch did := r.IntN(20); {
	case did < 9:
		letter := rune(0)
		for show.Typed(letter) == show.None || show.Typed(letter) == show.Fullscreen { // there is no screen to fill
			letter = ' ' + rune(r.IntN('~'-' '+1))
		}
		b.do(chromedp.KeyEvent(string(letter)))
	case did < 12:
		b.do(chromedp.KeyEvent(others[r.IntN(len(others))]))
	case did < 15:
		b.do(chromedp.MouseClickXY(x, y))
	case did < 17:
		b.do(chromedp.MouseEvent(chromedp.MouseMoved, x, y), chromedp.MouseEvent(chromedp.MousePressed, x, y, chromedp.ButtonLeft))
		for range 4 {
			x, y = width*r.Float64(), height*r.Float64()
			b.do(chromedp.MouseEvent(chromedp.MouseMoved, x, y, chromedp.ButtonLeft))
		}
		b.do(chromedp.MouseEvent(chromedp.MouseReleased, x, y, chromedp.ButtonLeft))
	case did < 19:
		_, err := chromedp.Call(b.ctx, input.DispatchMouseEvent, input.DispatchMouseEventParams{
			Type: input.DispatchMouseEventTypeMouseWheel, X: x, Y: y, DeltaX: 1, DeltaY: 200*r.Float64() - 100})
		if err != nil {
			b.Fatal(err)
		}
	default:
		b.do(chromedp.EmulateViewport(1+r.Int64N(1400), 1+r.Int64N(900)))
	}
}
