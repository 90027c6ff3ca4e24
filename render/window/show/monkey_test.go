package show

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"sextant/motor/drive"
	"sextant/render"
)

// A hand that does anything at all, in any order, on any scenario, meets no panic, no number that is none, no tape out of
// order and no energy unaccounted for.
func TestAnyHand(t *testing.T) {
	var wishes []Wish
	for w := PlayPause; w < firstFault; w++ {
		switch w {
		case Fullscreen, Lesson, NextLesson, PreviousLesson, NextScene, PreviousScene: // lessons take long to work out
		default:
			wishes = append(wishes, w)
		}
	}
	for k := range drive.FaultKinds() {
		wishes = append(wishes, faultWish(drive.FaultKinds()[k], k%3))
	}
	for _, k := range render.Lanes {
		wishes = append(wishes, laneWish(k))
	}
	wishes = append(wishes, fileWish(0), fileWish(1))
	for seed, name := range []string{"trainer-pwm", "hauler-climb", "trainer-start", "passive-rl", "hauler-sic"} {
		r := rand.New(rand.NewPCG(7, uint64(seed)))
		s := open(t, name)
		s.SetFiles(&drawer{held: map[string][]byte{}})
		l := lay(s)
		parts := l.Parts()
		for k := range 400 {
			did := r.IntN(10)
			var w Wish
			switch did {
			case 0:
				s.Press(parts[r.IntN(len(parts))])
			case 1:
				s.TurnRotor(r.NormFloat64())
			case 2:
				s.Drag(s.span * r.NormFloat64())
			case 3, 4:
				s.Tick(0.1 * r.Float64())
			default:
				w = wishes[r.IntN(len(wishes))]
				s.Do(w)
			}
			if paces[s.pace] > 0.02 { // real time takes real work
				s.pace = nearestPace(0.02)
			}
			s.failed = false
			look(t, s, name, k, did, w)
		}
		for len(s.steps) > 0 {
			n := len(s.steps)
			if s.Do(Undo); len(s.steps) == n { // one that its scenario refuses today
				s.steps = s.steps[:n-1]
			}
		}
		look(t, s, name, -1, 0, None)
	}
}

// look looks at everything that is shown.
func look(t *testing.T, s *Show, name string, k, did int, w Wish) {
	t.Helper()
	l := lay(s)
	v := s.View()
	for i := 1; i < len(v.Tape); i++ {
		if v.Tape[i].Time < v.Tape[i-1].Time {
			t.Fatalf("%s, %d: after %d, %d the tape goes from %g to %g s", name, k, did, w, v.Tape[i-1].Time, v.Tape[i].Time)
		}
	}
	for _, x := range []float64{v.Now.Time, v.Now.Torque, v.Now.Rotor, v.Now.Current[0], v.Now.Link, v.Now.Power.Supply, v.Span} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%s, %d: after %d, %d there is %g: %+v", name, k, did, w, x, v.Now)
		}
	}
	if a := s.drive.Account(); !(math.Abs(a.Residual()) <= 1e-8*a.Passed+1e-12) {
		t.Fatalf("%s, %d: after %d, %d %g J are missing of %g J", name, k, did, w, a.Residual(), a.Passed)
	}
	if k%20 == 0 {
		f := s.Arrange(1280, 720, 1)
		var rec recorder.Canvas
		s.Draw(&rec, &f, None)
		s.DrawExplanation(&rec, &f, &l, &v)
		for _, a := range rec.Actions {
			if text, ok := a.(*recorder.FillString); ok && (math.IsNaN(float64(text.Point.X)) || text.Size > vg.Length(200)) {
				t.Fatalf("%s, %d: %q is drawn at %v", name, k, text.String, text.Point)
			}
		}
	}
}
