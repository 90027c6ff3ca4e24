package main

import (
	"errors"
	"os"
	"path/filepath"

	"sextant/render/lesson"
)

// writeResults writes answers to a CSV file, which is there once it is whole.
func writeResults(name string, results []lesson.Result) error {
	f, err := os.CreateTemp(filepath.Dir(name), filepath.Base(name)+".*.part")
	if err != nil {
		return err
	}
	err = errors.Join(lesson.WriteResults(f, results), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		err = errors.Join(err, os.Remove(f.Name()))
	}
	return err
}
