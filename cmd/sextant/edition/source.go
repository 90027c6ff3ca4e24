package edition

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"golang.org/x/mod/modfile"
)

// module is the path of the module that holds the programs.
const module = "sextant"

// FindSource returns the folder of the module's source: the one that dir is or lies in; without a dir, the
// one that the working folder lies in, else the one that this program was built from.
func FindSource(dir string) (string, error) {
	_, file, _, _ := runtime.Caller(0)
	places := []string{".", filepath.Dir(file)}
	if dir != "" {
		places = []string{dir}
	}
	for _, start := range places {
		if start, err := filepath.Abs(start); err == nil {
			if root, ok := moduleAbove(start); ok {
				return root, nil
			}
		}
	}
	if dir != "" {
		return "", fmt.Errorf("%s is not in the source of sextant, the folder with its go.mod", dir)
	}
	return "", errors.New("the browser edition is built from the source of sextant, which is not here; " +
		"go to its folder, or name it with --source")
}

// moduleAbove returns the folder of the module, at dir or above it.
func moduleAbove(dir string) (root string, ok bool) {
	for {
		if data, err := os.ReadFile(filepath.Join(dir, "go.mod")); err == nil {
			return dir, modfile.ModulePath(data) == module
		}
		above := filepath.Dir(dir)
		if above == dir {
			return "", false
		}
		dir = above
	}
}

// fingerprint returns a name for all that the built program depends on: the source under root, and the
// version of Go.
func fingerprint(root, goVersion string) (string, error) {
	sum := sha256.New()
	fmt.Fprintln(sum, goVersion)
	add := func(path string) error {
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		name, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		fmt.Fprintln(sum, filepath.ToSlash(name), len(data))
		_, err = sum.Write(data)
		return err
	}
	for _, file := range []string{"go.mod", "go.sum"} {
		if err := add(filepath.Join(root, file)); err != nil {
			return "", err
		}
	}
	for _, folder := range []string{"assets", "cmd/sextant-window", "inverter", "motor", "render"} {
		err := filepath.WalkDir(filepath.Join(root, folder), func(path string, entry fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case entry.IsDir() && entry.Name() == "testdata":
				return filepath.SkipDir
			case !entry.Type().IsRegular() || strings.HasSuffix(path, "_test.go"):
				return nil
			}
			return add(path)
		})
		if err != nil {
			return "", err
		}
	}
	return hex.EncodeToString(sum.Sum(nil)[:12]), nil
}

// copyFile copies a file into a folder under a new name.
func copyFile(from, dir, name string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.Create(filepath.Join(dir, name))
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}
