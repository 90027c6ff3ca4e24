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

// OpenVehicle reads the vehicle that name means, a built-in one or a file. An error is [file.Findings].
func OpenVehicle(name string) (Setup, error) {
	found, data, err := vehicles.Read("", name)
	if err != nil {
		return Setup{}, file.Findings{{File: name, Err: err}}
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
	if !strings.ContainsAny(name, `./\`) {
		if data, err := fs.ReadFile(assets.Files, "cycles/"+name+".csv"); err == nil {
			return Load(name, data)
		}
	}
	fail := func(err error) (Cycle, error) { return Cycle{}, file.Findings{{File: name, Err: err}} }
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
	data, err := ReadAll(f)
	if err != nil {
		return fail(err)
	}
	return Load(name, data)
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
