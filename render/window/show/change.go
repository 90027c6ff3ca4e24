package show

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/render"
)

// Do grants a wish, other than those that are the window's.
func (s *Show) Do(w Wish) {
	s.changed = true
	if f, ok := s.fault(w); ok {
		if !s.keepsHidden() {
			s.turnFault(f)
		}
		return
	}
	if k, ok := lane(w); ok {
		s.turnLane(k)
		return
	}
	if w >= firstFile {
		s.openFile(int(w - firstFile))
		return
	}
	switch w {
	case PlayPause:
		s.playing = !s.playing
	case NextEvent:
		s.stepForward()
	case PreviousEvent:
		s.stepBack()
	case Present:
		s.looksBack = false
	case LookBack:
		s.leap(leapBy)
	case LookForward:
		s.leap(1 / leapBy)
	case Faster:
		s.pace = min(s.pace+1, len(paces)-1)
	case Slower:
		s.pace = max(s.pace-1, 0)
	case MuchFaster:
		s.pace = min(s.pace+decade, len(paces)-1)
	case MuchSlower:
		s.pace = max(s.pace-decade, 0)
	case Restart:
		if s.lecture.player != nil {
			s.lecture.player.Again()
			s.beginScene()
			return
		}
		s.startOver()
	case NextPattern:
		s.turnPattern(1)
	case PreviousPattern:
		s.turnPattern(-1)
	case FrequencyUp:
		s.scaleFrequency(1.1)
	case FrequencyDown:
		s.scaleFrequency(1 / 1.1)
	case ModulationUp:
		s.addModulation(0.05)
	case ModulationDown:
		s.addModulation(-0.05)
	case SupplyUp:
		s.scaleSupply(1.05)
	case SupplyDown:
		s.scaleSupply(1 / 1.05)
	case Undo:
		s.undo()
	case Redo:
		s.redo()
	case CarrierUp:
		s.scaleCarrier(true)
	case CarrierDown:
		s.scaleCarrier(false)
	case DeadTimeUp:
		s.addDeadTime(deadTimeStep)
	case DeadTimeDown:
		s.addDeadTime(-deadTimeStep)
	case SpeedUp:
		s.addSpeed(1)
	case SpeedDown:
		s.addSpeed(-1)
	case LoadUp:
		s.addLoad(1)
	case LoadDown:
		s.addLoad(-1)
	case CommandUp:
		s.addCommand(1)
	case CommandDown:
		s.addCommand(-1)
	case FluxUp:
		s.addFlux(1)
	case FluxDown:
		s.addFlux(-1)
	case AdvanceUp:
		s.addAdvance(1)
	case AdvanceDown:
		s.addAdvance(-1)
	case DutyUp:
		s.addDuty(dutyStep)
	case DutyDown:
		s.addDuty(-dutyStep)
	case NextDevice:
		s.turnBridge(1)
	case PreviousDevice:
		s.turnBridge(-1)
	case RotorOn:
		s.nudgeRotor(1)
	case RotorBack:
		s.nudgeRotor(-1)
	case Heat:
		s.heating.age = heatEvery
		s.panel = other(s.panel, w)
		s.warm(0)
	case NextDeviceA:
		s.heating.turn(0, 1)
	case PreviousDeviceA:
		s.heating.turn(0, -1)
	case NextDeviceB:
		s.heating.turn(1, 1)
	case PreviousDeviceB:
		s.heating.turn(1, -1)
	case Lesson:
		s.turnLecture()
	case NextLesson:
		s.turnLesson(1)
	case PreviousLesson:
		s.turnLesson(-1)
	case NextScene, PreviousScene:
		s.turnPage(w)
	case Notes:
		s.lecture.notes = !s.lecture.notes
	case Choice1, Choice2, Choice3, Choice4, Choice5, Choice6:
		s.chooseInLesson(int(w - Choice1))
	case Dials, TapeLanes, FilePanel:
		s.panel = other(s.panel, w)
	case UsualLanes:
		s.setLanes(nil)
	case LaneUp:
		s.shiftLane(-1)
	case LaneDown:
		s.shiftLane(1)
	case LaneOff:
		if k := s.pointedLane(); slices.Contains(s.tapeTaste.shown, k) {
			s.turnLane(k)
		}
	case Cursors:
		s.turnCursors()
	case CursorOn:
		s.nudgeCursor(1)
	case CursorBack:
		s.nudgeCursor(-1)
	case OpenFile:
		s.chooseFile()
	case Save:
		s.save()
	case SaveAnswers:
		s.saveAnswers()
	case Faults:
		if !s.keepsHidden() {
			s.panel = other(s.panel, w)
		}
	case MendAll:
		if !s.keepsHidden() {
			s.mendAll()
		}
	case NextFocus:
		s.focus = (s.focus + 1) % render.Focus(len(render.Focuses))
	case NextPart:
		s.turnPart(1)
	case PreviousPart:
		s.turnPart(-1)
	case PressPart:
		s.Press(s.hover)
	case NextScenario:
		s.turnScenario(1)
	case PreviousScenario:
		s.turnScenario(-1)
	case LongerTape:
		s.Zoom(1.25)
	case ShorterTape:
		s.Zoom(0.8)
	case NextNumbering:
		s.numbering = (s.numbering + 1) % 3
	case NextTheme:
		s.theme = (s.theme + 1) % render.Theme(len(render.Themes))
	case NextTextSize:
		s.text = (s.text + 1) % len(textSizes)
	case Help:
		s.turnHelp()
	case More:
		s.more = !s.more
	case Dismiss:
		s.help, s.more, s.panel, s.message, s.left = false, false, None, "", 0
		s.hover, s.rest = render.Part{}, 0
	}
}

// other returns w, or None where it is that already.
func other(now, w Wish) Wish {
	if now == w {
		return None
	}
	return w
}

// startOver begins with the present scenario at time zero.
func (s *Show) startOver() {
	before := s.leave()
	if err := s.begin(s.drive.Scenario()); err != nil {
		s.comeBack(before)
		s.say(sentence(err))
		return
	}
	s.swapped(before, "Started over.")
}

// Zoom makes the tape show factor times as much time, within what there is to see.
func (s *Show) Zoom(factor float64) {
	s.span = min(max(s.span*factor, s.turn()/2000), s.widest())
	s.changed = true
}

// widest returns how many s the tape may show: fifty turns, or as much as mostShown instants tell of where they come
// as densely as they lately came.
func (s *Show) widest() float64 {
	w := 50 * s.turn()
	if n := s.tape.Len(); n > tapeLength/10 {
		from, to := s.tape.Span()
		w = min(w, mostShown*(to-from)/float64(n))
	}
	return w
}

// turnPattern goes to the next pattern, or the previous, that the drive will take.
func (s *Show) turnPattern(step int) {
	kinds := pattern.Kinds()
	n := len(kinds)
	now := int(s.drive.Scenario().Gating.Kind)
	for i := 1; i < n; i++ {
		k := kinds[((now+i*step)%n+n)%n]
		if s.change(func(sc *drive.Scenario) { s.setPattern(&sc.Gating, k) }, func(*drive.Scenario) string {
			return "Pattern: " + k.String() + "."
		}) == nil {
			return
		}
	}
}

// setPattern makes k the pattern, and gives it what it needs and the scenario has not: a carrier 21 times
// the fundamental and as much modulation as stays linear, or the gates as they are.
func (s *Show) setPattern(g *drive.Gating, k pattern.Kind) {
	keeps := g.Follow == drive.Rotor && k.Stepped() || g.Follow == drive.Current && k.Compares()
	if g.Kind = k; g.Follow != drive.Clock && !keeps {
		g.Follow = drive.Clock
		if g.Frequency == 0 {
			g.Frequency = round(1/s.turn(), 3)
		}
	}
	g.Sampling = pattern.Default
	if k.NeedsCarrier() && g.Carrier == 0 && g.CarrierRatio == 0 {
		g.CarrierRatio = 21
	}
	if k.Compares() && g.Modulation == 0 {
		g.Modulation = math.Floor(100*k.Linear()) / 100
	}
	if k == pattern.PulsedLow && g.Duty == 0 {
		g.Duty = 0.5
	}
	if k == pattern.ByHand {
		g.Hand = s.drive.Now().Gates
	}
}

func (s *Show) scaleFrequency(factor float64) {
	switch g := s.drive.Scenario().Gating; {
	case g.Follow != drive.Clock:
		s.say("The gating follows the machine, and its frequency is the rotor's.")
		return
	case g.Frequency == 0:
		s.say("This scenario's gating has no frequency to change.")
		return
	}
	follows := false
	s.change(func(sc *drive.Scenario) {
		sc.Gating.Frequency = round(sc.Gating.Frequency*factor, 3)
		if follows = sc.Machine.Kind == motor.PermanentMagnet && !sc.Shaft.Free && sc.Shaft.Speed != 0; follows {
			// A held shaft that kept its speed would fall out of step with the field.
			sc.Shaft.Speed *= sc.Gating.Frequency / s.drive.Scenario().Gating.Frequency
		}
	}, func(sc *drive.Scenario) string {
		text := fmt.Sprintf("Frequency: %s Hz", number(sc.Gating.Frequency))
		if follows {
			text += fmt.Sprintf("; the held shaft goes along at %s rpm", number(sc.Shaft.Speed*30/math.Pi))
		}
		return text + "."
	})
}

func (s *Show) addModulation(by float64) {
	g := s.drive.Scenario().Gating
	if g.Follow != drive.Clock {
		s.say("The gating follows the machine and sets the modulation itself.")
		return
	}
	if !g.Kind.Compares() {
		s.say("The pattern " + g.Kind.String() + " has no modulation; press p for one with a carrier.")
		return
	}
	s.change(func(sc *drive.Scenario) {
		sc.Gating.Modulation = max(math.Round((sc.Gating.Modulation+by)*20)/20, 0)
	}, func(sc *drive.Scenario) string {
		text := fmt.Sprintf("Modulation: %.2f", sc.Gating.Modulation)
		if sc.Gating.Modulation > sc.Gating.Kind.Linear() {
			text += fmt.Sprintf(", beyond the %.3f up to which this pattern is linear", sc.Gating.Kind.Linear())
		}
		return text + "."
	})
}

func (s *Show) scaleSupply(factor float64) {
	s.change(func(sc *drive.Scenario) { sc.Supply.Voltage = round(sc.Supply.Voltage*factor, 3) },
		func(sc *drive.Scenario) string { return fmt.Sprintf("Supply: %s V.", number(sc.Supply.Voltage)) })
}

// turnScenario goes to the next scenario, or the previous, that can run.
func (s *Show) turnScenario(step int) {
	n := len(s.choices)
	var failed error
	for i := 1; i <= n; i++ {
		k := ((s.chosen+i*step)%n + n) % n
		if failed = s.choose(k); failed != nil {
			continue
		}
		s.tell(title(&s.choices[k]))
		return
	}
	s.say(sentence(failed))
}

// Point tells the show what the spectator points at.
func (s *Show) Point(at render.Part) {
	if at != s.hover {
		s.hover, s.rest, s.changed = at, 0, true
	}
}

// turnPart points at the next part of the stage, or the previous, and explains it.
func (s *Show) turnPart(step int) {
	if n := len(s.parts); n > 0 {
		k := slices.Index(s.parts, s.hover)
		if k < 0 && step < 0 {
			k = 0
		}
		s.hover, s.rest = s.parts[((k+step)%n+n)%n], pointsAtRest
	}
}

// Press does what pressing on a part of the stage does.
func (s *Show) Press(at render.Part) {
	s.letGo()
	if at.Kind != render.GatePart || at.Switch != inverter.Switch(s.forced-1) {
		s.forced = 0
	}
	if s.hover = at; at.Kind != render.Nowhere {
		s.rest, s.changed = pointsAtRest, true
	}
	if s.Hiding() && (at.Kind == render.WirePart || at.Kind == render.DevicePart || at.Kind == render.DiodePart) {
		s.probe(at)
		return
	}
	switch at.Kind {
	case render.GatePart:
		s.toggle(at.Switch)
	case render.DevicePart:
		s.turnDevice(at.Switch)
	case render.DiodePart:
		s.turnFault(drive.Fault{Kind: drive.DiodeOpen, Switch: at.Switch})
	case render.WirePart:
		s.turnFault(drive.Fault{Kind: drive.PhaseOpen, Phase: at.Phase})
	case render.CornerPart:
		if at.Corner >= 0 && at.Corner < len(inverter.Active) {
			s.hand(inverter.Active[at.Corner])
		}
	}
}

// Pressable reports whether pressing on a part does something.
func Pressable(at render.Part) bool {
	switch at.Kind {
	case render.GatePart, render.DevicePart, render.DiodePart, render.WirePart, render.CornerPart:
		return true
	}
	return false
}

// toggle switches a gate by hand; the interlock refuses to short the supply.
func (s *Show) toggle(sw inverter.Switch) {
	if held := (drive.Fault{Kind: drive.GateStuckOn, Switch: sw}); !s.Hiding() && s.has(&held) {
		s.turnFault(held)
		return
	}
	g := s.drive.Now().Gates
	if g.Has(sw) {
		s.hand(g.Without(sw))
		return
	}
	if g.With(sw).Shorts() {
		s.force(sw)
		return
	}
	s.hand(g.With(sw))
}

// force has the interlock explain itself, and at the second press in a row puts the gate on all the same.
func (s *Show) force(sw inverter.Switch) {
	if s.forced == 1+int(sw) {
		s.forced = 0
		if !s.keepsHidden() {
			s.turnFault(drive.Fault{Kind: drive.GateStuckOn, Switch: sw})
		}
		return
	}
	s.say(fmt.Sprintf("The interlock keeps %v off: with %v on as well, the leg would short the supply. "+
		"Switch %v off first. To see what happens press again, and this gate is held on all the same.", sw, sw.Other(), sw.Other()))
	s.forced = 1 + int(sw)
}

// hand takes the gates in hand.
func (s *Show) hand(g inverter.Gates) {
	s.change(func(sc *drive.Scenario) {
		s.setPattern(&sc.Gating, pattern.ByHand)
		sc.Gating.Hand = g
	}, func(*drive.Scenario) string {
		return fmt.Sprintf("By hand: on are %v. Press p to give the gates back to a pattern.", g)
	})
}

// lower returns a sentence as part of another.
func lower(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToLower(r)) + text[n:]
}

// round rounds to so many figures.
func round(x float64, figures int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', figures, 64), 64)
	if err != nil {
		return x
	}
	return y
}

// number returns x to three figures, without an exponent.
func number(x float64) string { return strconv.FormatFloat(round(x, 3), 'f', -1, 64) }

// sentence returns an error as a sentence.
func sentence(err error) string {
	return upper(strings.TrimSuffix(strings.TrimPrefix(err.Error(), "drive: "), ".")) + "."
}

func upper(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[n:]
}
