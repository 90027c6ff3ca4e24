package drive

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sextant/inverter/pattern"
)

// Closed forms of ∫ x^m e^(-jax) dx: at a = 0, 1/(m+1); at a = 2π, m = 1, j/(2π).
func TestMoments(t *testing.T) {
	for m, got := range moments(0) {
		if want := 1 / float64(m+1); math.Abs(real(got)-want) > 1e-15 || imag(got) != 0 {
			t.Errorf("moment %d at 0: %v, want %g", m, got, want)
		}
	}
	if got := moments(2 * math.Pi)[1]; math.Abs(imag(got)-1/(2*math.Pi)) > 1e-14 || math.Abs(real(got)) > 1e-14 {
		t.Errorf("first moment over a turn: %v", got)
	}
	low, high := moments(2-1e-9), moments(2+1e-9) // the two ways meet
	for m := range low {
		if d := low[m] - high[m]; math.Hypot(real(d), imag(d)) > 1e-8 {
			t.Errorf("moment %d jumps by %v where the way of computing it changes", m, d)
		}
	}
}

func TestThroughPassesThrough(t *testing.T) {
	y := [5]float64{3, -1, 4, 1, -5}
	c := through(y)
	for k, want := range y {
		if got := c.at(float64(k) / 4); !scalar.EqualWithinAbs(got, want, 1e-12) {
			t.Errorf("at %d/4: %g, want %g", k, got, want)
		}
	}
}

// Rashid, Power Electronics, 3rd/4th ed., ch. 6, R-L example: peaks 2V/(π n |Z_n|); orders 3 and 9 and the
// even ones vanish. Torque ripple under six-step comes in sixths (Krishnan, CRC 2010, ch. 9).
func TestRunHarmonics(t *testing.T) {
	sum, err := Simulation{Scenario: passive(pattern.SixStep180, 220, 5, 23e-3, 60, 20), Orders: 25}.Run()
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range sum.Harmonics {
		want := 0.0
		if n := h.Order % 6; n == 1 || n == 5 {
			z := math.Hypot(5, 2*math.Pi*60*23e-3*float64(h.Order))
			want = 2 * 220 / (math.Pi * float64(h.Order) * z)
		}
		for _, got := range []float64{h.U, h.V, h.W} {
			if math.Abs(got-want) > 1e-7 {
				t.Errorf("order %d: %.9g A, want %.9g", h.Order, got, want)
			}
		}
	}
	near(t, "lag of the fundamental", -sum.Harmonics[0].UAngle, 60.030, 1e-5)

	sc := turning(machineA, pattern.SixStep180, 200, 3000, 0.2, 60./3000/4*2)
	sc.Gating.Frequency, sc.Gating.Phase = 200, 106*math.Pi/180
	if sum, err = (Simulation{Scenario: sc, Orders: 24}).Run(); err != nil {
		t.Fatal(err)
	}
	for _, h := range sum.Harmonics {
		if sixth := h.Order%6 == 0; (h.Torque > 0.1) != sixth || (h.Supply > 0.1) != sixth {
			t.Errorf("order %d: torque %g N m, supply %g A", h.Order, h.Torque, h.Supply)
		}
	}
}

func TestHarmonicsNeedATurn(t *testing.T) {
	sc := passive(pattern.SixStep180, 220, 5, 23e-3, 60, 1)
	sc.Run.Measure = 0.9 / 60
	if _, err := (Simulation{Scenario: sc, Orders: 3}).Run(); err == nil {
		t.Error("harmonics of less than a turn")
	}
}

// A capacitor behind a source resistance carries what the source does not: its charge over a turn is zero,
// its rms that of the difference; with a source so soft that it gives a steady current, all that alternates
// (Kolar, Round, IEE Proc. EPA 153 (2006) 535).
func TestCapacitorCurrent(t *testing.T) {
	sc := passive(pattern.SixStep180, 350, 0.5, 2e-3, 100, 40)
	stiff := simulate(t, sc)
	sc.Supply.Resistance, sc.Supply.Capacitance = 0.2, 1
	sc.Run.Settle = 3
	soft := simulate(t, sc)
	// The link sags, so compare shares.
	near(t, "capacitor share", soft.Supply.Capacitor/soft.Supply.CurrentMean, stiff.Supply.Capacitor/stiff.Supply.CurrentMean, 1e-2)
	if soft.Supply.LinkRipple <= 0 || soft.Supply.LinkRipple > 2 {
		t.Errorf("link ripple %g V", soft.Supply.LinkRipple)
	}
}

// The area under a curve to some part of it is what Gauss's points make of it, which are exact for quartics.
func TestArea(t *testing.T) {
	c := curve{3, -1, 4, 1, -5}
	for _, x := range []float64{0, 0.3, 1} {
		want := 0.0
		for k, p := range points {
			want += weights[k] * x * c.at(p*x)
		}
		if got := c.area(x); math.Abs(got-want) > 1e-13 {
			t.Errorf("to %g: %g, want %g", x, got, want)
		}
	}
}
