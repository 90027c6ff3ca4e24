package diagnosis_test

import (
	"fmt"
	"math"
	"math/rand/v2"

	"sextant/inverter"
	"sextant/motor/fault/capture"
	"sextant/motor/fault/diagnosis"
)

// A recorder is an instrument and how it was set: any part of a waveform from one and a half turns on, at 18 to
// 720 samples a turn, with 20 to 50 dB of signal to noise and 8 to 12 bits, the peak filling a third to nine
// tenths of its range. Each clamp has an offset of some thousandths of the range and a gain some thousandths
// off, and one in ten recorders has but two.
type recorder struct {
	turns, start float64
	every        int // of the waveform's samples
	snr          float64
	bits         int
	fullScale    float64 // over the peak
	offset       inverter.ABC
	gain         inverter.ABC
	derived      bool
}

var everies = []int{1, 2, 4, 8, 16, 24, 40}

// peakOf returns the largest current of a waveform, and the rms of all three together.
func peakOf(x []inverter.ABC) (peak, rms float64) {
	for _, i := range x {
		for _, y := range i {
			peak = max(peak, math.Abs(y))
			rms += y * y
		}
	}
	return peak, math.Sqrt(rms / float64(3*len(x)))
}

// newRecorder draws a recorder for a waveform, with the fault of its clamp if that is the truth: 12 to 60 % of
// offset, 12 to 50 % of gain.
func newRecorder(r *rand.Rand, w *waveform, peak, rms float64) recorder {
	x := recorder{turns: 1.5 + 5*r.Float64(), every: everies[r.IntN(len(everies))], snr: 20 + 30*r.Float64(),
		bits: 8 + r.IntN(5), fullScale: 1.1 + 1.9*r.Float64(), derived: r.IntN(10) == 0}
	x.start = r.Float64() * (turnsKept - x.turns)
	few := func(scale float64) float64 { return scale * max(-2, min(2, r.NormFloat64())) }
	for k := range x.offset {
		x.offset[k] = few(0.005 * x.fullScale * peak)
		x.gain[k] = 1 + few(0.01)
	}
	sign := float64(1 - 2*r.IntN(2))
	switch {
	case w.Fault == diagnosis.SensorOffset && !w.own:
		x.offset[phase(w.Suspect)] += sign * (0.12 + 0.48*r.Float64()) * rms * math.Sqrt2
	case w.Fault == diagnosis.SensorGain && !w.own:
		x.gain[phase(w.Suspect)] += sign * (0.12 + 0.38*r.Float64())
	default:
		return x
	}
	if phase(w.Suspect) == inverter.W {
		x.derived = false // its clamp is the one at fault
	}
	return x
}

func (x *recorder) String() string {
	return fmt.Sprintf("%.2f turns, %d a turn, %.0f dB, %d bits, two clamps %v, offsets %.2g, gains %.3g",
		x.turns, samplesATurn/x.every, x.snr, x.bits, x.derived, x.offset, x.gain)
}

// record returns what the recorder makes of the waveform.
func (x *recorder) record(r *rand.Rand, w *waveform, peak, rms float64) capture.Capture {
	noise := rms * math.Pow(10, -x.snr/20)
	step := 2 * x.fullScale * peak / math.Exp2(float64(x.bits))
	c := capture.Capture{Derived: x.derived, Third: inverter.W}
	from := int(x.start * samplesATurn)
	to := min(from+int(x.turns*samplesATurn), len(w.current))
	for i := from; i < to; i += x.every {
		var y inverter.ABC
		for k := range y {
			y[k] = step * math.Round((w.current[i][k]*x.gain[k]+x.offset[k]+noise*r.NormFloat64())/step)
		}
		if x.derived {
			y[inverter.W] = -y[inverter.U] - y[inverter.V]
		}
		c.Time = append(c.Time, float64(i)*w.step)
		c.Current = append(c.Current, y)
	}
	return c
}
