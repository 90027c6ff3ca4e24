package device_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter/device"
	"sextant/inverter/file"
	"sextant/inverter/file/filetest"
)

// TestBuiltIn holds the built-in family against the ranges of common practice for the class: drops hot and at
// full current, energies at 400 V and 400 A, thermal resistances from junction to sink.
func TestBuiltIn(t *testing.T) {
	names := device.Names()
	for _, want := range []string{"illustrative", "igbt-750", "igbt-1200", "sic-750", "sic-1200", "mosfet-100"} {
		if !slices.Contains(names, want) {
			t.Errorf("%s is missing", want)
		}
	}
	within := func(name, what string, x, low, high float64) {
		if !(x >= low && x <= high) {
			t.Errorf("%s: %s is %g, out of %g to %g", name, what, x, low, high)
		}
	}
	for _, name := range names {
		d, err := device.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		if d.Price <= 0 || d.Name == "" {
			t.Errorf("%s: price %g, name %q", name, d.Price, d.Name)
		}
		if name == "mosfet-100" { // of another class
			continue
		}
		at := func(e device.Event, celsius float64) float64 { return 1e3 * d.EnergyOf(e, 400, 400, celsius) } // mJ
		sum := func(celsius float64) float64 { return at(device.TurnOn, celsius) + at(device.TurnOff, celsius) }
		channel, diode := d.Channel.At(150).Voltage(400), d.Diode.At(150).Voltage(400)
		within(name, "rise of energy", sum(150)/sum(25), 1, 1.4)
		within(name, "junction to sink", d.Heat.Switch.Resistance()+d.Heat.Case.Resistance(), 0.08, 0.25)
		if d.Technology == device.SiIGBT {
			within(name, "drop", channel, 1.5, 2.5)
			within(name, "diode drop", diode, 1.4, 2.2)
			within(name, "energy", sum(25), 20, 45)
			within(name, "recovery", at(device.Recovery, 25), 3, 12)
			within(name, "diode to sink", d.Heat.Diode.Resistance()+d.Heat.Case.Resistance(), 0.12, 0.4)
			continue
		}
		within(name, "drop", channel, 0.8, 3)
		within(name, "rise of resistance", channel/d.Channel.At(25).Voltage(400), 1.4, 2)
		within(name, "diode drop", diode, 2.5, 4.5)
		within(name, "energy", sum(25), 5, 15)
		within(name, "recovery", at(device.Recovery, 25), 0.2, 2)
		if d.Channel.At(100).Voltage(0) != 0 {
			t.Errorf("%s: a MOSFET's channel has a threshold", name)
		}
	}
}

// TestIllustrative: values of the illustrative device at 125 C, in straight lines between its data.
func TestIllustrative(t *testing.T) {
	d, err := device.Open("illustrative")
	if err != nil {
		t.Fatal(err)
	}
	c, di := d.Channel.At(125), d.Diode.At(125)
	for _, tt := range []struct{ got, want float64 }{
		{c.Threshold, 0.82}, {c.Resistance, 1.98e-3}, {di.Threshold, 0.88}, {di.Resistance, 1.46e-3},
		{d.EnergyOf(device.TurnOn, 400, 400, 125), 15.2e-3},
		{d.EnergyOf(device.TurnOff, -400, 400, 125), 19e-3},
		{d.EnergyOf(device.Recovery, 400, 400, 125), 8.2e-3},
		{d.EnergyOf(device.TurnOn, 300, 350, 125), 15.2e-3 * 0.75 * math.Pow(350.0/400, 1.3)},
		{d.EnergyOf(device.Recovery, 300, 350, 125), 8.2e-3 * math.Pow(0.75, 0.6) * math.Pow(350.0/400, 0.6)},
		{d.Channel.At(-40).Threshold, 0.9}, {d.Channel.At(300).Threshold, 0.8}, // held outside
		{d.EnergyOf(device.TurnOn, 0, 400, 125), 0},
	} {
		if !scalar.EqualWithinAbsOrRel(tt.got, tt.want, 1e-15, 1e-12) {
			t.Errorf("%g, want %g", tt.got, tt.want)
		}
	}
	if on := d.Continued(); !scalar.EqualWithinRel(on.Channel.At(275).Resistance, 2.7e-3, 1e-12) || d.Channel.At(275).Resistance != 2.1e-3 {
		t.Errorf("the trend goes on to %g ohm, and is held at %g ohm", on.Channel.At(275).Resistance, d.Channel.At(275).Resistance)
	}
}

// TestCurves: a digitised curve goes through its points, rises between them, goes on along its ends, and lies
// between those of the temperatures around.
func TestCurves(t *testing.T) {
	d, err := device.Open("sic-1200")
	if err != nil {
		t.Fatal(err)
	}
	if v := d.Channel.At(150).Voltage(400); math.Abs(v-1.881) > 1e-9 {
		t.Errorf("at a point: %g V", v)
	}
	if v := d.Channel.At(125).Voltage(400); math.Abs(v-(1.496+1.881)/2) > 1e-9 {
		t.Errorf("between temperatures: %g V", v)
	}
	before := -1.0
	for i := 0.0; i <= 1500; i += 7 {
		v, e := d.Channel.At(60).Voltage(i), d.EnergyOf(device.TurnOff, i, 800, 60)
		if v <= before || e < 0 {
			t.Fatalf("at %g A: %g V after %g V, %g J", i, v, before, e)
		}
		before = v
	}
	if d.Channel.Covers() != 800 || d.Switching.Covers() != 800 || !math.IsInf(d.Diode.Covers(), 1) {
		t.Errorf("covers %g, %g and %g A", d.Channel.Covers(), d.Switching.Covers(), d.Diode.Covers())
	}
	if e := d.EnergyOf(device.TurnOn, 400, 400, 25); !scalar.EqualWithinRel(e, 14e-3*math.Pow(0.5, 1.5), 1e-9) {
		t.Errorf("at half the voltage: %g J", e)
	}
	if d.Heat.Diode != nil {
		t.Error("the body diode has a chip of its own")
	}
}

// TestFindings reads device files with mistakes, with the findings that they must have. Each file of
// testdata/findings.txtar is a device, or a curve that one names; lines that start with "#! " are the
// findings.
func TestFindings(t *testing.T) {
	archive, err := txtar.ParseFile("testdata/findings.txtar")
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, f := range archive.Files {
		files[f.Name] = f.Data
	}
	find := func(_, name string) (string, []byte, error) {
		if data, ok := files[name]; ok {
			return name, data, nil
		}
		return "", nil, errors.New("there is no such file")
	}
	for _, f := range archive.Files {
		if !strings.HasSuffix(f.Name, ".toml") {
			continue
		}
		var want []string
		for line := range strings.Lines(string(f.Data)) {
			if s, ok := strings.CutPrefix(line, "#! "); ok {
				want = append(want, strings.TrimSpace(s))
			}
		}
		_, err := device.LoadWith(f.Name, f.Data, find)
		var findings file.Findings
		if err != nil && !errors.As(err, &findings) {
			t.Errorf("%s: %v is no list of findings", f.Name, err)
		}
		var got []string
		for _, x := range findings {
			got = append(got, x.Error())
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s:\n got %s\nwant %s", f.Name, strings.Join(got, "\n     "), strings.Join(want, "\n     "))
		}
	}
}

// FuzzLoad: whatever a device's file and its curve hold, there is a device whose numbers are numbers, or
// findings with a line.
func FuzzLoad(f *testing.F) {
	archive, err := txtar.ParseFile("testdata/findings.txtar")
	if err != nil {
		f.Fatal(err)
	}
	const sheet = "temperature_c,current_a,voltage_v\n25,0,0\n25,800,2\n150,0,0\n150,800,3\n"
	for _, x := range archive.Files {
		f.Add(x.Data, []byte(sheet))
		f.Add(curved, x.Data)
	}
	f.Fuzz(func(t *testing.T, data, sheet []byte) {
		d, err := device.LoadWith("x.toml", data, func(string, string) (string, []byte, error) { return "x.csv", sheet, nil })
		if err != nil {
			filetest.Refused(t, err)
			return
		}
		for _, celsius := range []float64{-40, 25, 90, 175} {
			c, di := d.Channel.At(celsius), d.Diode.At(celsius)
			for _, i := range []float64{0, 1, 100, 1e4} {
				channel, diode, volts := 0.0, 0.0, 0.0
				if d.Technology.BothWays() {
					channel, diode, volts = device.Share(c, di, i)
				}
				for _, x := range []float64{
					c.Voltage(i), di.Voltage(i), channel, diode, volts,
					d.EnergyOf(device.TurnOn, i, 350, celsius), d.EnergyOf(device.TurnOff, i, 350, celsius), d.EnergyOf(device.Recovery, i, 350, celsius),
				} {
					if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
						t.Fatalf("%g at %g A and %g C", x, i, celsius)
					}
				}
			}
		}
	})
}

// curved is a device whose channel is a curve file.
var curved = []byte(`name = "x"
technology = "sic-mosfet"
voltage = 750
current = 400
channel.curve = "x.csv"
diode = { temperature = ["25 C"], threshold = [3], resistance = [0.002] }
[energy]
voltage = 400
current = 400
temperature = ["25 C"]
turn_on = [0.004]
turn_off = [0.003]
recovery = [0.001]
current_exponent = [1, 1, 1]
voltage_exponent = [1, 1, 1]
[heat]
switch_to_case = [{ resistance = 0.1, time = 0.1 }]
case_to_sink = { resistance = 0.02, time = 3 }
`)
