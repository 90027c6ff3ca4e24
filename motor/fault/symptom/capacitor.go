package symptom

import (
	"fmt"

	"sextant/motor/drive"
)

// A Capacitor is what a meter for capacitors reads at the link, discharged and with the source off it.
type Capacitor struct {
	Farads        float64 `json:"capacitance_f"`
	Ohms          float64 `json:"series_resistance_ohm"`
	HealthyFarads float64 `json:"healthy_capacitance_f"`
	HealthyOhms   float64 `json:"healthy_series_resistance_ohm"`
}

// capacitor returns the readings of drive s with fault f, nil where its link is stiff.
func capacitor(s *drive.Scenario, f drive.Fault) *Capacitor {
	c, r := s.Supply.Capacitance, s.Supply.CapacitorResistance
	if c == 0 {
		return nil
	}
	x := &Capacitor{Farads: c, Ohms: r, HealthyFarads: c, HealthyOhms: r}
	switch f.Kind {
	case drive.CapacitorAged:
		x.Farads *= f.Value
	case drive.CapacitorResistance:
		x.Ohms += f.Value
	}
	return x
}

// Capacitors are spent when a fifth of their capacitance is gone or their series resistance has doubled: common
// practice with electrolytic ones.
const (
	spentFarads = 0.8
	spentOhms   = 2
)

// spent reports whether the readings are those of a capacitor at the end of its life.
func (c *Capacitor) spent() bool {
	return c.Farads < spentFarads*c.HealthyFarads || c.Ohms > spentOhms*c.HealthyOhms
}

// sentence says what the meter reads.
func (c *Capacitor) sentence() string {
	s := fmt.Sprintf("Capacitor meter across the discharged link, source off: %s, %s in series", quantity(c.Farads, "F"), quantity(c.Ohms, "ohm"))
	if *c == (Capacitor{c.HealthyFarads, c.HealthyOhms, c.HealthyFarads, c.HealthyOhms}) {
		return s + ", as in a healthy drive."
	}
	s += fmt.Sprintf("; healthy %s, %s", quantity(c.HealthyFarads, "F"), quantity(c.HealthyOhms, "ohm"))
	if c.spent() {
		s += ": it is spent (less than 80 %, or twice the resistance)"
	}
	return s + "."
}
