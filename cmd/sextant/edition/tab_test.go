package edition

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image/png"
	"net"
	"os"
	"os/exec"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	cdpage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// chromium returns the path of a Chromium, or fails the test.
func chromium(t *testing.T) string {
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

var (
	once     sync.Once
	edition  Files
	building error
)

// ours returns the browser edition of this source, built once for all tests.
func ours(t *testing.T) Files {
	t.Helper()
	once.Do(func() {
		var root string
		if root, building = FindSource("."); building == nil {
			edition, building = Build(context.Background(), root, t.Output())
		}
	})
	if building != nil {
		t.Fatal(building)
	}
	return edition
}

// serveHere serves the browser edition of this source until stopped or the test ends, and returns its URL.
func serveHere(t *testing.T, embedders ...Embedder) (url string, stop func()) {
	t.Helper()
	address, stop := serve(t, ours(t), embedders...)
	return "http://" + address + "/", stop
}

// serve serves files until stopped or the test ends.
func serve(t *testing.T, files Files, embedders ...Embedder) (address string, stop func()) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	served := make(chan error, 1)
	go func() { served <- files.Serve(ctx, l, embedders...) }()
	stop = sync.OnceFunc(func() {
		cancel()
		if err := <-served; err != nil {
			t.Errorf("serving ended with %v", err)
		}
	})
	t.Cleanup(stop)
	return l.Addr().String(), stop
}

// A tab is a page of a real browser, and what it complained of.
type tab struct {
	*testing.T
	ctx context.Context

	mu         sync.Mutex
	complaints []string
	asked      []string // URLs that were requested
	pickers    chan cdp.BackendNodeID
}

func openTab(t *testing.T, width, height int) *tab {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(chromium(t)),
		chromedp.UserDataDir(t.TempDir()),
		chromedp.WindowSize(width, height),
		chromedp.NoSandbox,
		chromedp.Flag("use-gl", "angle"),
		chromedp.Flag("use-angle", "swiftshader"),
		chromedp.Flag("enable-unsafe-swiftshader", true),
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true),
	)
	ctx, cancel := context.WithTimeout(context.Background(), 4*time.Minute+*soak)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewExecAllocator(ctx, options...)
	t.Cleanup(cancel)
	b := &tab{T: t, pickers: make(chan cdp.BackendNodeID, 8)}
	b.ctx, cancel = chromedp.NewContext(ctx, chromedp.WithListener(b.listen))
	t.Cleanup(cancel)
	if _, err := chromedp.Call(b.ctx, log.Enable, cdp.Empty{}); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(b.ctx, network.Enable, network.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	b.do(chromedp.EmulateViewport(int64(width), int64(height)))
	return b
}

// content fails the test where the browser complained.
func (b *tab) content() {
	b.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	if len(b.complaints) > 0 {
		b.Errorf("the browser complains: %q", b.complaints)
	}
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
	case *cdpage.EventFileChooserOpened:
		b.pickers <- e.BackendNodeID
	case *network.EventRequestWillBeSent:
		b.asked = append(b.asked, e.Request.URL)
	case *network.EventLoadingFailed:
		if !e.Canceled {
			b.complaints = append(b.complaints, "a request failed: "+e.ErrorText)
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
	Lesson   string   `json:"lesson"`
	Scene    int      `json:"scene"`
	Question string   `json:"question"`
	Answers  int      `json:"answers"`
	Right    int      `json:"right"`
	Panel    string   `json:"panel"`
	Supply   float64  `json:"supply_v"`
	Past     float64  `json:"past_s"`
	Span     float64  `json:"span_s"`
	Lanes    []string `json:"lanes"`
	Message  string   `json:"message"`
	Undo     int      `json:"undo"`
	Redo     int      `json:"redo"`
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

// said waits for the page to say what is so, in what the JavaScript expression yields.
func (b *tab) said(what, expression string, so func(string) bool) string {
	b.Helper()
	text := ""
	for deadline := time.Now().Add(40 * time.Second); time.Now().Before(deadline); time.Sleep(100 * time.Millisecond) {
		if text = value(b, chromedp.Evaluate[string](expression)); so(text) {
			return text
		}
	}
	b.Fatalf("waited in vain: %s; it is %q, complaints %q", what, text, b.complaints)
	return ""
}
