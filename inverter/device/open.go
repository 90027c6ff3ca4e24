package device

import (
	"io/fs"
	"path/filepath"
	"strings"

	"sextant/assets"
	"sextant/inverter/file"
)

var shelf = file.Shelf{Folder: "devices", Noun: "device"}

// Names lists the built-in devices.
func Names() []string { return shelf.Names() }

// Find returns the file that name means, a built-in device or a path. An error is [file.Findings].
func Find(name string) (found string, data []byte, err error) { return shelf.Find(name) }

// FindFrom returns the file that name means in file from: a built-in device, or else a path that starts where
// from lies.
func FindFrom(from, name string) (found string, data []byte, err error) {
	return shelf.Read(filepath.Dir(from), name)
}

// Open reads the device that name means, a built-in one or a file. An error is [file.Findings].
func Open(name string) (Device, error) {
	found, data, err := Find(name)
	if err != nil {
		return Device{}, err
	}
	return Load(found, data)
}

// FindCurve returns the CSV file that name means in device file from: beside a built-in device, or else a
// path that starts where from lies.
func FindCurve(from, name string) (found string, data []byte, err error) {
	if !strings.ContainsAny(from, `./\`) {
		data, err := fs.ReadFile(assets.Files, "devices/"+name)
		if err == nil {
			return name, data, nil
		}
	}
	return shelf.Read(filepath.Dir(from), name)
}

// Title returns the name that a built-in device gives itself.
func Title(name string) (string, error) {
	d, err := Open(name)
	return d.Name, err
}

// Is reports whether a document is a device's rather than a scenario's or a machine's.
func Is(d file.Document) bool {
	for _, key := range []string{"technology", "channel", "diode", "energy", "heat"} {
		if _, ok := d.Values[key]; ok {
			return true
		}
	}
	return false
}
