package envelope

import (
	"sextant/inverter/device"
	"sextant/inverter/loss"
)

// HeatOf returns the heat of a bridge of six such devices with their junctions at a temperature (°C).
func HeatOf(d *device.Device, junction float64) Heat {
	return func(p loss.Point) (float64, error) {
		a, err := loss.AverageOf(d, p)
		if err != nil {
			return 0, err
		}
		heat := a.At(junction, junction)
		return 6 * heat.Sum(), nil
	}
}
