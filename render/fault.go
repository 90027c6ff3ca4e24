package render

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"

	"sextant/inverter"
	"sextant/motor/drive"
)

// present calls do with every fault of s that is there at an instant.
func present(now *drive.Instant, s *drive.Scenario, do func(*drive.Fault)) {
	if s == nil {
		return
	}
	for k := range s.Faults {
		if f := &s.Faults[k]; f.On(now.Time) {
			do(f)
		}
	}
}

// broken marks on the bridge what is broken now.
func (p *pen) broken(f frame) {
	present(&p.v.Now, p.v.Scenario, func(fault *drive.Fault) {
		x, y := vg.Length(0), wireY(fault.Phase)
		if fault.Kind.OfSwitch() {
			x, y = deviceXY(fault.Switch)
		}
		switch fault.Kind {
		case drive.PhaseOpen:
			p.cross(f.at(65.2, y), 1.1*f.u) // where the arrow of a current would be
		case drive.PhaseResistance:
			p.start()
			p.box(f.rect(72, y-0.75, 75, y+0.75))
			p.fill(p.ink.ground)
			p.stroke(0.4*f.u, p.ink.heat)
		case drive.PhaseSwap:
			a, b := wireY(fault.Phase.Next()), wireY(fault.Phase.Next().Next())
			x := legX(inverter.W) + 0.9 // where nothing is written
			p.line(0.5*f.u, p.ink.heat, f.at(x, a), f.at(x+1.8, b))
			p.line(0.5*f.u, p.ink.heat, f.at(x, b), f.at(x+1.8, a))
		case drive.CurrentSensorOffset, drive.CurrentSensorGain:
			p.circle(f.at(73.4, y), 1.1*f.u, 0.4*f.u, p.ink.heat)
		case drive.SwitchOpen:
			p.cross(f.at(x-1, y), 2.2*f.u)
		case drive.SwitchShort:
			p.line(0.9*f.u, p.ink.heat, f.at(x-1.5, y-2.6), f.at(x-1.5, y+2.6))
		case drive.DiodeOpen:
			p.cross(f.at(x+diodeX, y), 1.3*f.u)
		case drive.GateStuckOff:
			p.cross(f.at(x-3.6, y), 0.9*f.u)
		case drive.GateStuckOn:
			p.line(0.7*f.u, p.ink.heat, f.at(x-4.6, y), f.at(x-2.5, y))
		case drive.SupplySag:
			p.line(0.5*f.u, p.ink.heat, f.at(sourceX+3.6, sourceY+2.4), f.at(sourceX+3.6, sourceY-1))
			p.shape(p.ink.heat, f.at(sourceX+3.6, sourceY-2.4), f.at(sourceX+2.8, sourceY-0.8), f.at(sourceX+4.4, sourceY-0.8))
		case drive.CapacitorAged, drive.CapacitorResistance:
			p.cross(f.at(linkX, sourceY), 1.3*f.u)
		}
	})
}

// cross draws the mark of a break.
func (p *pen) cross(at vg.Point, r vg.Length) {
	p.start()
	p.trail(at.Add(vg.Point{X: -r, Y: -r}), at.Add(vg.Point{X: r, Y: r}))
	p.trail(at.Add(vg.Point{X: -r, Y: r}), at.Add(vg.Point{X: r, Y: -r}))
	p.stroke(r/2, p.ink.heat)
}

// wornWords names, beside the machine, what is wrong with shaft, magnet, windings and sensors now.
func (p *pen) wornWords(f frame) {
	const most, x, y, pitch = 3, 1 - wheelWidth/2, -13.6, 2.4
	row := 0
	present(&p.v.Now, p.v.Scenario, func(fault *drive.Fault) {
		word := ""
		switch fault.Kind {
		case drive.ShaftBlocked:
			word = "shaft blocked"
		case drive.Demagnetised:
			word = "magnet weak"
		case drive.PositionSensorStuck:
			word = "sensor " + fault.Phase.String() + " stuck"
		case drive.PositionSensorOffset:
			word = "sensor offset"
		case drive.PositionSensorSwapped:
			word = "sensors crossed"
		case drive.TurnsShorted:
			word = "turns " + fault.Phase.String() + " shorted"
		}
		if word == "" || row == most {
			return
		}
		at := f.at(x, y+pitch*vg.Length(row))
		p.cross(at.Add(vg.Point{X: 0.9 * f.u}), 0.7*f.u)
		p.write(word, label{at: at.Add(vg.Point{X: 2.4 * f.u}), size: 1.8 * f.u, color: p.ink.text, bold: true, room: 12 * f.u})
		row++
	})
}

// brokenWords says what is broken now, as a sentence of its own; nothing where all is whole.
func brokenWords(now *drive.Instant, s *drive.Scenario) string {
	const most = 2 // are named, the others counted
	text, open, n := "", 0, 0
	present(now, s, func(f *drive.Fault) {
		if n++; n <= most {
			if text != "" {
				text += ", "
			}
			text += faultWords(f)
		}
		if f.Kind == drive.PhaseOpen {
			open++
		}
	})
	if text == "" {
		return ""
	}
	if n > most {
		text += " and " + strconv.Itoa(n-most) + " more"
	}
	if f := currents(now); open == 1 && len(f.in) > 0 && len(f.out) > 0 {
		text += ": the field cannot turn, it swings along a line"
	}
	return string(text[0]-'a'+'A') + text[1:] + ". "
}

// faultWords says what a fault is, beginning in lower case.
func faultWords(f *drive.Fault) string {
	at, others := f.Phase.String(), f.Phase.Next().String()+" and "+f.Phase.Next().Next().String()
	if f.Kind.OfSwitch() {
		at = f.Switch.String()
	}
	switch f.Kind {
	case drive.PhaseOpen:
		return "phase " + at + " is open"
	case drive.SwitchOpen:
		return "switch " + at + " is open"
	case drive.SwitchShort:
		return "switch " + at + " is shorted"
	case drive.PhaseResistance:
		return "phase " + at + " has " + quantity(f.Value, "Ω") + " too much"
	case drive.PhaseSwap:
		return "leads " + others + " are crossed"
	case drive.PositionSensorStuck:
		if f.Value == 0 {
			return "position sensor " + at + " is stuck low"
		}
		return "position sensor " + at + " is stuck high"
	case drive.GateStuckOn:
		return "gate " + at + " is stuck on"
	case drive.GateStuckOff:
		return "gate " + at + " is stuck off"
	case drive.DiodeOpen:
		return "diode " + at + " is open"
	case drive.SupplySag:
		return "the supply has sagged to " + quantity(f.Value, "V")
	case drive.CapacitorAged:
		return "the link capacitor is down to " + percent(f.Value)
	case drive.CapacitorResistance:
		return "the link capacitor has " + quantity(f.Value, "Ω") + " in series"
	case drive.PositionSensorOffset:
		return "the position is told " + signedDegrees(f.Value) + " ahead"
	case drive.PositionSensorSwapped:
		return "position sensors " + others + " are crossed"
	case drive.CurrentSensorOffset:
		return "current sensor " + at + " reads " + signed(f.Value, "A") + " off"
	case drive.CurrentSensorGain:
		return "current sensor " + at + " reads " + percent(f.Value)
	case drive.Demagnetised:
		return "the magnet is down to " + percent(f.Value)
	case drive.ShaftBlocked:
		return "the shaft is blocked"
	case drive.TurnsShorted:
		return "phase " + at + " has " + percent(f.Value) + " of its turns shorted"
	}
	return f.Kind.String()
}

func percent(x float64) string {
	return strconv.FormatFloat(math.Round(100*finite(x)), 'f', 0, 64) + " %"
}

func signedDegrees(rad float64) string {
	return strconv.FormatFloat(math.Round(finite(rad)*180/math.Pi), 'f', 0, 64) + "°"
}

// FaultSentence says in plain words what f is, as a sentence.
func FaultSentence(f *drive.Fault) string {
	words := faultWords(f)
	return string(words[0]-'a'+'A') + words[1:] + "."
}
