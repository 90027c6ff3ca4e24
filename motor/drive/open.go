package drive

import (
	"io"
	"path/filepath"

	"sextant/inverter/file"
)

// The shelves of what is built in.
var (
	scenarioShelf = file.Shelf{Folder: "scenarios", Noun: "scenario"}
	machineShelf  = file.Shelf{Folder: "machines", Noun: "machine"}
)

// Scenarios lists the names of the built-in scenarios.
func Scenarios() []string { return scenarioShelf.Names() }

// Machines lists the names of the built-in machines.
func Machines() []string { return machineShelf.Names() }

// Open reads the scenario that name means, a built-in one or a file. An error is [Findings].
func Open(name string) (Scenario, error) {
	found, data, err := FindScenario(name)
	if err != nil {
		return Scenario{}, err
	}
	return Load(found, data)
}

// FindScenario returns the file that name means, a built-in scenario or a path. An error is [Findings].
func FindScenario(name string) (found string, data []byte, err error) {
	return scenarioShelf.Find(name)
}

// FindMachine returns the machine file that name means in file from: a built-in one, or else a path that
// starts where from lies.
func FindMachine(from, name string) (found string, data []byte, err error) {
	return machineShelf.Read(filepath.Dir(from), name)
}

// ReadAll returns what r holds. It fails where that is too long to be a scenario.
func ReadAll(r io.Reader) ([]byte, error) { return file.ReadAll(r) }

// MachineTitle returns the title of a built-in machine.
func MachineTitle(name string) (string, error) {
	title, _, err := OpenMachine(name)
	return title, err
}
