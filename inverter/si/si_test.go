package si_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/unit"
	"pgregory.net/rapid"

	"sextant/inverter/si"
)

func TestParse(t *testing.T) {
	for _, tt := range []struct {
		of   si.Dimension
		text string
		want float64
	}{
		{si.Frequency, "8 kHz", 8000},
		{si.Frequency, "8000", 8000},
		{si.Frequency, "8e3Hz", 8000},
		{si.Frequency, "-50 Hz", -50},
		{si.Time, "2 us", 2e-6},
		{si.Time, "2\u00b5s", 2e-6},  // micro sign
		{si.Time, "2 \u03bcs", 2e-6}, // Greek mu
		{si.Time, "12ms", 0.012},
		{si.Time, "2 min", 120}, // not milli-inches
		{si.Resistance, "20 mohm", 0.02},
		{si.Resistance, "20 m\u03a9", 0.02}, // Greek omega
		{si.Resistance, "20 m\u2126", 0.02}, // ohm sign
		{si.Resistance, "1.5 Mohm", 1.5e6},
		{si.Inductance, "0.2 mH", 0.0002}, // the nearest number to 0.0002, not 0.2 times 0.001
		{si.Capacitance, "500 uF", 500e-6},
		{si.Flux, "80 mWb", 0.08},
		{si.Flux, "0.08 V s", 0.08},
		{si.Angle, "90 deg", math.Pi / 2},
		{si.Angle, "-90°", -math.Pi / 2},
		{si.Angle, "1.5 rad", 1.5},
		{si.Speed, "3000 rpm", 100 * math.Pi},
		{si.Speed, "3000 r/min", 100 * math.Pi},
		{si.Speed, "314 rad/s", 314},
		{si.Temperature, "65 C", 65},
		{si.Temperature, "65 °C", 65},
		{si.Temperature, "273.15 K", 0},
		{si.Torque, "57.6 N m", 57.6},
		{si.Torque, "57.6 Nm", 57.6},
		{si.Torque, "57.6 N·m", 57.6},
		{si.Inertia, "0.05 kg m2", 0.05},
		{si.Inertia, "0.05 kg·m²", 0.05},
		{si.Inertia, "0.05 kg m^2", 0.05},
		{si.Friction, "10 mN m s/rad", 0.01},
		{si.Friction, "0.01 Nms/rad", 0.01},
		{si.Number, "0.8", 0.8},
		{si.Number, "80 %", 0.8},
		{si.Number, ".5", 0.5},
		{si.Power, "60 kW", 60e3},
		{si.Energy, "12 mJ", 0.012},
		{si.Energy, "1 kWh", 3.6e6},
		{si.Energy, "2 Wh", 7200},
		{si.Time, "1.5 h", 5400},
		{si.Inertia, "500 kg cm2", 0.05},
		{si.Inertia, "500 g cm2", 5e-5},
		{si.Ramp, "25 Hz/s", 25},
		{si.Drag, "2 mN m s2/rad2", 2e-3},
		{si.ThermalResistance, "60 mK/W", 0.06},
		{si.Mass, "3200 kg", 3200},
		{si.Mass, "3.2 t", 3200},
		{si.Length, "0.4 m", 0.4},
		{si.Area, "2.5 m2", 2.5},
		{si.Area, "2.5 m²", 2.5},
		{si.Density, "1.2 kg/m3", 1.2},
	} {
		got, err := tt.of.Parse(tt.text)
		if err != nil || math.Abs(got-tt.want) > 2e-16*math.Abs(tt.want) {
			t.Errorf("%v %q is %v, %v; want %v", tt.of, tt.text, got, err, tt.want)
		}
	}
}

// TestPrefixes asks a library of units for what each prefix is worth.
func TestPrefixes(t *testing.T) {
	for prefix, worth := range map[string]float64{
		"p": unit.Pico, "n": unit.Nano, "u": unit.Micro, "m": unit.Milli,
		"k": unit.Kilo, "M": unit.Mega, "G": unit.Giga,
	} {
		if got, err := si.Voltage.Parse("1 " + prefix + "V"); err != nil || got != worth {
			t.Errorf("1 %sV is %v V, %v; want %v", prefix, got, err, worth)
		}
	}
}

func TestRefused(t *testing.T) {
	for _, tt := range []struct {
		of         si.Dimension
		text, says string
	}{
		{si.Frequency, "8 kV", `"8 kV" is not a frequency; give hertz, like "8 kHz"`},
		{si.Frequency, "fast", `"fast" is not a frequency; give hertz, like "8 kHz"`},
		{si.Frequency, "", `not a frequency`},
		{si.Frequency, "NaN", `not a frequency`},
		{si.Frequency, "inf Hz", `not a frequency`},
		{si.Frequency, "1e400 Hz", `out of the range of numbers`},
		{si.Frequency, "1e99999999999999999999 Hz", `out of the range of numbers`},
		{si.Frequency, "1e9223372036854775807 GHz", `out of the range of numbers`},
		{si.Frequency, "0x10 Hz", `not a frequency`},
		{si.Frequency, "8 kkHz", `not a frequency`},
		{si.Voltage, "0,5 V", `has a decimal comma; write a point`},
		{si.Inductance, "5", ""}, // allowed: bare numbers are SI
		{si.Angle, "90", `"90" has no unit; give degrees or radians, like "90 deg" or "1.57 rad"`},
		{si.Angle, "90 rpm", `is not an angle`},
		{si.Speed, "3000", `"3000" has no unit; give turns a minute or radians a second`},
		{si.Speed, "3 krpm", `is not a speed`},
		{si.Temperature, "65", `"65" has no unit; give degrees Celsius or kelvins`},
		{si.Inertia, "5 kg", `is not a moment of inertia`},
	} {
		_, err := tt.of.Parse(tt.text)
		if got := fmt.Sprint(err); tt.says == "" && err != nil || tt.says != "" && !strings.Contains(got, tt.says) {
			t.Errorf("%v %q: %s; want %q", tt.of, tt.text, got, tt.says)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if _, err := si.Voltage.Bare(x); err == nil {
			t.Errorf("%v V is allowed", x)
		}
	}
	if _, err := si.Speed.Bare(3000); err == nil {
		t.Error("a speed without a unit is allowed")
	}
}

func TestText(t *testing.T) {
	for _, tt := range []struct {
		of   si.Dimension
		x    float64
		want string
	}{
		{si.Frequency, 8000, "8 kHz"},
		{si.Frequency, 50, "50 Hz"},
		{si.Time, 2e-6, "2 us"},
		{si.Inductance, 0.0002, "0.2 mH"},
		{si.Resistance, 0, "0 ohm"},
		{si.Angle, math.Pi / 2, "90 deg"},
		{si.Angle, 0, "0 rad"},
		{si.Speed, 100 * math.Pi, "3000 rpm"},
		{si.Temperature, 65, "65 C"},
		{si.Number, 0.8, "0.8"},
		{si.Flux, 0.08, "80 mWb"},
		{si.Inertia, 0.05, "0.05 kg m2"},
	} {
		if got := tt.of.Text(tt.x); got != tt.want {
			back, _ := tt.of.Parse(got)
			if back != tt.x || len(got) > len(tt.want) {
				t.Errorf("%v %v is written %q; want %q", tt.of, tt.x, got, tt.want)
			}
		}
	}
}

func TestFormat(t *testing.T) {
	for _, tt := range []struct {
		of     si.Dimension
		x      float64
		digits int
		want   string
	}{
		{si.Frequency, 8000, 3, "8.00 kHz"},
		{si.Frequency, 999.96, 4, "1.000 kHz"},
		{si.Voltage, 350, 4, "350.0 V"},
		{si.Current, -0.01234, 3, "-12.3 mA"},
		{si.Power, 18527.57, 4, "18.53 kW"},
		{si.Resistance, 0, 3, "0.00 ohm"},
		{si.Number, 0.1, 2, "0.10"},
		{si.Time, 1e-6, 3, "1.00 µs"},
	} {
		if got := tt.of.Format(tt.x, tt.digits); got != tt.want {
			t.Errorf("%v %v in %d digits is %q; want %q", tt.of, tt.x, tt.digits, got, tt.want)
		}
	}
}

func TestWhatPrintsParses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := si.Dimension(rapid.IntRange(0, int(si.Energy)).Draw(t, "dimension"))
		x := rapid.Float64().Draw(t, "x")
		if back, err := d.Parse(d.Text(x)); err != nil || back != x {
			t.Fatalf("%v %v is written %q, which reads %v, %v", d, x, d.Text(x), back, err)
		}
	})
}

func FuzzParse(f *testing.F) {
	for d := si.Number; d <= si.Density; d++ {
		for _, text := range []string{"8 kHz", "2 µs", "20 mΩ", "3000 rpm", "65 °C", "1e-3 kg·m²", "90 deg", "-0", "1e308 rpm", "50 %", ""} {
			f.Add(uint8(d), text)
		}
	}
	f.Fuzz(func(t *testing.T, of uint8, text string) {
		d := si.Dimension(of % uint8(si.Density+1))
		x, err := d.Parse(text)
		if err != nil {
			return
		}
		if back, err := d.Parse(d.Text(x)); err != nil || back != x {
			t.Errorf("%q is %v %v, written %q, which reads %v, %v", text, d, x, d.Text(x), back, err)
		}
	})
}

func TestValueKeepsTheOldAfterAnError(t *testing.T) {
	x := 350.0
	v := si.Voltage.Into(&x)
	if err := v.Set("48 A"); err == nil || x != 350 {
		t.Errorf("after an error %v the voltage is %v", err, x)
	}
	if err := v.Set("48 V"); err != nil || x != 48 || v.String() != "48 V" {
		t.Errorf("the voltage is %v, written %q, %v", x, v, err)
	}
}

// TestValueAsFlag: a value is written as it is read, and says what it is; without anything to point to it is empty.
func TestValueAsFlag(t *testing.T) {
	x := 8000.0
	v := si.Frequency.Into(&x)
	text, err := v.MarshalText()
	if string(text) != "8 kHz" || err != nil || v.Type() != "frequency" || v.Dimension() != si.Frequency {
		t.Errorf("%q, %v, a %s, of %v", text, err, v.Type(), v.Dimension())
	}
	if s := (si.Value{}).String(); s != "" {
		t.Errorf("nothing is written %q", s)
	}
	if s := si.Dimension(200).String(); s != "Dimension(200)" {
		t.Error(s)
	}
}

func ExampleDimension_Parse() {
	fmt.Println(si.Frequency.Parse("8 kHz"))
	fmt.Println(si.Frequency.Parse("8 kV"))
	// Output:
	// 8000 <nil>
	// 0 "8 kV" is not a frequency; give hertz, like "8 kHz"
}
