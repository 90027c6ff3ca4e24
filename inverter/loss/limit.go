package loss

import (
	"math"

	"sextant/inverter/device"
)

// GreatestCurrent returns the greatest peak of the phase current, in A, that keeps the peak of every
// junction at or below limit, in °C, at the other values of p: 0 where none does. Bounded is false where
// more than ten times the device's rated current would be needed to get there. It fails as [Point.Validate]
// does.
func GreatestCurrent(d *device.Device, p Point, limit float64) (current float64, bounded bool, err error) {
	return greatest(d, p, limit, Current, 0, 10*d.Current)
}

// GreatestCarrier is [GreatestCurrent] for the carrier's frequency, in Hz: 0 where none does. Bounded is false
// where even a carrier of 1 MHz, or the fastest that the dead time allows, keeps below.
func GreatestCarrier(d *device.Device, p Point, limit float64) (carrier float64, bounded bool, err error) {
	const fastest = 1e6
	high := fastest
	if p.DeadTime > 0 {
		high = min(high, (1-1e-9)/(2*p.DeadTime))
	}
	low := min(high, max(p.Frequency, 1))
	return greatest(d, p, limit, Carrier, low, high)
}

// greatest returns the greatest value of q from low to high that keeps the junctions at or below limit. Heat
// grows with it, so halving finds it.
func greatest(d *device.Device, p Point, limit float64, q Quantity, low, high float64) (float64, bool, error) {
	p.Fixed = false
	keeps := func(x float64) (bool, error) {
		r, err := Of(d, p.With(q, x))
		return err == nil && !r.Settling.Runaway && r.Peak() <= limit, err
	}
	if ok, err := keeps(high); ok || err != nil {
		return high, false, err
	}
	if ok, err := keeps(low); !ok || err != nil {
		return 0, true, err
	}
	for high-low > 1e-9*math.Abs(high) {
		mid := (low + high) / 2
		ok, err := keeps(mid)
		if err != nil {
			return 0, false, err
		}
		if ok {
			low = mid
		} else {
			high = mid
		}
	}
	return low, true, nil
}
