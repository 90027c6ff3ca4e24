//go:build !js

package kept

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// path returns the file in which the look is kept.
func path() (string, error) {
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, "sextant", "window.toml"), nil
}

// read returns what is kept, nil where there is nothing.
func read() ([]byte, error) {
	name, err := path()
	if err != nil {
		return nil, nil // a user without a directory keeps nothing
	}
	text, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return text, err
}

func write(text []byte) error {
	name, err := path()
	if err != nil {
		return err
	}
	return replace(name, text)
}

// replace writes aside and renames, so that there is never half a file.
func replace(name string, text []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
		return err
	}
	aside, err := writeAside(filepath.Dir(name), text)
	if err != nil {
		return err
	}
	if err = os.Rename(aside, name); err != nil {
		err = errors.Join(err, os.Remove(aside))
	}
	return err
}

// writeAside writes text to a file of its own in dir, and returns its name.
func writeAside(dir string, text []byte) (string, error) {
	f, err := os.CreateTemp(dir, ".sextant-*.part")
	if err != nil {
		return "", err
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Close()); err != nil {
		err = errors.Join(err, os.Remove(f.Name()))
	}
	return f.Name(), err
}

// setAside renames what is kept out of the way and returns its new name.
func setAside() (string, error) {
	name, err := path()
	if err != nil {
		return "", err
	}
	return name + ".bad", os.Rename(name, name+".bad")
}
