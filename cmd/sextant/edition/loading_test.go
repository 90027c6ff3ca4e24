package edition

import (
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestLoading loads the page from servers good and bad, with the least of programs, which ends at once.
func TestLoading(t *testing.T) {
	t.Parallel()
	files, err := page()
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range site(t) {
		if name == programName || name == packedName {
			files[name] = data
		}
	}
	files[runtimeName] = []byte("class Go { importObject = {}; async run() {" +
		`if (location.hash === "#paused=1") { fs.writeSync(2, new TextEncoder().encode("panic: oh\n\ngoroutine 1")); this.exit(2); }` +
		"} } globalThis.fs = { writeSync() {} };")
	if err := files.complete(); err != nil {
		t.Fatal(err)
	}
	delete(files, workerName) // nothing is kept from one to the next

	const plain, bare, encoded, cut, gone = "plain", "bare", "encoded", "cut", "gone"
	var manner atomic.Value
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := strings.TrimPrefix(r.URL.Path, "/")
		if name == "" {
			name = pageName
		}
		data, ok := files[name]
		how := manner.Load().(string)
		packed := name == packedName
		switch {
		case !ok, packed && how == bare, (packed || name == programName) && how == gone:
			http.NotFound(w, r)
			return
		case packed && how == encoded:
			w.Header().Set("Content-Encoding", "gzip")
		case packed && how == cut:
			w.Header().Set("Content-Length", strconv.Itoa(len(data)+1))
		}
		w.Header().Set("Cache-Control", "no-store")
		for end, kind := range contentTypes {
			if strings.HasSuffix(name, end) {
				w.Header().Set("Content-Type", kind)
			}
		}
		w.Write(data)
	}))
	t.Cleanup(server.Close)

	b := openTab(t, 400, 400)
	const words = `document.getElementById("message")?.textContent ?? ""`
	const button = `document.getElementById("again")?.hidden === false ? document.getElementById("again").textContent : ""`
	for _, tt := range []struct{ manner, says, offers string }{
		{plain, "The picture has ended.", "Start again"},
		{bare, "The picture has ended.", "Start again"},
		{encoded, "The picture has ended.", "Start again"},
		{gone, "the server answered 404", "Try again"},
		{cut, "did not come whole", "Try again"},
	} {
		manner.Store(tt.manner)
		b.do(chromedp.Navigate(server.URL))
		b.said(tt.manner, words, func(s string) bool { return strings.Contains(s, tt.says) })
		b.said(tt.manner, button, func(s string) bool { return s == tt.offers })
	}
	manner.Store(plain)
	b.do(chromedp.Click("#again"))
	b.said("tried again", words, func(s string) bool { return strings.Contains(s, "The picture has ended.") })

	b.do(chromedp.Navigate("about:blank"), chromedp.Navigate(server.URL+"#paused=1"))
	b.said("a program that breaks off", words, func(s string) bool { return s == "The picture cannot go on: it broke off (panic: oh)" })

	h := b.said("the policy is there", `document.querySelector("meta[http-equiv]").content`, func(string) bool { return true })
	if h != pagePolicy {
		t.Errorf("the page's policy is %q", h)
	}
	b.said("another host is refused", `globalThis.refused ??= (addEventListener("securitypolicyviolation", (e) => { refused = e.effectiveDirective; }),
		fetch("http://localhost:9/").catch(() => {}), "")`, func(s string) bool { return s == "connect-src" })
}
