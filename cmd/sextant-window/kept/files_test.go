//go:build !js

package kept

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

func TestSaveBesideWhereItCameFrom(t *testing.T) {
	home(t)
	dir := t.TempDir()
	from := filepath.Join(dir, "hill.toml")
	if err := os.WriteFile(from, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	f := NewFiles()
	for _, want := range []string{"hill-2.toml", "hill-3.toml"} {
		where, err := f.Save("hill.toml", from, []byte(want))
		if err != nil || where != filepath.Join(dir, want) {
			t.Errorf("saved as %s, %v; want %s", where, err, want)
		}
		if text, _ := os.ReadFile(where); string(text) != want {
			t.Errorf("%s holds %q", where, text)
		}
	}
	if text, _ := os.ReadFile(from); string(text) != "old" {
		t.Errorf("what it came from was written over: %q", text)
	}
	if files, err := os.ReadDir(dir); len(files) != 3 || err != nil {
		t.Errorf("%v left behind, %v", files, err)
	}
}

func TestSaveAmongDocuments(t *testing.T) {
	name := home(t)
	f := NewFiles()
	where, err := f.Save("a.toml", "", []byte("x"))
	if err != nil || filepath.Dir(where) != filepath.Dir(name) {
		t.Errorf("without documents it was saved as %s, %v", where, err)
	}
	user, err := os.UserHomeDir()
	if err != nil {
		t.Fatal(err)
	}
	plain := filepath.Join(user, "Documents")
	if err := os.Mkdir(plain, 0o700); err != nil {
		t.Fatal(err)
	}
	if where, err := f.Save("a.toml", "", []byte("x")); err != nil || where != filepath.Join(plain, "a.toml") {
		t.Errorf("with Documents it was saved as %s, %v", where, err)
	}
	if runtime.GOOS == "linux" {
		own := filepath.Join(user, "Papiere")
		if err := os.Mkdir(own, 0o700); err != nil {
			t.Fatal(err)
		}
		config, err := os.UserConfigDir()
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(config, "user-dirs.dirs"), []byte("# x\nXDG_DOCUMENTS_DIR=\"$HOME/Papiere\"\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		if where, err := f.Save("a.toml", filepath.Join(user, "gone", "b.toml"), []byte("x")); err != nil || where != filepath.Join(own, "a.toml") {
			t.Errorf("with a folder of the desktop's it was saved as %s, %v", where, err)
		}
	}
}

func TestRecentFiles(t *testing.T) {
	home(t)
	dir := t.TempDir()
	var names []string
	for k := range mostRecent + 2 {
		name := filepath.Join(dir, string(rune('a'+k))+".toml")
		if err := os.WriteFile(name, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		names = append(names, name)
		if err := NewFiles().Remember(name); err != nil {
			t.Fatal(err)
		}
	}
	if err := NewFiles().Remember(names[5]); err != nil {
		t.Fatal(err)
	}
	got := NewFiles().Recent()
	if len(got) != mostRecent || got[0] != names[5] || got[1] != names[len(names)-1] || slices.Contains(got[1:], names[5]) {
		t.Errorf("recent are %v", got)
	}
	if err := os.Remove(names[5]); err != nil {
		t.Fatal(err)
	}
	if got := NewFiles().Recent(); slices.Contains(got, names[5]) {
		t.Error("a file that is gone is still offered")
	}
}

func TestRecentFilesThatCannotBeRead(t *testing.T) {
	home(t)
	name, err := listPath()
	if err != nil {
		t.Fatal(err)
	}
	if err := replace(name, []byte("files = 3\n")); err != nil {
		t.Fatal(err)
	}
	f := NewFiles()
	if got := f.Recent(); len(got) != 0 {
		t.Errorf("recent are %v", got)
	}
	own := filepath.Join(t.TempDir(), "own.toml")
	if err := os.WriteFile(own, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := f.Remember(own); err == nil || !strings.Contains(err.Error(), name+".bad") {
		t.Errorf("nothing is said of what could not be read: %v", err)
	}
	if text, _ := os.ReadFile(name + ".bad"); string(text) != "files = 3\n" {
		t.Errorf("set aside was %q", text)
	}
	if got := NewFiles().Recent(); !slices.Equal(got, []string{own}) {
		t.Errorf("then recent are %v", got)
	}
}
