package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"sextant/inverter/file"
	"sextant/motor/drive"
	"sextant/motor/scenario"
)

// openScenario reads the scenario that FILE means: a path, a built-in name, or - for standard input.
func openScenario(c *cobra.Command, name string) (drive.Scenario, error) {
	found, data, err := readScenario(c, name)
	if err != nil {
		return drive.Scenario{}, err
	}
	return scenario.Load(found, data)
}

// readScenario returns what FILE holds, and the name that findings have for it.
func readScenario(c *cobra.Command, name string) (found string, data []byte, err error) {
	if name != "-" {
		return scenario.Find(name)
	}
	if data, err = file.ReadAll(c.InOrStdin()); err != nil {
		err = file.Findings{{File: "-", Err: err}}
	}
	return "-", data, err
}

// oneFile is the arguments of commands that read a scenario.
func oneFile(c *cobra.Command, args []string) error {
	switch len(args) {
	case 0:
		return errors.New(c.Name() + " reads a scenario: give a file, or a name that \"sextant list scenarios\" shows")
	case 1:
		return nil
	}
	return fmt.Errorf("%s reads one scenario, not %d", c.Name(), len(args))
}

// completeScenario offers the built-in scenarios, and files.
var completeScenario = completeFirst(scenario.Names)
