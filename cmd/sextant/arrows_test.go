package main

import (
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// TestArrows: imports, those of tests too, point from cmd to render to motor to inverter, on every system; assets imports
// nothing; and only what opens a window imports Ebitengine.
func TestArrows(t *testing.T) {
	rank := map[string]int{"assets": 0, "inverter": 1, "motor": 2, "render": 3, "cmd": 4}
	layer := func(path string) string {
		top, _, _ := strings.Cut(strings.TrimPrefix(path, "sextant/"), "/")
		return top
	}
	window := []string{"sextant/render/window", "sextant/cmd/sextant-window"}
	for _, system := range []string{"linux/amd64", "windows/amd64", "js/wasm"} {
		lines := list(t, system, "-tags", "display", "-f",
			`{{$from := .ImportPath}}{{range .Imports}}{{$from}} {{.}}{{"\n"}}{{end}}{{range .TestImports}}{{$from}} {{.}}{{"\n"}}{{end}}{{range .XTestImports}}{{$from}} {{.}}{{"\n"}}{{end}}`,
			"sextant/...")
		arrows := 0
		for _, line := range lines {
			from, to, _ := strings.Cut(line, " ")
			if strings.Contains(to, "ebiten") && !slices.Contains(window, from) {
				t.Errorf("%s: %s imports %s", system, from, to)
			}
			if !strings.HasPrefix(to, "sextant/") {
				continue
			}
			arrows++
			low, ok := rank[layer(to)]
			high, known := rank[layer(from)]
			if !ok || !known || low > high || layer(from) == "assets" {
				t.Errorf("%s: %s imports %s", system, from, to)
			}
		}
		if arrows < 100 {
			t.Errorf("%s: only %d imports are seen", system, arrows)
		}
	}
}

// TestLinked: physics links nothing that draws, and the calculator no Ebitengine, with which a program on Linux ends at its
// start where there is no display.
func TestLinked(t *testing.T) {
	for _, tt := range []struct {
		what string
		not  []string
	}{
		{"sextant/inverter/...", []string{"sextant/motor", "sextant/render", "image", "gonum.org/v1/plot", "github.com/hajimehoshi", "net"}},
		{"sextant/motor/...", []string{"sextant/render", "image", "gonum.org/v1/plot", "github.com/hajimehoshi", "net"}},
		{"sextant/cmd/sextant", []string{"github.com/hajimehoshi"}},
		{"sextant/render/window/show", []string{"github.com/hajimehoshi"}},
	} {
		deps := list(t, "linux/amd64", "-deps", tt.what)
		if len(deps) < 50 {
			t.Fatalf("only %d packages: %s", len(deps), deps)
		}
		for _, dep := range deps {
			for _, not := range tt.not {
				if dep == not || strings.HasPrefix(dep, not+"/") {
					t.Errorf("%s links %s", tt.what, dep)
				}
			}
		}
	}
}

// list returns the lines of go list on a system.
func list(t *testing.T, system string, args ...string) []string {
	t.Helper()
	list := exec.Command("go", append([]string{"list"}, args...)...)
	goos, goarch, _ := strings.Cut(system, "/")
	list.Env = append(os.Environ(), "GOOS="+goos, "GOARCH="+goarch)
	out, err := list.Output()
	if err != nil {
		t.Fatalf("%s: %v", system, err)
	}
	return slices.DeleteFunc(strings.Split(string(out), "\n"), func(s string) bool { return s == "" })
}
