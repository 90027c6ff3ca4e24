package edition

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/input"
	cdpage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"sextant/motor/scenario"
	"sextant/render/window/show"
)

// A phone is a small page under a finger, and a show that does what the page does, to know where its buttons are.
type phone struct {
	*tab
	model *show.Show
}

const phoneWidth, phoneHeight = 390, 844

func openPhone(t *testing.T, url string) *phone {
	t.Helper()
	p := &phone{openTab(t, phoneWidth, phoneHeight), model(t)}
	p.do(chromedp.EmulateViewport(phoneWidth, phoneHeight, chromedp.EmulateMobile, chromedp.EmulateTouch), chromedp.Navigate(url))
	p.until("the picture plays", func(s state) bool { return s.Frames > 2 && s.Playing })
	return p
}

// tap touches the button for a wish, behind the one for more where it is there.
func (p *phone) tap(w show.Wish) {
	p.Helper()
	f := p.model.Arrange(phoneWidth, phoneHeight, 1)
	at, ok := f.Center(w)
	if more, folded := f.Center(show.More); !ok && folded {
		p.touch(more.X.Points(), phoneHeight-more.Y.Points())
		p.model.Do(show.More)
		f = p.model.Arrange(phoneWidth, phoneHeight, 1)
		at, ok = f.Center(w)
	}
	if !ok {
		p.Fatalf("there is no button for %v", w)
	}
	p.touch(at.X.Points(), phoneHeight-at.Y.Points())
	p.model.Do(w)
}

// touch puts a finger on the page, and lifts it.
func (p *phone) touch(x, y float64) {
	p.Helper()
	for _, e := range []input.DispatchTouchEventParams{
		{Type: input.DispatchTouchEventTypeTouchStart, TouchPoints: []*input.TouchPoint{{X: x, Y: y}}},
		{Type: input.DispatchTouchEventTypeTouchEnd, TouchPoints: []*input.TouchPoint{}},
	} {
		if _, err := chromedp.Call(p.ctx, input.DispatchTouchEvent, e); err != nil {
			p.Fatal(err)
		}
		p.do(chromedp.Sleep(50 * time.Millisecond)) // a finger is not faster
	}
}

// TestLessonByTouch plays a lesson on a phone, with a finger.
func TestLessonByTouch(t *testing.T) {
	t.Parallel()
	url, _ := serveHere(t)
	p := openPhone(t, url)
	p.tap(show.Lesson)
	p.until("a tap lists the lessons", func(s state) bool { return s.Panel == "lessons" })
	p.tap(show.LessonWish(0))
	first := p.until("a tap opens a lesson", func(s state) bool { return s.Lesson != "" && s.Scene == 1 })
	for k := 0; p.state().Question == ""; k++ {
		if k == 20 {
			t.Fatal("the lesson asks nothing")
		}
		p.tap(show.NextScene)
		_, _, asks := p.model.Lesson()
		p.until("a tap turns the page", func(s state) bool { return s.Question == asks })
	}
	p.said("the address opens the lesson", `location.hash`, func(s string) bool { return strings.Contains(s, "lesson="+first.Lesson) })
	p.tap(show.Choice1)
	_, right := p.model.Score()
	p.until("a tap answers", func(s state) bool { return s.Answers == 1 && s.Right == right })
	for k := 0; p.state().Scene == first.Scene; k++ {
		if k == 20 {
			t.Fatal("the lesson does not go on")
		}
		p.tap(show.NextScene)
		_, scene, asks := p.model.Lesson()
		p.until("a tap goes on", func(s state) bool { return s.Scene == scene && s.Question == asks })
	}
	p.content()
}

// askingFiles stands for the page's files, which have a button to ask for one.
type askingFiles struct{ show.Chooser }

func (askingFiles) Choose()          {}
func (askingFiles) Recent() []string { return nil }

// TestFilesByTouch opens a file from the phone, and saves what is shown to it.
func TestFilesByTouch(t *testing.T) {
	t.Parallel()
	url, _ := serveHere(t)
	p := openPhone(t, url)
	p.model.SetFiles(askingFiles{})
	dir := t.TempDir()
	if _, err := chromedp.CallBrowser(p.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{
		Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir,
	}); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(p.ctx, cdpage.Enable, cdpage.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(p.ctx, cdpage.SetInterceptFileChooserDialog, cdpage.SetInterceptFileChooserDialogParams{Enabled: true}); err != nil {
		t.Fatal(err)
	}
	own := filepath.Join(t.TempDir(), "own.toml")
	sc, err := scenario.Open("hauler-climb")
	if err != nil {
		t.Fatal(err)
	}
	sc.Title = "My own climb"
	if err := os.WriteFile(own, scenario.TOML(sc), 0o600); err != nil {
		t.Fatal(err)
	}

	p.tap(show.FilePanel)
	p.until("a tap opens the panel", func(s state) bool { return s.Panel == "files" })
	p.do(chromedp.Sleep(5200 * time.Millisecond)) // by which a browser has forgotten the tap before
	p.tap(show.OpenFile)
	var picker cdp.BackendNodeID
	select {
	case picker = <-p.pickers:
	case <-time.After(time.Minute):
		t.Fatal("no dialog opens")
	}
	if _, err := chromedp.Call(p.ctx, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: []string{own}, BackendNodeID: picker}); err != nil {
		t.Fatal(err)
	}
	p.until("the file is shown", func(s state) bool { return s.Scenario == "own.toml" && s.Panel == "" })

	p.do(chromedp.KeyEvent("v"))
	p.until("a key raises the supply", func(s state) bool { return s.Supply > sc.Supply.Voltage })
	p.do(chromedp.KeyEvent("s", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	p.until("it says what was saved", func(s state) bool { return strings.Contains(s.Message, "own.toml") })
	var data []byte
	for deadline := time.Now().Add(time.Minute); len(data) == 0; time.Sleep(100 * time.Millisecond) {
		data, _ = os.ReadFile(filepath.Join(dir, "own.toml"))
		if time.Now().After(deadline) {
			files, _ := os.ReadDir(dir)
			t.Fatalf("it was not downloaded; there are %v", files)
		}
	}
	saved, err := scenario.Load("own.toml", data)
	if err != nil || saved.Title != sc.Title || saved.Supply.Voltage <= sc.Supply.Voltage {
		t.Errorf("saved was %q, %g V, %v", saved.Title, saved.Supply.Voltage, err)
	}
	p.content()
}
