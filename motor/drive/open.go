package drive

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

// mostBytes is the size up to which a scenario or machine file is read; a page of text has 4 KiB.
const mostBytes = 1 << 20

// Scenarios lists the names of the built-in scenarios.
func Scenarios() []string { return builtIn("scenarios") }

// Machines lists the names of the built-in machines.
func Machines() []string { return builtIn("machines") }

func builtIn(dir string) []string {
	entries, err := fs.ReadDir(assets.Files, dir)
	if err != nil {
		panic("drive: " + err.Error()) // the files are part of the program
	}
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = strings.TrimSuffix(e.Name(), ".toml")
	}
	return names
}

// Open reads the scenario that name means, a built-in one or a file. An error is [Findings].
func Open(name string) (Scenario, error) {
	file, data, err := read("scenarios", "scenario", "", name)
	if err != nil {
		return Scenario{}, Findings{{File: name, Err: err}}
	}
	return Load(file, data)
}

// FindMachine returns the machine file that name means in file from: a built-in one, or else a path that
// starts where from lies.
func FindMachine(from, name string) (file string, data []byte, err error) {
	return read("machines", "machine", filepath.Dir(from), name)
}

// read returns the built-in file of that name, or else the file at that path under dir. A built-in name
// has neither a dot nor a slash.
func read(builtIns, noun, dir, name string) (file string, data []byte, err error) {
	if !strings.ContainsAny(name, `./\`) {
		if data, err := fs.ReadFile(assets.Files, builtIns+"/"+name+".toml"); err == nil {
			return name, data, nil
		}
	}
	file = name
	if !filepath.IsAbs(name) {
		file = filepath.Join(dir, name)
	}
	data, err = readFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		if strings.ContainsAny(name, `./\`) {
			return "", nil, errors.New("there is no such file")
		}
		return "", nil, fmt.Errorf("there is no such file, and %w", unknown("built-in "+noun, name, builtIn(builtIns)))
	}
	return file, data, err
}

// readFile returns what a file holds, if it is not too long to be a scenario.
func readFile(file string) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, cause(err)
	}
	defer f.Close()
	return ReadAll(f)
}

// ReadAll returns what r holds. It fails where that is too long to be a scenario.
func ReadAll(r io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	if err != nil {
		return nil, cause(err)
	}
	if len(data) > mostBytes {
		return nil, errors.New("is longer than 1 MiB, so it is no scenario")
	}
	return data, nil
}

// cause strips the file's name, which a finding says anyway.
func cause(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return fmt.Errorf("cannot be read: %w", at.Err)
	}
	return err
}

// MachineTitle returns the title of a built-in machine.
func MachineTitle(name string) (string, error) {
	file, data, err := FindMachine("", name)
	if err != nil {
		return "", Findings{{File: name, Err: err}}
	}
	d, wrong := parse(file, data)
	if wrong != nil {
		return "", Findings{wrong}
	}
	title, _ := d.values["title"].(string)
	return title, nil
}
