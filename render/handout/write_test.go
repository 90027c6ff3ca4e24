package handout

import (
	"math"
	"slices"
	"strings"
	"testing"
)

func TestWritten(t *testing.T) {
	for _, tt := range []struct {
		x    float64
		unit string
		want string
	}{
		{30.5577, "V", "30.6 V"}, {0, "A", "0 A"}, {-0.0004, "A", "-400 µA"}, {1499.6, "rpm", "1500 rpm"}, {999.6, "", "1000"},
		{0.5, "", "0.500"}, {12.26, "N m", "12.3 N m"}, {1e-5, "s", "10.0 µs"}, {0.04, "Ω", "40.0 mΩ"}, {12345, "Ω", "12.3 kΩ"}, {8000, "Hz", "8.00 kHz"},
	} {
		if got := written(tt.x, tt.unit); got != tt.want {
			t.Errorf("%g %s is written %q, want %q", tt.x, tt.unit, got, tt.want)
		}
	}
	for _, tt := range []struct {
		given Given
		want  string
	}{{Given{"", 350, "V"}, "350 V"}, {Given{"", 2e-4, "H"}, "0.2 mH"}, {Given{"", 36, "deg"}, "36°"}, {Given{"", 0.72, ""}, "0.72"}, {Given{"", 2.4e-6, "s"}, "2.4 µs"}} {
		if got := tt.given.text(); got != tt.want {
			t.Errorf("%v is given as %q, want %q", tt.given, got, tt.want)
		}
	}
}

func TestClear(t *testing.T) {
	for x, want := range map[float64]bool{0: false, math.NaN(): false, math.Inf(1): false, 123.5: false, 0.12349: false, 123.4: true, 120: true, -1.2351: false, 9.994: true, 9.995: false} {
		if got := clear(x); got != want {
			t.Errorf("clear(%g) is %v", x, got)
		}
	}
}

func TestPrinted(t *testing.T) {
	const words = "At 60 deg it has 40 mohm or 2 ohm for 3 us; 2/pi of that, degrees and ohmmeters stay."
	const want = "At 60° it has 40 mΩ or 2 Ω for 3 µs; 2/π of that, degrees and ohmmeters stay."
	if got := printed(words); got != want {
		t.Errorf("%q", got)
	}
}

func TestSubscripts(t *testing.T) {
	got := runs("i_{q} and L_{d}")
	want := []run{{"i", false}, {"q", true}, {" and L", false}, {"d", true}}
	if !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
	if h := htmlOf("a<b_{1}"); h != "a&lt;b<sub>1</sub>" {
		t.Error(h)
	}
}

// A number is not parted from its unit, and no line is longer than there is room.
func TestWrap(t *testing.T) {
	s := plain(10)
	const text = "The machine with 2 pole pairs turns at 1200 rpm, makes 12 N m of torque and carries 11 A in windings of 0.45 Ω each."
	for room := s.width("1200 rpm, and"); room < 400; room += 7 {
		for _, line := range s.wrap(text, room) {
			if s.width(line) > room {
				t.Errorf("%q is longer than %g", line, room)
			}
			if first, _, _ := strings.Cut(line, " "); slices.Contains([]string{"rpm,", "N", "m", "A", "Ω"}, first) {
				t.Errorf("a line begins with a unit: %q", line)
			}
		}
	}
}

func TestTicks(t *testing.T) {
	for _, tt := range []struct {
		from, to float64
		about    int
		want     []string
	}{
		{0, 172.4, 24, []string{"0", "20", "40", "60", "80", "100", "120", "140", "160"}},
		{0, 12.5, 16, []string{"0", "2", "4", "6", "8", "10", "12"}},
		{-240, 240, 8, []string{"-200", "-100", "0", "100", "200"}},
		{-0.9, 0.9, 8, []string{"-0.5", "0.0", "0.5"}},
	} {
		var got []string
		for _, x := range ticks(tt.from, tt.to, tt.about) {
			if x.label != "" {
				got = append(got, x.label)
			}
			if x.at < tt.from || x.at > tt.to*(1+1e-9) {
				t.Errorf("%g lies outside %g to %g", x.at, tt.from, tt.to)
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("from %g to %g: %q, want %q", tt.from, tt.to, got, tt.want)
		}
	}
}
