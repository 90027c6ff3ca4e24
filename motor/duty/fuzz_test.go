package duty_test

import (
	"math"
	"testing"

	"sextant/assets"
	"sextant/inverter/file/filetest"
	"sextant/motor/duty"
)

// Whatever a vehicle's file holds, there is a vehicle whose numbers are numbers, or findings with lines.
func FuzzVehicle(f *testing.F) {
	whole, err := assets.Files.ReadFile("vehicles/hauler.toml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(whole)
	const vehicle = "[vehicle]\nmass = 1000\nrolling = 0.01\ndrag_area = 2\nwheel_radius = 0.3\ngear = 10\n"
	for _, rest := range []string{
		"", "[battery]\ncapacity = \"10 kWh\"\ncharge = \"90 %\"\ncharge_limit = 1e300\n", "[drive]\ndevices = [3, \"\"]\npattern = 1\n",
		"[drive]\nsink = \"-300 C\"\n", "[[vehicle]]\n", "drive = \"\"\n", "mass = nan\n", "[drive]\ndrag = 2024-01-01\n",
	} {
		f.Add([]byte(vehicle + rest))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := duty.LoadVehicle("v.toml", data)
		if err != nil {
			filetest.Refused(t, err)
			return
		}
		v, d := s.Vehicle, s.Drive
		for _, x := range []float64{v.Mass, v.WheelRadius, v.Gear, v.Efficiency} {
			if !(x > 0) || math.IsInf(x, 0) {
				t.Errorf("%+v", v)
			}
		}
		for _, x := range []float64{v.RotatingMass, v.Rolling, v.DragArea, v.AirDensity, s.Battery.Capacity, s.Battery.Charge, d.Supply, d.Current, d.Carrier, d.DeadTime} {
			if !(x >= 0) || math.IsInf(x, 0) {
				t.Errorf("%+v", s)
			}
		}
	})
}
