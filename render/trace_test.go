package render

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/motor/drive"
)

// traced returns the line that a tracer draws through points, 1000 wide for a second.
func traced(times []float64, heights []vg.Length) (vg.Path, *Layout) {
	l := &Layout{Now: 1000, Trace: vg.Rectangle{Max: vg.Point{X: 1000, Y: 100}}, unit: 5}
	p := &pen{l: l}
	tr := tracer{p: p, w: window{from: 0, to: 1, now: 1, span: 1, l: l}}
	for i, t := range times {
		tr.to(t, heights[i])
	}
	return p.path, l
}

// What is left out of a line lies on what is left in, by a fraction of its width, and steps stay upright.
func TestTraceLeavesOutOnlyWhatIsStraight(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		var times []float64
		var heights []vg.Length
		slope := 0.0
		for i := range 2000 {
			at := float64(i) / 2000
			y := vg.Length(50 + 30*math.Sin(9*at) + slope*math.Mod(at, 0.1))
			if r.IntN(40) == 0 { // a step: two heights at once
				times, heights = append(times, at), append(heights, y)
				slope = 100 * r.NormFloat64()
				y = vg.Length(100 * r.Float64())
			}
			times, heights = append(times, at), append(heights, y)
		}
		path, l := traced(times, heights)
		if len(path) > len(times)/2 {
			t.Fatalf("%d of %d points are left", len(path), len(times))
		}
		k := 1
		for i := range times {
			x, y := vg.Length(1000*times[i]), heights[i]
			for k < len(path)-1 && path[k].Pos.X < x-1e-9 {
				k++
			}
			far := math.Inf(1)
			for j := k; j < len(path) && path[j-1].Pos.X <= x+1e-9; j++ {
				far = min(far, offLine(path[j-1].Pos, path[j].Pos, vg.Point{X: x, Y: y}))
			}
			if most := 0.006*float64(l.unit) + 1e-9; far > most {
				t.Fatalf("point %d of the wave, at %g, %g, is %g from the line, more than %g", i, x, y, far, most)
			}
		}
	}
}

// offLine returns how far p lies above or below the piece from a to b, or from an upright piece.
func offLine(a, b, p vg.Point) float64 {
	if b.X-a.X < 1e-9 {
		if math.Abs(float64(p.X-a.X)) > 1e-9 {
			return math.Inf(1)
		}
		return float64(max(p.Y-max(a.Y, b.Y), min(a.Y, b.Y)-p.Y, 0))
	}
	return math.Abs(float64(a.Y + (b.Y-a.Y)*(p.X-a.X)/(b.X-a.X) - p.Y))
}

func TestTraceOfStraightLineAndSquareWave(t *testing.T) {
	var times []float64
	var ramp, square []vg.Length
	for i := range 101 {
		times = append(times, float64(i)/100)
		ramp = append(ramp, vg.Length(i))
	}
	if path, _ := traced(times, ramp); len(path) != 2 {
		t.Errorf("%d points for a straight line", len(path))
	}
	times = times[:0]
	for i := range 10 { // each half wave has a point in its middle too
		for _, at := range []float64{0, 0.5, 1} {
			times, square = append(times, (float64(i)+at)/10), append(square, vg.Length(i%2*50))
		}
	}
	path, _ := traced(times, square)
	if len(path) != 20 {
		t.Errorf("%d points for ten half waves", len(path))
	}
	for i := 1; i < len(path); i++ {
		if a, b := path[i-1].Pos, path[i].Pos; a.X != b.X && a.Y != b.Y {
			t.Errorf("neither upright nor level: %v to %v", a, b)
		}
	}
}

// Bars are on for as long as the gate is, however many there are, and their number is bounded.
func TestGateBarsKeepTheShade(t *testing.T) {
	for _, n := range []int{40, 3000, 100_000} {
		r := rand.New(rand.NewPCG(1, uint64(n)))
		var tape []drive.Instant
		var at, want float64
		on := inverter.On(inverter.UHigh)
		for k := range n { // pulses of random length in half of which the gate is on
			h := r.ExpFloat64() / float64(n)
			gates := inverter.Gates(0)
			if k%2 == 1 {
				gates = on
				want += h
			}
			tape = append(tape, drive.Instant{Time: at, Gates: gates}, drive.Instant{Time: at + h, Gates: gates})
			at += h
		}
		l := &Layout{Now: 1000, Trace: vg.Rectangle{Max: vg.Point{X: 1000, Y: 100}}, unit: 5}
		p := &pen{l: l, v: &View{Tape: tape}}
		w := window{to: at, now: at, span: at, l: l}
		p.sample(w)
		p.gateBars(w, inverter.UHigh, l.Trace)
		var got vg.Length
		bars, last := 0, vg.Length(0)
		for k := range p.path {
			switch c := p.path[k]; c.Type {
			case vg.MoveComp:
				bars++
				least, most := c.Pos.X, c.Pos.X
				for j := k + 1; j < len(p.path) && p.path[j].Type == vg.LineComp; j++ {
					least, most = min(least, p.path[j].Pos.X), max(most, p.path[j].Pos.X)
				}
				if least < last-1e-6 {
					t.Fatalf("of %d pulses a bar begins at %g, where the last goes to %g", n, least, last)
				}
				got, last = got+most-least, most
			}
		}
		if math.Abs(float64(got)/1000-want/at) > 1e-9 {
			t.Errorf("%d pulses: bars take %g of the trace, the gate is on for %g of the time", n, got/1000, want/at)
		}
		if bars > 2*columns || n > 10*columns && bars < columns/2 {
			t.Errorf("%d pulses make %d bars", n, bars)
		}
	}
}
