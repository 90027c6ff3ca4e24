package picture

import (
	"bytes"
	"cmp"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"sextant/motor/scenario"
)

// A PDF that poppler draws, and an SVG that a browser draws, look like the PNG: every pixel is within rounding but for
// those at edges, which three programs soften in three ways.
func TestKindsOfFileAgree(t *testing.T) {
	s, err := scenario.Open("hauler-phase-lost")
	if err != nil {
		t.Fatal(err)
	}
	v, err := At(s, 0.1052)
	if err != nil {
		t.Fatal(err)
	}
	look := Look{Size: Size{1280, 720}}
	dir := t.TempDir()
	files := map[Format]string{}
	for _, f := range []Format{PNG, SVG, PDF} {
		var b bytes.Buffer
		if err := look.Write(&b, f, v); err != nil {
			t.Fatal(err)
		}
		files[f] = filepath.Join(dir, "still."+f.String())
		if err := os.WriteFile(files[f], b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want := decoded(t, files[PNG])
	alike(t, "PDF", drawnByPoppler(t, files[PDF]), want)
	alike(t, "SVG", drawnByBrowser(t, files[SVG], look.Size), want)
}

func alike(t *testing.T, name string, got, want image.Image) {
	t.Helper()
	if got.Bounds().Size() != want.Bounds().Size() {
		t.Fatalf("%s: %v, want %v", name, got.Bounds(), want.Bounds())
	}
	sum, far, n := 0.0, 0, 0
	for y := range want.Bounds().Dy() {
		for x := range want.Bounds().Dx() {
			r, g, b, _ := got.At(x, y).RGBA()
			r2, g2, b2, _ := want.At(x, y).RGBA()
			d := max(apart(r, r2), apart(g, g2), apart(b, b2))
			sum += d
			if n++; d > 0.5 {
				far++
			}
		}
	}
	t.Logf("%s: mean difference %.4f, %d of %d pixels far off", name, sum/float64(n), far, n)
	if mean := sum / float64(n); mean > 0.015 || far > n/250 {
		t.Errorf("%s: mean difference %.4f, %d of %d pixels far off", name, mean, far, n)
	}
}

func apart(a, b uint32) float64 { return float64(max(a, b)-min(a, b)) / 0xffff }

func decoded(t *testing.T, file string) image.Image {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return img
}

// drawnByPoppler returns the pixels of a PDF's page, 96 an inch.
func drawnByPoppler(t *testing.T, file string) image.Image {
	t.Helper()
	program, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Fatal("no pdftoppm on this machine to draw a PDF with; run .ci/setup")
	}
	page := file + ".page"
	if out, err := exec.Command(program, "-r", "96", "-png", "-singlefile", file, page).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return decoded(t, page+".png")
}

// drawnByBrowser returns the pixels of an SVG.
func drawnByBrowser(t *testing.T, file string, size Size) image.Image {
	t.Helper()
	program := os.Getenv("CHROMIUM")
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable"} {
		found, _ := exec.LookPath(name)
		program = cmp.Or(program, found)
	}
	if program == "" {
		t.Fatal("no Chromium on this machine to draw an SVG with; run .ci/setup, or let CHROMIUM name one")
	}
	page := filepath.Join(filepath.Dir(file), "page.html")
	const html = `<!doctype html><style>body{margin:0;overflow:hidden}img{display:block;width:100vw}</style><img src="still.svg">`
	if err := os.WriteFile(page, []byte(html), 0o644); err != nil {
		t.Fatal(err)
	}
	seen := file + ".png"
	cmd := exec.Command(program, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--force-device-scale-factor=1",
		"--user-data-dir="+t.TempDir(), "--window-size="+strconv.Itoa(size.Width)+","+strconv.Itoa(size.Height),
		"--screenshot="+seen, "file://"+page)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return decoded(t, seen)
}
