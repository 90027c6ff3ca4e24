package edition

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"gonum.org/v1/plot/vg/vgimg"

	"sextant/motor/scenario"
	"sextant/render"
	"sextant/render/window/show"
)

// subfolder is where a learning platform may keep the site.
const subfolder = "/courses/drives 101/picture/"

// A host is a web server of the plainest kind, with the site in a folder of it.
type host struct {
	*httptest.Server
	sent atomic.Int64 // bytes of files
}

func hostSite(t *testing.T, files Files) *host {
	t.Helper()
	dir := t.TempDir()
	if err := files.Write(dir); err != nil {
		t.Fatal(err)
	}
	h := new(host)
	site := http.StripPrefix(strings.TrimSuffix(subfolder, "/"), http.FileServer(http.Dir(dir)))
	h.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		site.ServeHTTP(&counted{w, &h.sent}, r)
	}))
	t.Cleanup(h.Close)
	return h
}

func (h *host) page() string { return h.URL + strings.ReplaceAll(subfolder, " ", "%20") }

// A counted answer counts what it sends.
type counted struct {
	http.ResponseWriter
	sent *atomic.Int64
}

func (c *counted) Write(data []byte) (int, error) {
	c.sent.Add(int64(len(data)))
	return c.ResponseWriter.Write(data)
}

// TestStaticSite opens the site from a folder of a plain server: little is loaded, nothing from elsewhere, and with the
// server gone it opens again.
func TestStaticSite(t *testing.T) {
	t.Parallel()
	h := hostSite(t, ours(t))
	b := openTab(t, 640, 400)
	b.do(chromedp.Navigate(h.page()))
	b.until("the picture plays", func(s state) bool { return s.Frames > 2 && s.Playing })
	b.said("the site is kept", `document.documentElement.dataset.kept ?? ""`, func(s string) bool { return s == "yes" })
	const most = 6e6 // bytes over the wire, for the page and for keeping it
	if sent := h.sent.Load(); sent > most {
		t.Errorf("the first load takes %d bytes, more than %.0f", sent, most)
	}
	b.do(chromedp.KeyEvent(" "))
	b.until("a key pauses it", func(s state) bool { return !s.Playing })
	b.do(chromedp.KeyEvent("t"))
	was := b.until("a key changes the theme", func(s state) bool { return !s.Playing && s.Theme == "light" })
	b.said("the address follows", `location.hash`, func(s string) bool { return strings.Contains(s, "theme=light") && strings.Contains(s, "at=") })

	h.Close()
	b.do(chromedp.Reload())
	b.until("reloaded without its server, it is where it was", func(s state) bool {
		return s.Frames > 0 && !s.Playing && s.Theme == was.Theme && s.Scenario == was.Scenario && s.Time == was.Time
	})
	b.content()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, url := range b.asked {
		if !strings.HasPrefix(url, h.page()) && !strings.HasPrefix(url, "data:") {
			t.Errorf("%s was asked for, which is outside its folder", url)
		}
	}
	if len(b.asked) < 8 {
		t.Errorf("only %d requests were seen: %q", len(b.asked), b.asked)
	}
}

// TestSamePicture compares the stage of the browser with the one that files are drawn by. Text is set to whole
// pixels in one and not in the other, and edges are smoothed differently: both are averaged over squares of some
// pixels, and of those all but a few must agree to a tenth of the range of a colour.
func TestSamePicture(t *testing.T) {
	t.Parallel()
	const width, height, side, most = 960, 600, 6, 0.01
	url, _ := serveHere(t)
	b := openTab(t, width, height)
	if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "reduce"}},
	}); err != nil {
		t.Fatal(err)
	}
	b.do(chromedp.Navigate(url + "#scenario=trainer-six-step&theme=light&at=50ms"))
	b.until("the link opens, and nothing moves where that is wished for", func(s state) bool {
		return s.Frames > 0 && s.Time == 0.05 && !s.Playing
	})

	sc, err := scenario.Open("trainer-six-step")
	if err != nil {
		t.Fatal(err)
	}
	s, err := show.New([]show.Choice{{Name: "trainer-six-step", Scenario: sc}}, 0, false)
	if err != nil {
		t.Fatal(err)
	}
	s.SetTheme(render.Light)
	if err := s.SkipTo(0.05); err != nil {
		t.Fatal(err)
	}
	frame := s.Arrange(width, height, 1)
	c := vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(72))
	v := s.View()
	render.Draw(c, render.Arrange(s.Focus(), frame.Stage, s.TextScale()), &v)

	shot, err := png.Decode(bytes.NewReader(b.picture()))
	if err != nil {
		t.Fatal(err)
	}
	stage := image.Rect(int(frame.Stage.Min.X), height-int(frame.Stage.Max.Y), int(frame.Stage.Max.X), height-int(frame.Stage.Min.Y))
	apart, all := 0, 0
	for y := stage.Min.Y; y+side <= stage.Max.Y; y += side {
		for x := stage.Min.X; x+side <= stage.Max.X; x += side {
			square := image.Rect(x, y, x+side, y+side)
			all++
			if differ(mean(shot, square), mean(c.Image(), square)) > 0.1 {
				apart++
			}
		}
	}
	if share := float64(apart) / float64(all); share > most || all < 1000 {
		t.Errorf("%d of %d squares differ", apart, all)
	}
}

// mean returns the mean colour of a part of a picture.
func mean(img image.Image, r image.Rectangle) (sum [3]float64) {
	part := image.NewRGBA(r)
	draw.Draw(part, r, img, r.Min, draw.Src)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			c := part.RGBAAt(x, y)
			for k, p := range [3]uint8{c.R, c.G, c.B} {
				sum[k] += float64(p) / 255 / float64(r.Dx()*r.Dy())
			}
		}
	}
	return sum
}

func differ(a, b [3]float64) (most float64) {
	for k := range a {
		most = max(most, max(a[k]-b[k], b[k]-a[k]))
	}
	return most
}

// TestEmbedded shows the wheel alone in a frame of a page from elsewhere, which the server allows, and of one that it
// does not.
func TestEmbedded(t *testing.T) {
	t.Parallel()
	var framed string
	course := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		w.Write([]byte(`<!DOCTYPE html><title>Course</title><iframe id="f" width="400" height="300" src="` + framed + `"></iframe>`))
	}))
	t.Cleanup(course.Close)
	url, _ := serveHere(t, Embedder(course.URL))
	framed = url + "?focus=wheel&theme=light"
	b := openTab(t, 500, 400)
	b.do(chromedp.Navigate(course.URL))
	blank := func() bool { return lit(t, b.picture(), color.RGBA{0xfa, 0xf8, 0xf3, 0xff}) < 10000 }
	for k := 0; blank(); k++ {
		if k == 400 {
			t.Fatal("the frame stays empty")
		}
		b.do(chromedp.Sleep(100 * time.Millisecond))
	}
	b.content()

	stranger := httptest.NewServer(course.Config.Handler)
	t.Cleanup(stranger.Close)
	b.do(chromedp.Navigate(stranger.URL))
	b.mu.Lock()
	defer b.mu.Unlock()
	if !strings.Contains(strings.Join(b.complaints, "\n"), "frame-ancestors") {
		t.Errorf("a stranger's page is not refused; complaints %q", b.complaints)
	}
}

// lit counts the pixels of a colour.
func lit(t *testing.T, shot []byte, want color.RGBA) (n int) {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(shot))
	if err != nil {
		t.Fatal(err)
	}
	r := img.Bounds()
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if color.RGBAModel.Convert(img.At(x, y)) == want {
				n++
			}
		}
	}
	return n
}
