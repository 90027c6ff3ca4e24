package device_test

import (
	"fmt"
	"strings"

	"sextant/inverter/device"
)

// What a device drops and what a switching costs, at 300 A, 350 V and 125 °C.
func ExampleOpen() {
	d, err := device.Open("illustrative")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(d.Technology)
	fmt.Printf("%.3f V\n", d.Channel.At(125).Voltage(300))
	fmt.Printf("%.2f mJ on, %.2f mJ off\n", 1e3*d.EnergyOf(device.TurnOn, 300, 350, 125), 1e3*d.EnergyOf(device.TurnOff, 300, 350, 125))
	// Output:
	// si-igbt
	// 1.414 V
	// 9.58 mJ on, 11.98 mJ off
}

// A file with a mistake says where it is and what would be right.
func ExampleLoad() {
	_, err := device.Load("mine.toml", []byte("name = \"mine\"\ntechnology = \"si-igtb\"\n"))
	first, _, _ := strings.Cut(err.Error(), "\n")
	fmt.Println(first)
	// Output:
	// mine.toml:1: voltage: is missing; give volts, like "350 V"
}
