package scenario

import (
	"path/filepath"

	"sextant/inverter/file"
	"sextant/motor/drive"
)

// The shelves of what is built in.
var (
	scenarioShelf = file.Shelf{Folder: "scenarios", Noun: "scenario"}
	machineShelf  = file.Shelf{Folder: "machines", Noun: "machine"}
)

// Names lists the names of the built-in scenarios.
func Names() []string { return scenarioShelf.Names() }

// Machines lists the names of the built-in machines.
func Machines() []string { return machineShelf.Names() }

// Open reads the scenario that name means, a built-in one or a file. An error is [file.Findings].
func Open(name string) (drive.Scenario, error) {
	found, data, err := Find(name)
	if err != nil {
		return drive.Scenario{}, err
	}
	return Load(found, data)
}

// Find returns the file that name means, a built-in scenario or a path. An error is [file.Findings].
func Find(name string) (found string, data []byte, err error) {
	return scenarioShelf.Find(name)
}

// FindMachine returns the machine file that name means in file from: a built-in one, or else a path that
// starts where from lies.
func FindMachine(from, name string) (found string, data []byte, err error) {
	return machineShelf.Read(filepath.Dir(from), name)
}
