package duty

import (
	"io"

	"sextant/inverter/file"
)

// mostBytes is the size up to which a cycle is read: some days of a row a second.
const mostBytes = 16 << 20

var (
	vehicles = file.Shelf{Folder: "vehicles", Noun: "vehicle"}
	cycles   = file.Shelf{Folder: "cycles", Noun: "cycle", Ending: ".csv", Most: mostBytes}
)

// Vehicles lists the names of the built-in vehicles.
func Vehicles() []string { return vehicles.Names() }

// FindVehicle returns the file that name means, a built-in vehicle or a file. An error is [file.Findings].
func FindVehicle(name string) (found string, data []byte, err error) { return vehicles.Find(name) }

// OpenVehicle reads the vehicle that name means, a built-in one or a file. An error is [file.Findings].
func OpenVehicle(name string) (Setup, error) {
	found, data, err := FindVehicle(name)
	if err != nil {
		return Setup{}, err
	}
	return LoadVehicle(found, data)
}

// Cycles lists the names of the built-in cycles.
func Cycles() []string { return cycles.Names() }

// Open reads the cycle that name means, a built-in one or a file. An error is [file.Findings].
func Open(name string) (Cycle, error) {
	found, data, err := Find(name)
	if err != nil {
		return Cycle{}, err
	}
	return Load(found, data)
}

// Find returns the CSV file that name means, a built-in cycle or a file. An error is [file.Findings].
func Find(name string) (found string, data []byte, err error) { return cycles.Find(name) }

// ReadAll returns what r holds. It fails where that is too long to be a cycle.
func ReadAll(r io.Reader) ([]byte, error) { return cycles.ReadAll(r) }
