package edition

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Write writes the site into the folder dir, which it makes if need be; each file is whole or not there,
// and the page comes last, so that it never names a file that is missing.
func (f Files) Write(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("%s cannot be made: %w", dir, errors.Unwrap(err))
	}
	for name, data := range f {
		if name == pageName {
			continue
		}
		if err := writeWhole(filepath.Join(dir, name), data); err != nil {
			return err
		}
	}
	return writeWhole(filepath.Join(dir, pageName), f[pageName])
}

func writeWhole(path string, data []byte) (err error) {
	defer func() {
		var at *fs.PathError
		if errors.As(err, &at) { // of the file aside
			err = fmt.Errorf("%s cannot be written: %w", path, at.Err)
		}
	}()
	aside, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"-")
	if err != nil {
		return err
	}
	defer os.Remove(aside.Name())
	if _, err := aside.Write(data); err != nil {
		aside.Close()
		return err
	}
	if err := aside.Close(); err != nil {
		return err
	}
	if err := os.Chmod(aside.Name(), 0o644); err != nil {
		return err
	}
	return os.Rename(aside.Name(), path)
}
