package show

import (
	"math"
	"testing"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/motor/scenario"
	"sextant/render"
)

// inRealTime returns a show that plays a drive as fast as it runs.
func inRealTime(t *testing.T) *Show {
	s := open(t, "trainer-pwm")
	for range len(paces) {
		s.Do(Faster)
	}
	s.Do(PlayPause)
	return s
}

// Half a minute of real time can be looked back on, long after the tape has let go of it, and shows what was seen
// then to the last digit of what the integration is sure of.
func TestHalfAMinuteBack(t *testing.T) {
	s := inRealTime(t)
	var seen []drive.Instant
	for k := range 350 { // 35 s
		s.Tick(0.1)
		switch k {
		case 120:
			s.Press(render.Part{Kind: render.WirePart, Phase: inverter.V})
		case 200:
			s.Do(Undo)
		case 250:
			s.Do(FrequencyUp)
		}
		seen = append(seen, s.now())
	}
	if s.failed {
		t.Fatal(s.Message())
	}
	end := s.now()
	if from, _ := s.tape.Span(); end.Time-from > 20 {
		t.Fatalf("the tape alone holds %g s, which makes this test idle", end.Time-from)
	}
	for _, then := range []int{349, 300, 251, 230, 199, 150, 119, 60, 51} {
		s.Drag(s.now().Time - seen[then].Time)
		got := s.now()
		if math.Abs(got.Time-seen[then].Time) > 20*s.gap() {
			t.Errorf("back to %g s shows %g s", seen[then].Time, got.Time)
		}
		r := s.View().Tape
		if r[0].Time > got.Time-s.span*0.99 || r[len(r)-1].Time < got.Time {
			t.Errorf("at %g s the tape runs from %g to %g s", got.Time, r[0].Time, r[len(r)-1].Time)
		}
		for i := 1; i < len(r); i++ {
			if r[i].Time < r[i-1].Time {
				t.Fatalf("at %g s: %g s comes after %g s", got.Time, r[i].Time, r[i-1].Time)
			}
		}
		if v := got.Current[inverter.V]; (math.Abs(v) < 1e-9) != (then > 120 && then <= 200) {
			t.Errorf("at %g s %g A flow in V", got.Time, v)
		}
	}
	s.Do(Present)
	if s.now() != end {
		t.Errorf("back in the present it is %+v, was %+v", s.now(), end)
	}
}

// Steps lead from event to event beyond what the tape holds, both ways, and to the same events.
func TestStepsBeyondTheTape(t *testing.T) {
	s := inRealTime(t)
	for range 200 {
		s.Tick(0.1)
	}
	s.Drag(19)
	var there []drive.Instant
	for range 40 {
		s.Do(NextEvent)
		there = append(there, s.now())
	}
	for k := len(there) - 2; k >= 0; k-- {
		s.Do(PreviousEvent)
		if got := s.now(); got.Time != there[k].Time || got.Gates != there[k].Gates {
			t.Fatalf("back to %.9f s with %v, went there at %.9f s with %v", got.Time, got.Gates, there[k].Time, there[k].Gates)
		}
	}
	for k := 1; k < len(there); k++ {
		if there[k].Time <= there[k-1].Time {
			t.Fatalf("a step leads from %.9f s to %.9f s", there[k-1].Time, there[k].Time)
		}
	}
}

// Few leaps lead half a minute back, and as few forward again.
func TestLeapsThroughTheRecord(t *testing.T) {
	s := inRealTime(t)
	for range 310 {
		s.Tick(0.1)
	}
	n := 0
	for ; s.Past() < 30; n++ {
		if n == 25 {
			t.Fatalf("25 leaps lead %g s back", s.Past())
		}
		s.Do(LookBack)
	}
	if v := s.View(); s.playing || v.Tape[0].Time > v.Now.Time {
		t.Errorf("at %g s the tape begins at %g s", v.Now.Time, v.Tape[0].Time)
	}
	for range n {
		s.Do(LookForward)
	}
	if !s.live() {
		t.Errorf("as many forward end %g s ago", s.Past())
	}
}

// However many changes a hand makes in a moment, what is kept stays bounded.
func TestMarksAreBounded(t *testing.T) {
	s := open(t, "trainer-pwm")
	s.Do(PlayPause)
	s.Press(render.Part{Kind: render.RotorPart})
	for range mostMarks + 500 {
		s.Tick(0.001)
		s.TurnRotor(0.001)
	}
	if n := len(s.past.marks); n > mostMarks+1 {
		t.Errorf("%d marks", n)
	}
}

// BenchmarkLookBack drags through a record that the tape has let go of, a tenth of the tape's length a time.
func BenchmarkLookBack(b *testing.B) {
	sc, err := scenario.Open("hauler-pwm")
	if err != nil {
		b.Fatal(err)
	}
	s, err := New([]Choice{{"hauler-pwm", sc}}, 0, false)
	if err != nil {
		b.Fatal(err)
	}
	if err := s.SkipTo(20); err != nil {
		b.Fatal(err)
	}
	s.lookAt(10)
	b.ReportAllocs()
	for b.Loop() {
		if s.Past() > 18 {
			s.lookAt(18)
		}
		s.Drag(s.span / 10)
		s.View()
	}
}
