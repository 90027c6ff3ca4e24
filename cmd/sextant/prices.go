package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter/si"
)

// prices are a user's own, in any one money.
type prices struct {
	energy float64           // of a kilowatt-hour; 0 where it is not known
	given  map[string]string // of one device, by name

	of []float64 // by device; 0 where it is not known
}

func (p *prices) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.Var(si.Number.Into(&p.energy), "energy-price", "`price` of a kilowatt-hour, in any money")
	f.StringToStringVar(&p.given, "price", nil, "`name=price` of a device, like sic-750=95, in the same money; else its file's")
	optional(cmd, "energy-price", "price")
}

// ask finds the price of each device.
func (p *prices) ask(devices []namedDevice) error {
	if !(p.energy >= 0 && p.energy <= 1e9) {
		return usage("--energy-price: %g is out of range; give the price of a kilowatt-hour, like 0.30", p.energy)
	}
	var names []string
	for _, d := range devices {
		names = append(names, d.short())
		price := d.device.Price
		if text, ok := p.given[d.short()]; ok {
			x, err := strconv.ParseFloat(text, 64)
			if err != nil || !(x > 0 && x <= 1e9) {
				return usage("--price: %q is no price of %s; give a number above 0", text, d.short())
			}
			price = x
		}
		p.of = append(p.of, price)
	}
	for name := range p.given {
		if !slices.Contains(names, name) {
			return usage("--price: there is no device %q here; devices are %s", name, strings.Join(names, ", "))
		}
	}
	return nil
}

// dearer returns what six of a device cost more than six of the first, and whether that is known.
func (p *prices) dearer(k int) (float64, bool) {
	const six = 6
	return six * (p.of[k] - p.of[0]), p.of[k] > 0 && p.of[0] > 0
}

// money writes an amount with as many decimals as suit it.
func money(x float64) string {
	switch {
	case x >= 100 || x <= -100:
		return fixed(x, 0)
	case x >= 1 || x <= -1:
		return fixed(x, 2)
	}
	return fmt.Sprintf("%.3g", x)
}
