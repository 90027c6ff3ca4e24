package edition

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"image/png"
	"io"
	"math"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// wasm is the least that passes for a program: the mark and the version of the format.
const wasm = "\x00asm\x01\x00\x00\x00"

// site is a small one, so that these tests need no build.
func site(t *testing.T) Files {
	t.Helper()
	packed := new(strings.Builder)
	z := gzip.NewWriter(packed)
	io.WriteString(z, wasm)
	z.Close()
	return Files{
		pageName: []byte("<title>Sextant</title>"), "start.js": []byte("1"), "sextant.css": []byte("p{}"),
		programName: []byte(wasm), packedName: []byte(packed.String()),
	}
}

func get(t *testing.T, h http.Handler, method, path, host string, header ...string) *http.Response {
	t.Helper()
	r := httptest.NewRequest(method, path, nil)
	r.Host = host
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Result()
}

var here = &net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 8080}

func TestHandlerAnswers(t *testing.T) {
	h := site(t).handler(here)
	for _, tt := range []struct {
		method, path, host string
		status             int
		kind               string
	}{
		{"GET", "/", "127.0.0.1:8080", 200, "text/html; charset=utf-8"},
		{"GET", "/index.html", "localhost:8080", 200, "text/html; charset=utf-8"},
		{"HEAD", "/start.js", "[::1]:8080", 200, "text/javascript; charset=utf-8"},
		{"GET", "/sextant.css", "127.0.0.1:8080", 200, "text/css; charset=utf-8"},
		{"GET", "/sextant.wasm", "127.0.0.1:8080", 200, "application/wasm"},
		{"GET", "/sextant.wasm.gz", "127.0.0.1:8080", 200, "application/gzip"},
		{"GET", "/../go.mod", "127.0.0.1:8080", 404, ""},
		{"GET", "/missing", "127.0.0.1:8080", 404, ""},
		{"POST", "/", "127.0.0.1:8080", 405, ""},
		{"GET", "/", "attacker.example:8080", 421, ""},
		{"GET", "/", "127.0.0.1:9", 421, ""},
		{"GET", "/", "", 421, ""},
	} {
		r := get(t, h, tt.method, tt.path, tt.host)
		if r.StatusCode != tt.status {
			t.Errorf("%s %s of %s: %s, want %d", tt.method, tt.path, tt.host, r.Status, tt.status)
		}
		if kind := r.Header.Get("Content-Type"); tt.kind != "" && kind != tt.kind {
			t.Errorf("%s is said to be %s, want %s", tt.path, kind, tt.kind)
		}
		for name, want := range map[string]string{
			"Content-Security-Policy": "default-src 'none'", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
		} {
			if got := r.Header.Get(name); !strings.Contains(got, want) {
				t.Errorf("%s: %s is %q", tt.path, name, got)
			}
		}
	}
}

var namespace = regexp.MustCompile(`xmlns(:xlink)?="http://www\.w3\.org/[^"]*"`)

// Every file that the page names is there, by a name relative to it, and no foreign host is named.
func TestPageIsComplete(t *testing.T) {
	files, err := page()
	if err != nil {
		t.Fatal(err)
	}
	text := string(files[pageName])
	for _, mark := range []string{`src="`, `href="`} {
		for _, rest := range strings.Split(text, mark)[1:] {
			name, _, _ := strings.Cut(rest, `"`)
			if _, there := files[name]; !there && name != runtimeName {
				t.Errorf("the page names %q, which is not there", name)
			}
		}
	}
	for name, data := range files {
		if s := namespace.ReplaceAllString(string(data), ""); strings.Contains(s, "http://") || strings.Contains(s, "https://") {
			t.Errorf("%s names another host", name)
		}
	}
}

// The icons that the manifest names are there, and as large as it says.
func TestIcons(t *testing.T) {
	files, err := page()
	if err != nil {
		t.Fatal(err)
	}
	var manifest struct {
		Icons []struct{ Src, Sizes, Type, Purpose string }
	}
	if err := json.Unmarshal(files["manifest.webmanifest"], &manifest); err != nil {
		t.Fatal(err)
	}
	cut := false
	for _, icon := range manifest.Icons {
		if icon.Type == "image/svg+xml" {
			if !bytes.Contains(files[icon.Src], []byte("<svg")) {
				t.Errorf("%s is no drawing", icon.Src)
			}
			continue
		}
		img, err := png.Decode(bytes.NewReader(files[icon.Src]))
		if err != nil {
			t.Errorf("%s: %v", icon.Src, err)
			continue
		}
		size := img.Bounds().Size()
		if got := fmt.Sprintf("%dx%d", size.X, size.Y); got != icon.Sizes {
			t.Errorf("%s is of %s, not %s", icon.Src, got, icon.Sizes)
		}
		_, _, _, corner := img.At(0, 0).RGBA()
		if icon.Purpose == "maskable" {
			cut = true
			// Web Application Manifest, "Icon masks and safe zone": a disc of radius two fifths of the width.
			ground := img.At(0, 0)
			for y := range size.Y {
				for x := range size.X {
					if math.Hypot(float64(x)+0.5-float64(size.X)/2, float64(y)+0.5-float64(size.Y)/2) > 0.4*float64(size.X) && img.At(x, y) != ground {
						t.Fatalf("%s has something at %d, %d, which may be cut off", icon.Src, x, y)
					}
				}
			}
		} else if corner != 0 {
			t.Errorf("%s has no rounded corners", icon.Src)
		}
	}
	if len(manifest.Icons) != 4 || !cut {
		t.Errorf("%d icons, one to be cut: %t", len(manifest.Icons), cut)
	}
}

func TestWorkerKeepsTheSite(t *testing.T) {
	made := func(style string) string {
		f := site(t)
		f[workerName], f["sextant.css"] = []byte("const version = \"@version@\";\nconst files = \"@files@\";\n"), []byte(style)
		if err := f.complete(); err != nil {
			t.Fatal(err)
		}
		return string(f[workerName])
	}
	one := made("p{}")
	if !strings.Contains(one, `const files = ["./","sextant.css","sextant.wasm.gz","start.js"];`) || strings.Contains(one, "@") {
		t.Errorf("the worker is %s", one)
	}
	if one != made("p{}") || one == made("p{color:red}") {
		t.Error("the version does not follow the files")
	}
}

func TestWrite(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "site")
	f := site(t)
	for range 2 { // again over what is there
		if err := f.Write(dir); err != nil {
			t.Fatal(err)
		}
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) != len(f) {
		t.Errorf("%d files, want %d: %v", len(entries), len(f), entries)
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil || string(data) != string(f[e.Name()]) {
			t.Errorf("%s holds %q, %v", e.Name(), data, err)
		}
	}
}

func TestServeStopsCleanly(t *testing.T) {
	address, stop := serve(t, site(t))
	r, err := http.Get("http://" + address + "/")
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	if r.StatusCode != 200 {
		t.Errorf("answered %s", r.Status)
	}
	stop()
}

func TestFindSource(t *testing.T) {
	root, err := FindSource(".")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(root, "cmd", "sextant-window", "main.go")); err != nil {
		t.Error(err)
	}
	if again, err := FindSource(""); err != nil || again != root {
		t.Errorf("without a folder: %s, %v; want %s", again, err, root)
	}
	t.Chdir(t.TempDir()) // elsewhere, the folder that the program was built from serves
	if built, err := FindSource(""); err != nil || built != root {
		t.Errorf("from elsewhere: %s, %v; want %s", built, err, root)
	}
	if wrong, err := FindSource(t.TempDir()); err == nil {
		t.Errorf("%s passes for the source", wrong)
	}
	other := t.TempDir()
	if err := os.WriteFile(filepath.Join(other, "go.mod"), []byte("module other\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if root, ok := moduleAbove(other); ok {
		t.Errorf("%s passes for the source", root)
	}
}

func TestFingerprintFollowsSource(t *testing.T) {
	root := t.TempDir()
	write := func(name, text string) {
		path := filepath.Join(root, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"go.mod", "go.sum", "assets/a", "cmd/sextant-window/main.go", "inverter/i.go", "motor/m.go", "render/r.go"} {
		write(name, "1")
	}
	print := func(version string) string {
		p, err := fingerprint(root, version)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	before := print("go1")
	if print("go2") == before {
		t.Error("another Go makes no difference")
	}
	write("render/r_test.go", "2")
	write("render/testdata/x.go", "2")
	if print("go1") != before {
		t.Error("a test makes a difference")
	}
	write("render/r.go", "2")
	if print("go1") == before {
		t.Error("another source makes no difference")
	}
}

func TestPruneKeepsTheNewest(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"a", "b", "c", "d", "e", "f"} {
		if err := os.Mkdir(filepath.Join(dir, name), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	prune(dir, "a")
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) < 4 || len(entries) > 5 {
		t.Errorf("%d editions are left", len(entries))
	}
	if _, err := os.Stat(filepath.Join(dir, "a")); err != nil {
		t.Errorf("the one in use is gone: %v", err)
	}
}
