// Package si reads and writes quantities with their units, as files and flags have them: "8 kHz", "2 us",
// "20 mohm", "3000 rpm".
//
// A quantity is a plain float64 in the SI unit of its [Dimension]; an angle is in radians and a
// temperature in degrees Celsius, which is how data sheets have it.
package si

import (
	"fmt"
	"strings"
)

// A Dimension is what a quantity is of; it decides which units are allowed. It prints as a noun,
// like "voltage".
type Dimension uint8

// The dimensions, with the unit that their values are in.
const (
	Number            Dimension = iota // no unit, or %
	Voltage                            // V
	Current                            // A
	Resistance                         // Ω
	Inductance                         // H
	Capacitance                        // F
	Flux                               // Wb
	Frequency                          // Hz
	Time                               // s
	Angle                              // rad; a bare number is refused
	Speed                              // rad/s; a bare number is refused
	Temperature                        // °C; a bare number is refused
	Torque                             // N m
	Inertia                            // kg m²
	Friction                           // N m s/rad
	Power                              // W
	Energy                             // J
	Ramp                               // Hz/s
	Drag                               // N m s²/rad²
	ThermalResistance                  // K/W
	Mass                               // kg
	Length                             // m
	Area                               // m²
	Density                            // kg/m³
)

// A unit is one way to write a dimension. Spellings are without spaces, the first being the one that we
// print; a value is number × scale + offset. Prefixes may stand before it where prefixed is set.
type unit struct {
	spellings []string
	print     string // where it has spaces or signs that spellings lack
	scale     float64
	offset    float64
	prefixed  bool
}

// kind describes a Dimension. Its first unit is the one whose number is the value itself.
type kind struct {
	noun    string
	advice  string // completes "give ..."
	units   []unit
	refuses bool // a bare number
}

// one is an SI unit with prefixes.
func one(spellings ...string) unit { return unit{spellings: spellings, scale: 1, prefixed: true} }

// kinds is indexed by Dimension. A degree is π/180 rad and a turn a minute π/30 rad/s, exactly.
var kinds = [...]kind{
	Number:      {noun: "number", advice: `a bare number or per cent, like 0.8 or "80 %"`, units: []unit{{spellings: []string{""}, scale: 1}, {spellings: []string{"%"}, scale: 0.01}}},
	Voltage:     {noun: "voltage", advice: `volts, like "350 V"`, units: []unit{one("V")}},
	Current:     {noun: "current", advice: `amperes, like "120 A"`, units: []unit{one("A")}},
	Resistance:  {noun: "resistance", advice: `ohms, like "20 mohm"`, units: []unit{one("ohm", "Ohm", "ohms")}},
	Inductance:  {noun: "inductance", advice: `henries, like "0.2 mH"`, units: []unit{one("H")}},
	Capacitance: {noun: "capacitance", advice: `farads, like "500 uF"`, units: []unit{one("F")}},
	Flux:        {noun: "flux linkage", advice: `webers, like "0.08 Wb"`, units: []unit{one("Wb", "Vs")}},
	Frequency:   {noun: "frequency", advice: `hertz, like "8 kHz"`, units: []unit{one("Hz")}},
	Time:        {noun: "time", advice: `seconds, like "2 us" or "50 ms"`, units: []unit{one("s"), {spellings: []string{"min"}, scale: 60}, {spellings: []string{"h"}, scale: 3600}}},
	Angle: {noun: "angle", advice: `degrees or radians, like "90 deg" or "1.57 rad"`, refuses: true, units: []unit{
		{spellings: []string{"rad"}, scale: 1},
		{spellings: []string{"deg", "°"}, scale: degree},
	}},
	Speed: {noun: "speed", advice: `turns a minute or radians a second, like "3000 rpm" or "314 rad/s"`, refuses: true, units: []unit{
		{spellings: []string{"rad/s"}, scale: 1},
		{spellings: []string{"rpm", "RPM", "r/min", "1/min", "min-1", "U/min"}, scale: rpm},
	}},
	Temperature: {noun: "temperature", advice: `degrees Celsius or kelvins, like "65 C" or "338 K"`, refuses: true, units: []unit{
		{spellings: []string{"C", "°C", "degC"}, scale: 1},
		{spellings: []string{"K"}, scale: 1, offset: -273.15},
	}},
	Torque:            {noun: "torque", advice: `newton metres, like "57 N m"`, units: []unit{{spellings: []string{"Nm"}, print: "N m", scale: 1, prefixed: true}}},
	Inertia:           {noun: "moment of inertia", advice: `like "0.05 kg m2"`, units: []unit{{spellings: []string{"kgm2"}, print: "kg m2", scale: 1}, {spellings: []string{"kgcm2"}, print: "kg cm2", scale: 1e-4}, {spellings: []string{"gcm2"}, print: "g cm2", scale: 1e-7}}},
	Friction:          {noun: "viscous friction", advice: `like "0.01 N m s/rad"`, units: []unit{{spellings: []string{"Nms/rad", "Nms"}, print: "N m s/rad", scale: 1, prefixed: true}}},
	Ramp:              {noun: "rate of frequency", advice: `hertz a second, like "25 Hz/s"`, units: []unit{one("Hz/s")}},
	Drag:              {noun: "quadratic drag", advice: `like "0.001 N m s2/rad2"`, units: []unit{{spellings: []string{"Nms2/rad2", "Nms2"}, print: "N m s2/rad2", scale: 1, prefixed: true}}},
	Power:             {noun: "power", advice: `watts, like "60 kW"`, units: []unit{one("W")}},
	ThermalResistance: {noun: "thermal resistance", advice: `kelvins a watt, like "0.06 K/W"`, units: []unit{one("K/W")}},
	Mass:              {noun: "mass", advice: `kilograms or tonnes, like "3200 kg" or "3.2 t"`, units: []unit{{spellings: []string{"kg"}, scale: 1}, {spellings: []string{"t"}, scale: 1000}}},
	Length:            {noun: "length", advice: `metres, like "0.4 m"`, units: []unit{one("m")}},
	Area:              {noun: "area", advice: `square metres, like "2.5 m2"`, units: []unit{{spellings: []string{"m2"}, scale: 1}}},
	Density:           {noun: "density", advice: `like "1.2 kg/m3"`, units: []unit{{spellings: []string{"kg/m3"}, scale: 1}}},
	Energy:            {noun: "energy", advice: `joules, like "12 mJ"`, units: []unit{one("J"), {spellings: []string{"Wh"}, scale: 3600, prefixed: true}}},
}

// String returns the noun for d.
func (d Dimension) String() string {
	if int(d) < len(kinds) {
		return kinds[d].noun
	}
	return fmt.Sprintf("Dimension(%d)", uint8(d))
}

// Advice says how a quantity of d is written, to complete "give ...".
func (d Dimension) Advice() string { return kinds[d].advice }

// label is how u is printed after a number and a prefix.
func (u unit) label() string {
	if u.print != "" {
		return u.print
	}
	return u.spellings[0]
}

// plain makes the many spellings of a unit into the one that units lists: ohm and micro signs, raised
// twos, and dots, stars, carets and spaces between factors.
var plain = strings.NewReplacer(
	"\u03a9", "ohm", "\u2126", "ohm", // Greek omega, ohm sign
	"\u00b5", "u", "\u03bc", "u", // micro sign, Greek mu
	"\u00b2", "2", "^", "",
	"\u00b7", "", "\u22c5", "", "*", "", " ", "", "\u00a0", "", "\u202f", "",
)
