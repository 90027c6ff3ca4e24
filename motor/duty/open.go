package duty

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"sextant/assets"
	"sextant/inverter/file"
)

// mostBytes is the size up to which a cycle is read: some days of a row a second.
const mostBytes = 16 << 20

var vehicles = file.Shelf{Folder: "vehicles", Noun: "vehicle"}

// Vehicles lists the names of the built-in vehicles.
func Vehicles() []string { return vehicles.Names() }

// FindVehicle returns the file that name means, a built-in vehicle or a file. An error is [file.Findings].
func FindVehicle(name string) (found string, data []byte, err error) {
	if found, data, err = vehicles.Read("", name); err != nil {
		err = file.Findings{{File: name, Err: err}}
	}
	return found, data, err
}

// OpenVehicle reads the vehicle that name means, a built-in one or a file. An error is [file.Findings].
func OpenVehicle(name string) (Setup, error) {
	found, data, err := FindVehicle(name)
	if err != nil {
		return Setup{}, err
	}
	return LoadVehicle(found, data)
}

// Cycles lists the names of the built-in cycles.
func Cycles() []string {
	entries, err := fs.ReadDir(assets.Files, "cycles")
	if err != nil {
		panic("duty: " + err.Error()) // the files are part of the program
	}
	var names []string
	for _, e := range entries {
		if name, ok := strings.CutSuffix(e.Name(), ".csv"); ok {
			names = append(names, name)
		}
	}
	return names
}

// Open reads the cycle that name means, a built-in one or a file. An error is [file.Findings].
func Open(name string) (Cycle, error) {
	found, data, err := Find(name)
	if err != nil {
		return Cycle{}, err
	}
	return Load(found, data)
}

// Find returns the CSV file that name means, a built-in cycle or a file. An error is [file.Findings].
func Find(name string) (found string, data []byte, err error) {
	if !strings.ContainsAny(name, `./\`) {
		if data, err := fs.ReadFile(assets.Files, "cycles/"+name+".csv"); err == nil {
			return name, data, nil
		}
	}
	fail := func(err error) (string, []byte, error) { return name, nil, file.Findings{{File: name, Err: err}} }
	f, err := os.Open(filepath.Clean(name))
	switch {
	case errors.Is(err, fs.ErrNotExist) && strings.ContainsAny(name, `./\`):
		return fail(errors.New("there is no such file"))
	case errors.Is(err, fs.ErrNotExist):
		return fail(fmt.Errorf("there is no such file, and %w", file.Unknown("built-in cycle", name, Cycles())))
	case err != nil:
		return fail(fmt.Errorf("cannot be read: %w", reason(err)))
	}
	defer f.Close()
	if data, err = ReadAll(f); err != nil {
		return fail(err)
	}
	return name, data, nil
}

// ReadAll returns what r holds. It fails where that is too long to be a cycle.
func ReadAll(r io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	if err != nil {
		return nil, fmt.Errorf("cannot be read: %w", reason(err))
	}
	if len(data) > mostBytes {
		return nil, errors.New("is longer than 16 MiB; give a shorter cycle")
	}
	return data, nil
}

// reason strips the file's name, which a finding says anyway.
func reason(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err
	}
	return err
}
