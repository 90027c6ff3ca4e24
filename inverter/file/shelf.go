package file

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"sextant/assets"
)

// MostBytes is the size up to which a file is read; a page of text has 4 KiB.
const MostBytes = 1 << 20

// A Shelf is a folder of built-in files, whose names stand for them wherever a file is asked for.
type Shelf struct {
	Folder string // in [assets.Files]
	Noun   string // what one file holds, like "scenario"
	Ending string // of the files' names; empty is ".toml"
	Most   int64  // bytes up to which a file is read; 0 is [MostBytes]
}

func (s Shelf) ending() string {
	if s.Ending == "" {
		return ".toml"
	}
	return s.Ending
}

// Names lists what is on the shelf.
func (s Shelf) Names() []string {
	entries, err := fs.ReadDir(assets.Files, s.Folder)
	if err != nil {
		panic("file: " + err.Error()) // the files are part of the program
	}
	var names []string
	for _, e := range entries {
		if name, ok := strings.CutSuffix(e.Name(), s.ending()); ok {
			names = append(names, name)
		}
	}
	return names
}

// Read returns the built-in file of that name, or else the file at that path under dir. A built-in name
// has neither a dot nor a slash.
func (s Shelf) Read(dir, name string) (file string, data []byte, err error) {
	if !strings.ContainsAny(name, `./\`) {
		if data, err := fs.ReadFile(assets.Files, s.Folder+"/"+name+s.ending()); err == nil {
			return name, data, nil
		}
	}
	file = name
	if !filepath.IsAbs(name) {
		file = filepath.Join(dir, name)
	}
	data, err = s.readFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		if strings.ContainsAny(name, `./\`) {
			return "", nil, errors.New("there is no such file")
		}
		return "", nil, fmt.Errorf("there is no such file, and %w", Unknown("built-in "+s.Noun, name, s.Names()))
	}
	return file, data, err
}

// Find is Read for a name that a person gave: where nothing is to be read, the error is [Findings] about it.
func (s Shelf) Find(name string) (file string, data []byte, err error) {
	if file, data, err = s.Read("", name); err != nil {
		err = Findings{{File: name, Err: err}}
	}
	return file, data, err
}

// readFile returns what a file holds, if it is not too long to be one of ours.
func (s Shelf) readFile(file string) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, cause(err)
	}
	defer f.Close()
	return s.ReadAll(f)
}

// ReadAll returns what r holds. It fails where that is longer than the shelf's files may be.
func (s Shelf) ReadAll(r io.Reader) ([]byte, error) {
	most := s.Most
	if most == 0 {
		most = MostBytes
	}
	data, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return nil, cause(err)
	}
	if int64(len(data)) > most {
		return nil, fmt.Errorf("is longer than %d MiB, more than any such file needs", most>>20)
	}
	return data, nil
}

// ReadAll returns what r holds. It fails where that is longer than [MostBytes].
func ReadAll(r io.Reader) ([]byte, error) { return Shelf{}.ReadAll(r) }

// cause strips the file's name, which a finding says anyway.
func cause(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return fmt.Errorf("cannot be read: %w", at.Err)
	}
	return err
}
