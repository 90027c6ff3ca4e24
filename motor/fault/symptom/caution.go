package symptom

import (
	"sextant/motor"
	"sextant/motor/drive"
)

func turnsMagnet(m motor.Machine) bool { return m.Kind != motor.Passive && m.FluxLinkage > 0 }

// atOnce says what to do at once where going on with a fault makes it worse or hurts.
func atOnce(k drive.FaultKind, m motor.Machine) []string {
	if !turnsMagnet(m) {
		return nil
	}
	switch k {
	case drive.SwitchShort, drive.GateStuckOn:
		return []string{"Stop the shaft, and do not reset the trip to try again: while the magnet turns it drives current through the shorted leg, with the supply off, too."}
	case drive.TurnsShorted:
		return []string{"Stop the shaft: the shorted turns heat for as long as the magnet turns, with the supply off, too."}
	case drive.PhaseOpen, drive.PhaseSwap, drive.PositionSensorStuck, drive.PositionSensorSwapped:
		return []string{"Do not keep trying to start: it hums and heats, and may start either way."}
	case drive.ShaftBlocked:
		return []string{"Take the command away at once: while the shaft stands, the same windings and switches carry all the current."}
	}
	return nil
}
