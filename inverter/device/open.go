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

// Open reads the device that name means, a built-in one or a file. An error is [file.Findings].
func Open(name string) (Device, error) {
	found, data, err := shelf.Read("", name)
	if err != nil {
		return Device{}, file.Findings{{File: name, Err: err}}
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
