package show

import (
	"fmt"
	"slices"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor/drive"
	"sextant/render"
)

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
			now := s.now()
			s.hand(render.Towards(&now, at.Corner))
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
