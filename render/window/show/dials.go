package show

import (
	"fmt"
	"math"

	"sextant/inverter/si"
	"sextant/motor"
	"sextant/motor/drive"
)

// dials returns a stepper for each quantity that can be changed while the drive runs.
func (s *Show) dials() [][]piece {
	sc := s.drive.Scenario()
	g := &sc.Gating
	const rpm = math.Pi / 30
	const width = 2.05
	dead := "none"
	if g.DeadTime > 0 {
		dead = si.Time.Format(g.DeadTime, 3)
	}
	groups := append(s.commands(),
		stepper(SupplyDown, SupplyUp, width, "supply", number(sc.Supply.Voltage)+" V"),
		stepper(CarrierDown, CarrierUp, width, "carrier", carrier(g)),
		stepper(DeadTimeDown, DeadTimeUp, width, "dead time", dead))
	switch {
	case sc.Machine.Kind == motor.Passive:
	case g.Follow == drive.Current && g.SpeedLoop:
		groups = append(groups, stepper(SpeedDown, SpeedUp, width, "asked speed", number(g.SpeedCommand/rpm)+" rpm"))
	case !sc.Shaft.Free:
		groups = append(groups, stepper(SpeedDown, SpeedUp, width, "held speed", number(sc.Shaft.Speed/rpm)+" rpm"))
	}
	if sc.Shaft.Free {
		groups = append(groups, stepper(LoadDown, LoadUp, width, "load torque", number(sc.Shaft.LoadTorque)+" N m"))
	}
	if g.Follow == drive.Current && !g.SpeedLoop {
		groups = append(groups, stepper(CommandDown, CommandUp, width, "asked iq", number(g.IQ)+" A"))
	}
	if g.Follow == drive.Current {
		groups = append(groups, stepper(FluxDown, FluxUp, width, "asked id", number(g.ID)+" A"))
	}
	if g.Follow == drive.Rotor {
		groups = append(groups, stepper(AdvanceDown, AdvanceUp, width, "advance", advance(g)))
	}
	if duty, name := dutyOf(g); duty != nil {
		groups = append(groups, stepper(DutyDown, DutyUp, width, name, fmt.Sprintf("%.0f %%", 100**duty)))
	}
	if sc.Machine.Kind != motor.Passive {
		groups = append(groups, stepper(RotorBack, RotorOn, width, "rotor by hand", s.handOnRotor(&sc)))
	}
	groups = append(groups, stepper(PreviousDevice, NextDevice, width, "device", bridge(&sc.Switches)))
	return append(groups,
		[]piece{{wish: MuchSlower, width: 1.1, text: "÷10"}, {width: 1.6, caption: "time scale", text: "by tens"}, {wish: MuchFaster, width: 1.1, text: "×10"}},
		[]piece{{wish: Dismiss, width: 2, text: "close"}})
}
