package loss

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sextant/inverter/device"
	"sextant/inverter/si"
)

// A Quantity is one of a [Point]'s that can be varied while the others stay.
type Quantity uint8

// The quantities.
const (
	Carrier Quantity = iota
	Current
	Modulation
	PowerFactor
	Supply
	Frequency
)

// quantities is indexed by Quantity.
var quantities = []struct {
	name, key, label string
	of               si.Dimension
}{
	Carrier:     {"carrier", "carrier_hz", "carrier", si.Frequency},
	Current:     {"current", "current_a", "peak current", si.Current},
	Modulation:  {"modulation", "modulation", "modulation", si.Number},
	PowerFactor: {"power-factor", "power_factor", "power factor", si.Number},
	Supply:      {"supply", "supply_v", "supply", si.Voltage},
	Frequency:   {"frequency", "frequency_hz", "frequency", si.Frequency},
}

// Quantities lists the names of all, in order.
func Quantities() []string {
	var names []string
	for _, q := range quantities {
		names = append(names, q.name)
	}
	return names
}

// String returns the quantity's name as flags have it.
func (q Quantity) String() string {
	if int(q) < len(quantities) {
		return quantities[q].name
	}
	return fmt.Sprintf("Quantity(%d)", uint8(q))
}

// Key returns the quantity's name with its unit, as JSON and CSV have it.
func (q Quantity) Key() string { return quantities[q].key }

// Label returns what people call the quantity.
func (q Quantity) Label() string { return quantities[q].label }

// Dimension returns what the quantity is of.
func (q Quantity) Dimension() si.Dimension { return quantities[q].of }

// MarshalText returns the quantity's name.
func (q Quantity) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// UnmarshalText reads a quantity's name and refuses all else.
func (q *Quantity) UnmarshalText(text []byte) error {
	i := slices.Index(Quantities(), string(text))
	if i < 0 {
		return fmt.Errorf("%q is not a quantity to vary; quantities are %s", text, strings.Join(Quantities(), ", "))
	}
	*q = Quantity(i)
	return nil
}

// With returns p with another value of a quantity. A power factor keeps the current lagging or leading as it
// is.
func (p Point) With(q Quantity, x float64) Point {
	switch q {
	case Carrier:
		p.Carrier = x
	case Current:
		p.Current = x
	case Modulation:
		p.Modulation = x
	case PowerFactor:
		p.Lag = math.Copysign(math.Acos(x), p.Lag)
	case Supply:
		p.Supply = x
	case Frequency:
		p.Frequency = x
	}
	return p
}

// Of returns p's value of a quantity.
func (p *Point) Of(q Quantity) float64 {
	return [...]float64{
		Carrier: p.Carrier, Current: p.Current, Modulation: p.Modulation,
		PowerFactor: math.Cos(p.Lag), Supply: p.Supply, Frequency: p.Frequency,
	}[q]
}

// BreakEven returns where between low and high, at which one device and then the other loses less, a bridge of
// either loses the same. It fails as [Point.Validate] does at either end and between; where neither device loses
// less at an end, or the same one at both, it answers with an end.
func BreakEven(a, b *device.Device, p Point, q Quantity, low, high float64) (float64, error) {
	ahead := func(x float64) (float64, error) {
		ra, err := Of(a, p.With(q, x))
		if err != nil {
			return 0, err
		}
		rb, err := Of(b, p.With(q, x))
		return ra.Bridge - rb.Bridge, err
	}
	start, err := ahead(low)
	if err != nil {
		return 0, err
	}
	end := p.With(q, high)
	if err := end.Validate(); err != nil {
		return 0, err
	}
	least := 1e-15 * (high - low) // where the answer is 0, no part of it is small enough
	for high-low > max(least, 1e-9*(math.Abs(low)+math.Abs(high))) {
		mid := (low + high) / 2
		now, err := ahead(mid)
		if err != nil {
			return 0, err
		}
		if (now > 0) == (start > 0) {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2, nil
}
