package render

import (
	"image/color"
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
)

// A Warmth is how warm the bridge's devices are.
type Warmth struct {
	Junction [6]float64 // °C, the hotter of switch and diode at its peak, by inverter.Switch
	Sink     float64    // °C, where the scale of tints begins
	Limit    float64    // °C, where it ends
}

// share returns how far a temperature is from sink to limit, 0 to 1.
func (w *Warmth) share(celsius float64) float64 {
	if !(w.Limit > w.Sink) {
		return 0
	}
	return max(0, min(1, (finite(celsius)-w.Sink)/(w.Limit-w.Sink)))
}

// warmth tints the devices by their temperature, which stands beside each, and draws the scale of tints.
func (p *pen) warmth(f frame) {
	w := p.v.Warmth
	if w == nil {
		return
	}
	for _, s := range inverter.Switches {
		p.look(devicePart(s), diodePart(s))
		x, y := deviceXY(s)
		t := w.Junction[s]
		p.fillRect(f.rect(x-3.1, y-2.9, x+diodeX+1.7, y+2.9), p.tint(w.share(t)))
		a := label{at: f.at(x-4, y-2.35), size: 1.9 * f.u, align: right, color: p.ink.text, room: 7 * f.u}
		a.bold = t > w.Limit
		p.write(celsius(t), a)
	}
	p.background()
	const steps, left0, y = 12, 33, 2.9
	for k := range steps {
		x := left0 + vg.Length(k)*1.5
		p.fillRect(f.rect(x, y-0.7, x+1.5, y+0.7), p.tint((float64(k)+0.5)/steps))
	}
	at := f.at(left0-0.8, y)
	p.write(celsius(w.Sink), label{at: at, size: 1.7 * f.u, align: right, color: p.ink.muted, room: 8 * f.u})
	p.write(celsius(w.Limit)+" junction", label{at: f.at(left0+steps*1.5+0.8, y), size: 1.7 * f.u, color: p.ink.muted, room: 18 * f.u})
}

// tint returns the colour of a share of the way to the limit.
func (p *pen) tint(share float64) color.Color { return faded(p.ink.heat, 0.06+0.6*share) }

func celsius(t float64) string {
	if finite(t) != t {
		return "- °C"
	}
	return strconv.FormatFloat(math.Round(t), 'f', 0, 64) + " °C"
}
