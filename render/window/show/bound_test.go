package show

import "testing"

// However slowly a drive turns and however long a stretch is asked for, what is run again of it is bounded, and ends where it
// was asked to.
func TestRunAgainIsBounded(t *testing.T) {
	s := open(t, "hauler-climb")
	for s.drive.Time() < 4 {
		if err := s.proceed(0.1); err != nil {
			t.Fatal(err)
		}
	}
	end := s.drive.Time()
	for _, k := range []float64{0.2, 4} {
		got := s.past.between(end-k, end, s.gap())
		if len(got) > mostAgain || cap(s.past.again) > 2*mostAgain {
			t.Errorf("%g s are %d instants, with room for %d", k, len(got), cap(s.past.again))
		}
		if len(got) < 1000 || got[len(got)-1].Time != end {
			t.Fatalf("%g s are %d instants, which do not end at %g s", k, len(got), end)
		}
		if k == 0.2 && got[0].Time > end-k+s.gap() {
			t.Errorf("%g s begin at %g s, want %g", k, got[0].Time, end-k)
		}
		if k == 4 && len(got) < mostAgain/2 {
			t.Errorf("of %g s only %d instants are there", k, len(got))
		}
	}
}
