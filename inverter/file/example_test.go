package file_test

import (
	"fmt"

	"sextant/inverter/file"
	"sextant/inverter/si"
)

// A key is read as a quantity, and what is wrong with it is told with its line.
func ExampleParse() {
	d, wrong := file.Parse("hauler.toml", []byte("[supply]\nvoltage = \"350 kOhm\"\n"))
	if wrong != nil {
		fmt.Println(wrong)
		return
	}
	supply := d.Values["supply"].(map[string]any)
	if _, err := file.Quantity(supply["voltage"], si.Voltage); err != nil {
		fmt.Println(&file.Finding{File: d.File, Line: d.Line("supply", "voltage"), Key: "supply.voltage", Err: err})
	}
	// Output:
	// hauler.toml:2: supply.voltage: "350 kOhm" is not a voltage; give volts, like "350 V"
}
