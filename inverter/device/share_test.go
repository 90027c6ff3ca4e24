package device_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"sextant/inverter/device"
	"sextant/inverter/file"
)

// TestShareOfCurves: a digitised channel of 5 mΩ beside a diode of 3 V and 2 mΩ takes all of a current up to 3 V/5 mΩ,
// and of more what Kirchhoff's laws leave it, (3 V + 2 mΩ i)/7 mΩ; as the same channel does whose line is given.
func TestShareOfCurves(t *testing.T) {
	d, err := device.LoadWith("x.toml", curved, func(string, string) (string, []byte, error) {
		return "x.csv", []byte("temperature_c,current_a,voltage_v\n25,0,0\n25,400,2\n25,800,4\n"), nil
	})
	if err != nil {
		t.Fatal(err)
	}
	line := device.NewDrop([]float64{25}, []float64{0}, []float64{5e-3})
	for i := 0.0; i <= 1500; i += 50 {
		want := i
		if i > 600 {
			want = (3 + 2e-3*i) / 7e-3
		}
		for _, channel := range []device.Drop{d.Channel, line} {
			inChannel, inDiode, volts := device.Share(channel.At(25), d.Diode.At(25), i)
			if math.Abs(inChannel-want) > 1e-9 || math.Abs(inDiode-(i-want)) > 1e-9 || math.Abs(volts-5e-3*want) > 1e-9 {
				t.Errorf("of %g A %g and %g A at %g V, want %g A in the channel", i, inChannel, inDiode, volts, want)
			}
		}
	}
}

// TestBelowTheCurve: an IGBT's curve that starts at 50 A goes on down to 0 A along the line through its first two points.
func TestBelowTheCurve(t *testing.T) {
	text := strings.Replace(string(curved), "sic-mosfet", "si-igbt", 1)
	text = strings.Replace(text, "[heat]", "[heat]\ndiode_to_case = [{ resistance = 0.1, time = 0.1 }]", 1)
	d, err := device.LoadWith("x.toml", []byte(text), func(string, string) (string, []byte, error) {
		return "x.csv", []byte("temperature_c,current_a,voltage_v\n25,50,0.9\n25,100,1.1\n25,500,1.7\n"), nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range map[float64]float64{0: 0.7, 25: 0.8, 50: 0.9, 100: 1.1, 500: 1.7, 600: 1.7 + 100*0.6/400} {
		if v := d.Channel.At(25).Voltage(i); math.Abs(v-want) > 1e-12 {
			t.Errorf("at %g A: %g V, want %g V", i, v, want)
		}
	}
}

// TestNames: devices are found by name from anywhere, and from files beside them by path.
func TestNames(t *testing.T) {
	for _, name := range device.Names() {
		if title, err := device.Title(name); err != nil || title == "" {
			t.Errorf("%s has the title %q, %v", name, title, err)
		}
		found, data, err := device.FindFrom("folder/scenario.toml", name)
		if err != nil || found != name {
			t.Fatalf("%q, %v", found, err)
		}
		doc, wrong := file.Parse(name, data)
		if wrong != nil || !device.Is(doc) {
			t.Errorf("%s is no device, %v", name, wrong)
		}
	}
	found, data, err := device.FindFrom("../../assets/scenarios/x.toml", "../devices/igbt-750.toml")
	if err != nil || found != "../../assets/devices/igbt-750.toml" || len(data) == 0 {
		t.Errorf("%q, %d bytes, %v", found, len(data), err)
	}
	if d, err := device.Open(found); err != nil || d.Technology != device.SiIGBT {
		t.Errorf("%v, %v", d.Technology, err)
	}
	if _, err := device.Open("igbt-75"); err == nil || !strings.Contains(err.Error(), "did you mean igbt-750?") {
		t.Errorf("%v", err)
	}
	scenario, wrong := file.Parse("x.toml", []byte("supply = 350\n"))
	if wrong != nil || device.Is(scenario) {
		t.Errorf("a scenario is a device, %v", wrong)
	}
}

// TestWords: what is printed for a technology or an energy is the word of the files, and for what is none, what it is.
func TestWords(t *testing.T) {
	text, err := device.SiCMOSFET.MarshalText()
	got := fmt.Sprintf("%s %v %v %v %v %v", text, err, device.SiIGBT, device.Technology(9), device.TurnOff, device.Event(9))
	if want := "sic-mosfet <nil> si-igbt Technology(9) turn_off Event(9)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
