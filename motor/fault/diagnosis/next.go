package diagnosis

import "fmt"

// cautions come before anything that a person would do.
var cautions = []string{
	"This is reasoning from currents, not a proof. Work on a drive is for qualified persons, by local codes and the maker's procedure.",
	"Before touching terminals: disconnect, secure against re-closing, wait for the link to discharge, and prove it dead with a tester that is itself proved before and after.",
	"A turning magnet rotor makes voltage with everything switched off: block the shaft, or disconnect the machine.",
}

// next returns what to look at next, safest and easiest first: what needs no hand inside comes before what
// needs the drive dead, and readings before taking things apart.
func next(v verdict) []string {
	zero := "With no current flowing, note what each sensor reads: zero the clamps, and compare with what the drive itself shows."
	swap := "With the drive dead, change the clamps about between two phases and record again: a fault that moves with the clamp is the clamp's."
	leads := "With the drive dead and proved so, measure terminal to terminal: three readings alike within 2 to 5 %; a bad joint or an open winding shows in two of them (milliohms need a four-wire meter)."
	switch v.Fault {
	case Healthy:
		return []string{
			"Record again where the complaint shows: more load, another speed, motoring and generating. An open switch hardly shows while its diode carries the current, nor a bad joint while a current control evens it out.",
			"Record the direct part, too: with clamps for alternating current only, or inputs coupled for it, the mean by which an open switch is known is lost.",
			"If the drive hums or trips with such currents, look to position sensor, load, link voltage and supply.",
		}
	case SwitchOpen:
		s := switchOf(v.At)
		return []string{
			"Read the drive's own fault memory, and record once more while motoring under load, where an open switch shows best.",
			fmt.Sprintf("With the drive dead and proved so, check %v's gate lead, connector and driver supply against the other five: a dead gate drive looks the same as a broken switch.", s),
			fmt.Sprintf("With the motor leads off, diode check of all six, rail to phase: it finds a burnt or shorted %v, but a dead gate or channel passes it.", s),
			"If all that is good, compare gate waveforms by the maker's procedure, link at a safe low voltage.",
		}
	case SwitchShort:
		s := switchOf(v.At)
		return []string{
			"Stop the shaft: while the magnet turns it drives these currents and brakes, with the supply off, too; do not tow or coast.",
			"Do not reset the trip and try again: the next pulse may shoot through and burst what is left.",
			fmt.Sprintf("With the drive dead, the shaft blocked and the motor leads off, diode check of all six, rail to phase: a shorted %v reads about 0 V both ways.", s),
			fmt.Sprintf("If it does not, %v's gate is held on: check its driver, gate lead and driver supply by the maker's procedure.", s),
		}
	case PositionStuck:
		return []string{
			"Take the drive out of use: it may start the other way, or not at all.",
			fmt.Sprintf("With the link dead and the control's supply alone on, turn the shaft slowly by hand (its leads make voltage: keep off them) and watch the three sensor signals: that of %s does not change, while the others change twice a turn of the field.", v.At),
			fmt.Sprintf("Check the supply, plug and lead of sensor %s, its pull-up, then the sensor.", v.At),
		}
	case TurnsShorted:
		return []string{
			"Take the machine out of use: the shorted turns heat for as long as the magnet turns, with the supply off, too, and the damage spreads.",
			fmt.Sprintf("From outside and without touching, look with a thermal camera for one side of the winding warmer than the rest (phase %s).", v.At),
			"With the drive dead, the shaft blocked and the leads off, measure terminal to terminal with a four-wire meter: two readings lower than the third by the share of the shorted turns.",
			"With the leads off, drive the shaft slowly by other means and compare the three line voltages: the faulty phase makes less. A surge test by a workshop settles it.",
		}
	case DiodeOpen:
		return []string{
			fmt.Sprintf("With the drive dead and proved so and the motor leads off, diode check of all six, rail to phase: %s's reads open both ways.", v.At),
			"Do not run on: the current that this diode should take over makes a voltage that may break the switch beside it.",
		}
	case SupplySag:
		return []string{
			"Read the link voltage that the drive itself shows, under this load.",
			"Compare it with the battery's or the rectifier's; a difference is lost in contactor, fuse or cable, which then are warm.",
		}
	case CapacitorAged:
		return []string{
			"Look at the ripple of the link voltage with a probe made for that voltage, by the maker's procedure.",
			"With the drive dead and proved so, measure capacitance and series resistance, and look for bulged cans.",
		}
	case Demagnetised:
		return []string{
			"Compare the torque for a known current, or the voltage with open leads at a known speed, with the maker's figures.",
			"Ask what came before: great heat, or a short circuit at speed.",
		}
	case PositionOffset, PositionSwapped:
		return []string{
			"Ask what was changed: sensor, coupling, plug, parameters after a repair.",
			"With the drive dead and its control's supply alone on, turn the shaft slowly by hand (its leads make voltage: keep off them) and compare the order and the angle of the sensor's signals with the maker's drawing.",
			"Let the drive find its offset again by the maker's procedure, the shaft free.",
		}
	case ShaftBlocked:
		return []string{
			"Take the command away at once: one winding and two switches carry all the current while the shaft stands.",
			"With the drive dead and locked out, turn the shaft by hand: brake, gear, bearing, load.",
			"If it turns freely, see whether the position that the drive shows follows.",
		}
	case PhaseOpen:
		return []string{
			"Do not keep trying to start: with one phase open it hums, heats, and may start either way.",
			"Read the drive's fault memory: both gates of one leg blocked look the same as a wire that is off.",
			fmt.Sprintf("With the drive dead and proved so, follow phase %s: contactor, fuse, terminal, cable, connector; look for heat marks.", v.At),
			leads,
		}
	case PhaseResistance:
		return []string{
			"Look, from outside and without touching, for the warmest of the three terminals with a thermal camera, under load.",
			swap,
			fmt.Sprintf("With the drive dead and proved so, check the joints of phase %s: terminals, contactor, connector; tighten to the maker's torque.", v.At),
			leads,
			"Two readings low and one high is a sign of turns shorted within a winding, two high and one low of a bad joint.",
			"If the resistances are alike, compare the drive's own current sensors with a clamp: under current control a wrong gain there looks the same.",
		}
	case SensorOffset:
		steps := []string{
			zero,
			swap,
		}
		if len(v.ranked) > 0 && v.ranked[0].own {
			steps = append(steps, fmt.Sprintf("The clamps agree, so the current is real: let the drive learn its zero again, or check the supply and lead of its sensor of phase %s.", v.At))
		}
		return steps
	case SensorGain:
		return []string{
			fmt.Sprintf("Compare the sensor of phase %s with a second clamp on the same wire: range switch, jaws not shut, or a wire passed twice.", v.At),
			swap,
			"If it is the drive's own sensor, check its supply, burden and lead.",
		}
	}
	steps := []string{"Record again: all three currents, five turns or more, 50 samples a turn or more, a range that the peaks fill by half, and as much load as is safe."}
	if v.compared == nil {
		steps = append(steps, "Give --scenario with the drive's own data at this speed and command, so that its simulated faults can be compared.")
	}
	for _, x := range v.ranked[:min(2, len(v.ranked))] {
		if x.Fault == SensorOffset && v.err == nil {
			steps = append(steps, zero)
			break
		}
	}
	if v.still {
		steps = append([]string{"If the drive is commanded to turn, take the command away at once: one winding and two switches carry all the current while the field stands."}, steps...)
	}
	return append(steps, swap, leads)
}
