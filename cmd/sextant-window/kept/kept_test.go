//go:build !js

package kept

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/render"
	"sextant/render/window/show"
)

// home gives the test a configuration directory of its own, and returns the file in it.
func home(t *testing.T) string {
	dir := t.TempDir()
	for _, name := range []string{"XDG_CONFIG_HOME", "HOME", "AppData"} {
		t.Setenv(name, dir)
	}
	name, err := path()
	if err != nil || !strings.HasPrefix(name, dir) {
		t.Fatalf("%s, %v", name, err)
	}
	return name
}

func TestWhatIsKeptIsRead(t *testing.T) {
	name := home(t)
	if l, err := Read(); err != nil || l != (Look{}) {
		t.Errorf("before anything was kept: %+v, %v", l, err)
	}
	want := Look{show.Taste{Theme: render.Projector, Numbering: inverter.Firing, Text: 2}, 1280, 720}
	if err := Write(want); err != nil {
		t.Fatal(err)
	}
	if l, err := Read(); err != nil || l != want {
		t.Errorf("kept %+v, read %+v, %v", want, l, err)
	}
	files, err := os.ReadDir(filepath.Dir(name))
	if err != nil || len(files) != 1 {
		t.Errorf("%v left behind, %v", files, err)
	}
}

func TestWhatCannotBeReadIsSetAside(t *testing.T) {
	for _, text := range []string{"theme = \"pink\"\n", "\x00\xff", "width = \"wide\"", "theme ="} {
		name := home(t)
		if err := Write(Look{}); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		l, err := Read()
		if err == nil || l != (Look{}) || !strings.Contains(err.Error(), name+".bad") {
			t.Errorf("%q gave %+v, %v", text, l, err)
		}
		if kept, _ := os.ReadFile(name + ".bad"); string(kept) != text {
			t.Errorf("%q was set aside as %q", text, kept)
		}
		if l, err := Read(); err != nil || l != (Look{}) {
			t.Errorf("the next time: %+v, %v", l, err)
		}
	}
}

func TestWhereNothingCanBeWritten(t *testing.T) {
	name := home(t)
	if err := os.WriteFile(filepath.Dir(name), nil, 0o600); err != nil && runtime.GOOS != "windows" {
		t.Fatal(err)
	}
	if err := Write(Look{}); err == nil {
		t.Error("a file in place of the directory went unnoticed")
	}
}
