package drive

import (
	"math"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
)

// poles observes a run of ideal switches and takes the mean of the poles over each slope of a carrier.
type poles struct {
	slope float64 // s
	link  float64 // V
	sums  []inverter.ABC
}

func (m *poles) Observe(s *Segment) {
	for t := s.T0; t < s.T1; {
		n := int(t/m.slope + 1e-9)
		end := min(s.T1, float64(n+1)*m.slope)
		if end <= t { // what rounding leaves of a slope
			break
		}
		for len(m.sums) <= n {
			m.sums = append(m.sums, inverter.ABC{})
		}
		pole := s.At(s.T0).Pole
		for k := range pole {
			m.sums[n][k] += pole[k] / m.link * (end - t) / m.slope
		}
		t = end
	}
}

// What a processor samples it holds for a sampling period, a half or a whole carrier period long, and it is right in the middle
// of that: the mean of each pole over a slope is its reference there, from the first slope on.
func TestHeldReferenceIsRightInItsMiddle(t *testing.T) {
	const carrier, f, depth = 2000., 50., 0.9
	for sampling, period := range map[pattern.Sampling]float64{pattern.Regular: 1 / carrier, pattern.RegularDouble: 0.5 / carrier} {
		s := passive(pattern.SineTriangle, 100, 5, 20e-3, f, 0)
		s.Gating.Modulation, s.Gating.Carrier, s.Gating.Sampling = depth, carrier, sampling
		s.Gating.Phase, s.Gating.Ramp = 0.7, 1e12
		d, _ := watched(t, s)
		m := poles{slope: 0.5 / carrier, link: 100}
		d.Watch(&m)
		if err := d.Advance(1 / f); err != nil {
			t.Fatal(err)
		}
		if len(m.sums) < 40 {
			t.Fatalf("%d slopes", len(m.sums))
		}
		for n, got := range m.sums[:len(m.sums)-2] {
			middle := (math.Floor(float64(n)*m.slope/period+1e-9) + 0.5) * period
			for _, k := range inverter.Phases {
				want := 0.5 + depth/2*math.Cos(2*math.Pi*f*middle+0.7-k.Axis())
				if math.Abs(got[k]-want) > 1e-6 {
					t.Errorf("%v: pole %v is at %.6f of the link in slope %d, want %.6f", sampling, k, got[k], n, want)
				}
			}
		}
	}
}
