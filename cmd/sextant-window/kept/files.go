//go:build !js

package kept

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"sextant/inverter/file"
)

// mostRecent is how many recent files are kept.
const mostRecent = 12

// Files are the user's own files: what is saved goes beside where it came from, or among the user's documents; which were
// opened or saved last is kept in the configuration directory.
type Files struct {
	recent []string
	read   bool
	doubt  error // of reading what was kept
}

// NewFiles returns the user's files.
func NewFiles() *Files { return &Files{} }

// Save writes data to a new file of about that name, beside the file from where that is not empty and can be written
// to, else among the user's documents, and returns where it lies. No file is written over.
func (f *Files) Save(name, from string, data []byte) (string, error) {
	var failed error
	for _, dir := range folders(from) {
		where, err := saveIn(dir, name, data)
		if err == nil {
			return where, nil
		}
		failed = errors.Join(failed, err)
	}
	if failed == nil {
		failed = errors.New("this user has no folder for documents")
	}
	return "", failed
}

// folders lists where a file may be saved, the best first.
func folders(from string) (dirs []string) {
	if from != "" {
		dirs = append(dirs, filepath.Dir(from))
	}
	if dir, ok := documents(); ok {
		dirs = append(dirs, dir)
	}
	if name, err := path(); err == nil && os.MkdirAll(filepath.Dir(name), 0o700) == nil {
		dirs = append(dirs, filepath.Dir(name))
	}
	return dirs
}

// documents returns the folder that the user's desktop has for documents.
func documents() (string, bool) {
	home, err := os.UserHomeDir()
	if err != nil {
		return "", false
	}
	dirs := []string{os.Getenv("XDG_DOCUMENTS_DIR")}
	if config, err := os.UserConfigDir(); err == nil { // as xdg-user-dirs writes it
		text, _ := os.ReadFile(filepath.Join(config, "user-dirs.dirs"))
		for line := range strings.Lines(string(text)) {
			if dir, ok := strings.CutPrefix(strings.TrimSpace(line), "XDG_DOCUMENTS_DIR="); ok {
				dirs = append(dirs, strings.Replace(strings.Trim(dir, `"`), "$HOME", home, 1))
			}
		}
	}
	for _, dir := range append(dirs, filepath.Join(home, "Documents")) {
		if at, err := os.Stat(dir); dir != "" && err == nil && at.IsDir() {
			return dir, true
		}
	}
	return "", false
}

// saveIn writes a file of that name, or of that name and a number, to dir.
func saveIn(dir, name string, data []byte) (string, error) {
	aside, err := writeAside(dir, data)
	if err != nil {
		return "", err
	}
	where := free(dir, name)
	if err := os.Rename(aside, where); err != nil {
		return "", errors.Join(err, os.Remove(aside))
	}
	if err := os.Chmod(where, 0o644); err != nil {
		return "", err
	}
	if whole, err := filepath.Abs(where); err == nil {
		where = whole
	}
	return where, nil
}

// free returns the first of NAME.toml, NAME-2.toml ... that there is not in dir.
func free(dir, name string) string {
	end := filepath.Ext(name)
	base := strings.TrimSuffix(name, end)
	for n := 1; ; n++ {
		try := name
		if n > 1 {
			try = fmt.Sprintf("%s-%d%s", base, n, end)
		}
		where := filepath.Join(dir, try)
		if _, err := os.Lstat(where); errors.Is(err, fs.ErrNotExist) {
			return where
		}
	}
}

// list is the file of recent files.
type list struct {
	Files []string `toml:"files"`
}

func listPath() (string, error) {
	name, err := path()
	return filepath.Join(filepath.Dir(name), "recent.toml"), err
}

// Recent lists the files that were opened or saved last and are still there, the latest first.
func (f *Files) Recent() []string {
	if !f.read {
		f.read = true
		f.recent, f.doubt = readList()
	}
	return f.recent
}

// readList reads what was kept; what cannot be read is set aside.
func readList() ([]string, error) {
	name, err := listPath()
	if err != nil {
		return nil, nil
	}
	text, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var l list
	if err == nil {
		err = toml.Unmarshal(text, &l)
	}
	if err != nil {
		err = fmt.Errorf("the list of recent files cannot be read: %w; it was set aside as %s", err, name+".bad")
		return nil, errors.Join(err, os.Rename(name, name+".bad"))
	}
	return slices.DeleteFunc(l.Files, func(name string) bool {
		at, err := os.Stat(name)
		return err != nil || !at.Mode().IsRegular()
	}), nil
}

// Remember puts a file first among the recent ones. It fails where that cannot be kept, or what was kept before could not
// be read.
func (f *Files) Remember(name string) error {
	if whole, err := filepath.Abs(name); err == nil {
		name = whole
	}
	all := append([]string{name}, slices.DeleteFunc(slices.Clone(f.Recent()), func(n string) bool { return n == name })...)
	f.recent = all[:min(len(all), mostRecent)]
	doubt := f.doubt
	f.doubt = nil
	text, err := toml.Marshal(list{f.recent})
	if err != nil {
		return errors.Join(doubt, err)
	}
	where, err := listPath()
	if err != nil {
		return doubt // a user without a directory keeps nothing
	}
	if err := replace(where, text); err != nil {
		return errors.Join(doubt, fmt.Errorf("the list of recent files cannot be kept: %w", err))
	}
	return doubt
}

// Read returns what a file holds; one too long to be a scenario's is refused.
func (f *Files) Read(name string) ([]byte, error) {
	r, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("cannot be read: %w", errors.Unwrap(err))
	}
	defer r.Close()
	return file.ReadAll(r)
}
