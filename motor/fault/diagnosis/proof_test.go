package diagnosis_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"sextant/inverter"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/diagnosis"
	"sextant/motor/fault/signature"
)

// whole returns a waveform as a capture without noise.
func (w *waveform) whole() capture.Capture {
	var c capture.Capture
	for i, x := range w.current {
		c.Time = append(c.Time, float64(i)*w.step)
		c.Current = append(c.Current, x)
	}
	return c
}

// shown reports whether the currents themselves, free of noise, show the drive's fault at all: more than so
// small an unlikeness that no method could be asked to see it. A current control evens a bad joint out; a
// bridge whose diodes alone carry the current does not miss an open switch.
func (w *waveform) shown() bool {
	c := w.whole()
	near, err := signature.Near(&c)
	if err != nil {
		return false
	}
	s, err := signature.Of(&c, near)
	if err != nil || s.Amplitude() < 0.08*w.rated {
		return false
	}
	switch w.fault {
	case "switch-open":
		m, _ := s.MeanVector()
		return m > 0.05 || s.Even() > 0.05
	case "phase-resistance":
		return s.Negative() > 0.08
	}
	return true
}

// A recording is how a waveform was recorded.
type recording struct {
	turns   float64 // how many the record holds
	start   float64 // turn at which it starts
	every   int     // of the waveform's samples
	snr     float64 // dB
	bits    int
	range_  float64 // full scale over the peak
	offset  [3]float64
	gain    [3]float64
	derived bool
}

func record(r *rand.Rand, w *waveform) (capture.Capture, string) {
	divisors := []int{1, 2, 4, 8, 16, 24, 40}
	rec := recording{
		turns: 1.5 + 5*r.Float64(), every: divisors[r.IntN(len(divisors))], snr: 20 + 30*r.Float64(),
		bits: 8 + r.IntN(5), range_: 1.1 + 1.9*r.Float64(), derived: r.IntN(10) == 0,
	}
	rec.start = r.Float64() * (turnsKept - rec.turns)
	peak, power := 0.0, 0.0
	for _, x := range w.current {
		for _, i := range x {
			peak = max(peak, math.Abs(i))
			power += i * i
		}
	}
	rms := math.Sqrt(power / float64(3*len(w.current)))
	for k := range rec.offset {
		rec.offset[k] = 0.005 * rec.range_ * peak * max(-2, min(2, r.NormFloat64()))
		rec.gain[k] = 1 + 0.01*max(-2, min(2, r.NormFloat64()))
	}
	at := 0
	if w.at != "" {
		at = map[byte]int{'U': 0, 'V': 1, 'W': 2}[w.at[0]]
	}
	sign := float64(1 - 2*r.IntN(2))
	wrong := 0.0
	switch w.fault {
	case "current-sensor-offset":
		if w.own {
			break
		}
		wrong = sign * (0.12 + 0.48*r.Float64())
		rec.offset[at] += wrong * rms * math.Sqrt2
	case "current-sensor-gain":
		wrong = sign * (0.12 + 0.38*r.Float64())
		rec.gain[at] += wrong
	}
	if rec.derived && at == 2 && w.fault[0] == 'c' && !w.own {
		rec.derived = false // there is no third sensor to be wrong
	}
	noise := rms * math.Pow(10, -rec.snr/20)
	lsb := 2 * rec.range_ * peak / math.Exp2(float64(rec.bits))
	var c capture.Capture
	c.Derived, c.Third = rec.derived, inverter.W
	first := int(rec.start * samplesATurn)
	for i := first; i < min(first+int(rec.turns*samplesATurn), len(w.current)); i += rec.every {
		var x inverter.ABC
		for k := range x {
			y := w.current[i][k]*rec.gain[k] + rec.offset[k] + noise*r.NormFloat64()
			x[k] = lsb * math.Round(y/lsb)
		}
		if rec.derived {
			x[2] = -x[0] - x[1]
		}
		c.Time = append(c.Time, float64(i)*w.step)
		c.Current = append(c.Current, x)
	}
	return c, fmt.Sprintf("%.2f turns, %d a turn, %.0f dB, %d bits, derived %v, own %v, wrong %.2f", rec.turns, samplesATurn/rec.every, rec.snr, rec.bits, rec.derived, w.own, wrong)
}

// truths is what the bench draws from: a third healthy, every fault at every place.
func truths() []truth {
	var all []truth
	for _, p := range []string{"U", "V", "W"} {
		all = append(all, truth{"healthy", ""}, truth{"healthy", ""}, truth{"healthy", ""}, truth{"switch-open", p + "+"}, truth{"switch-open", p + "-"},
			truth{"phase-open", p}, truth{"phase-resistance", p}, truth{"current-sensor-offset", p}, truth{"current-sensor-gain", p})
	}
	return all
}

func TestProof(t *testing.T) {
	for half := range 2 {
		bench(t, uint64(half+1), 200, 6)
	}
}

func bench(t *testing.T, seed uint64, waves, recordings int) {
	r := rand.New(rand.NewPCG(seed, 0))
	all := truths()
	hidden := map[string]int{}
	called, right, unclear, healthy, accused, total := 0, 0, 0, 0, 0, 0
	confusion := map[[2]string]int{}
	for k := range waves {
		tr := all[k%len(all)]
		mode := modes[(k/3)%len(modes)]
		var w waveform
		for {
			var err error
			if w, err = simulate(r, mode, tr); err != nil {
				t.Logf("%v %s: %v", tr, w.scene, err)
				continue
			}
			if w.shown() {
				break
			}
			hidden[tr.fault+" "+mode]++
			if r.IntN(3) == 0 {
				mode = modes[r.IntN(len(modes))]
			}
		}
		for range recordings {
			c, how := record(r, &w)
			rep := diagnosis.Diagnose(&c, nil)
			total++
			confusion[[2]string{tr.fault, string(rep.Verdict)}]++
			if tr.fault == "healthy" {
				healthy++
			}
			good := string(rep.Verdict) == tr.fault && rep.At == tr.at
			if rep.Verdict == diagnosis.Unclear {
				unclear++
			} else {
				called++
				if good {
					right++
				} else if tr.fault == "healthy" {
					accused++
				}
			}
			if !good {
				t.Logf("%v -> %v %v %.2f %v [%v %v] | %s | %s", tr, rep.Verdict, rep.At, rep.Confidence, rep.Because, first(rep, 0), first(rep, 1), how, w.scene)
			}
		}
	}
	t.Logf("half %d: %d captures, %d called, right %.2f %%, unclear %.2f %%, healthy accused %.2f %% of %d", seed, total, called, 100*float64(right)/float64(called), 100*float64(unclear)/float64(total), 100*float64(accused)/float64(healthy), healthy)
	t.Log(hidden, confusion)
}

func first(r diagnosis.Report, i int) diagnosis.Ranked {
	if i < len(r.Ranked) {
		return r.Ranked[i]
	}
	return diagnosis.Ranked{}
}
