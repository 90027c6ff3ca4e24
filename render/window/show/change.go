package show

import (
	"slices"

	"sextant/render"
)

// Do grants a wish, other than those that are the window's.
func (s *Show) Do(w Wish) {
	s.changed = true
	named := s.naming
	s.naming = naming{} // whatever is wished for ends it
	defer s.fold(s.panel)
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
	if w >= firstLesson {
		s.playListed(int(w - firstLesson))
		return
	}
	if w >= firstFile {
		s.openFile(int(w - firstFile))
		return
	}
	switch w {
	case PlayPause:
		s.playing, s.still = !s.playing, false
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
	case Lessons:
		s.panel = other(s.panel, w)
	case NextLesson:
		s.turnLesson(1)
	case PreviousLesson:
		s.turnLesson(-1)
	case NextScene, PreviousScene:
		s.turnPage(w)
	case Notes:
		s.lecture.notes = !s.lecture.notes
	case Terms:
		s.lecture.terms = !s.lecture.terms
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
		s.save(named)
	case SaveAs:
		if !named.on {
			s.startNaming()
		}
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
		if s.panel == Lessons {
			s.moveListed(1)
			return
		}
		s.turnPart(1)
	case PreviousPart:
		if s.panel == Lessons {
			s.moveListed(-1)
			return
		}
		s.turnPart(-1)
	case PressPart:
		if s.panel == Lessons {
			s.playListed(s.lecture.listed)
			return
		}
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

// fold puts the rest of the buttons away once the panel that was looked for among them is open.
func (s *Show) fold(before Wish) {
	if s.panel != None && s.panel != before {
		s.more = false
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
