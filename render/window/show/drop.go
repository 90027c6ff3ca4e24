package show

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"sextant/inverter/file"
)

// Drop loads the first scenario file among files that were let go over the picture.
func (s *Show) Drop(files fs.FS) {
	var name string
	err := fs.WalkDir(files, ".", func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case !entry.IsDir() && strings.HasSuffix(strings.ToLower(path), ".toml"):
			name = path
			return fs.SkipAll
		}
		return nil
	})
	if err == nil && name == "" {
		err = errors.New("that is no scenario; drop a file whose name ends in .toml")
	}
	if err != nil {
		s.Refuse(err)
		return
	}
	f, err := files.Open(name)
	if err != nil {
		s.Refuse(err)
		return
	}
	defer f.Close()
	data, err := file.ReadAll(f)
	if err != nil {
		s.Refuse(fmt.Errorf("%s: %w", name, err))
		return
	}
	s.load(name, data)
}
