package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
)

// writeAside lets write fill a file beside the one named, and gives it that name once it is whole: a
// failure, or Ctrl-C, leaves an older file as it was, and none where there was none. What is no regular
// file, such as a pipe, is written as it is.
func writeAside(name string, write func(io.Writer) error) error {
	name, regular, err := target(name)
	if err != nil {
		return err
	}
	if !regular {
		f, err := os.OpenFile(name, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		return errors.Join(fill(f, write), f.Close())
	}
	f, err := openPart(name)
	if err != nil {
		return err
	}
	part := f.Name()
	defer removeOnSignal(part)()
	err = errors.Join(fill(f, write), f.Close())
	if err == nil {
		err = os.Rename(part, name)
	}
	if err != nil {
		err = errors.Join(unwritten(name, part, err), os.Remove(part))
	}
	return err
}

// writable tells why writeAside would not begin to write a file, for those who would work long for it; none is asked for
// by "", nor by the - of standard output.
func writable(name string) error {
	if name == "" || name == "-" {
		return nil
	}
	name, regular, err := target(name)
	if err != nil || !regular {
		return err
	}
	f, err := openPart(name)
	if err != nil {
		return err
	}
	return errors.Join(f.Close(), os.Remove(f.Name()))
}

// target returns the file that a name leads to, and whether it is a regular file, or none yet.
func target(name string) (file string, regular bool, err error) {
	if to, err := filepath.EvalSymlinks(name); err == nil {
		name = to
	}
	info, err := os.Stat(name)
	switch {
	case err != nil:
		return name, true, nil
	case info.IsDir():
		return name, false, fmt.Errorf("%s is a folder; give a file", name)
	}
	return name, info.Mode().IsRegular(), nil
}

// openPart opens the part that a file is made in, which must not be there.
func openPart(name string) (*os.File, error) {
	part := name + ".part"
	f, err := os.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return nil, fmt.Errorf("%s is in the way: another run is writing it, or left it when it was killed; remove it", part)
	}
	if err != nil {
		return nil, unwritten(name, part, err)
	}
	return f, nil
}

// unwritten turns an error about the part that a file or a folder is made in into one about that itself.
func unwritten(name, part string, err error) error {
	var path *fs.PathError
	switch {
	case !errors.As(err, &path) || path.Path != part && filepath.Dir(path.Path) != part:
		return err
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s cannot be written: there is no folder %s", name, filepath.Dir(name))
	}
	return fmt.Errorf("%s cannot be written: %w", name, path.Err)
}

func fill(f *os.File, write func(io.Writer) error) error {
	w := bufio.NewWriter(f)
	if err := write(w); err != nil {
		return err
	}
	return w.Flush()
}

// removeOnSignal removes a file and ends the program when it is told to end, until stop is called.
func removeOnSignal(file string) (stop func()) {
	told, over := make(chan os.Signal, 1), make(chan struct{})
	signal.Notify(told, endings()...)
	go func() {
		select {
		case <-told:
			os.Remove(file)
			os.Exit(failed)
		case <-over:
		}
	}()
	return func() {
		signal.Stop(told)
		close(over)
	}
}
