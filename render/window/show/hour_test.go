package show

import (
	"runtime"
	"testing"

	"sextant/inverter"
	"sextant/render"
)

// An hour of watching, with a hand on everything, must not make the heap grow: a few MB more after it than after
// its first part would be a leak of kilobytes a minute.
func TestAnHourKeepsTheHeapFlat(t *testing.T) {
	s := open(t, "trainer-pwm")
	s.Do(PlayPause)
	for s.pace < len(paces)-4 { // 1/10 of real time
		s.Do(Faster)
	}
	heap := func() uint64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	minutes := func(n int) {
		for k := range n * 600 {
			s.Tick(0.1)
			switch k % 50 {
			case 0:
				s.View()
			case 10:
				s.Press(render.Part{Kind: render.WirePart, Phase: inverter.U})
			case 20:
				s.Do(Undo)
			case 30:
				s.Do(FrequencyUp)
			case 40:
				s.Do(FrequencyDown)
			}
			s.playing = true
		}
	}
	minutes(15)
	before := heap()
	minutes(45)
	if after := heap(); after > before+2<<20 {
		t.Errorf("the heap grew from %d to %d kB in 45 minutes", before>>10, after>>10)
	}
	if s.failed {
		t.Error(s.Message())
	}
}
