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
	swap := "With the drive dead, change the clamps about between two phases and record again: a fault that moves with the clamp is the clamp's."
	leads := "With the drive dead and proved so, measure terminal to terminal: three readings alike within 2 to 5 %; a bad joint or an open winding shows in two of them (milliohms need a four-wire meter)."
	switch v.Fault {
	case Healthy:
		return []string{
			"Record again where the complaint shows: more load, another speed, motoring and generating. An open switch hardly shows while its diode carries the current, nor a bad joint while a current control evens it out.",
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
			"If the resistances are alike, compare the drive's own current sensors with a clamp: under current control a wrong gain there looks the same.",
		}
	case SensorOffset:
		steps := []string{
			"With no current flowing, note what each sensor reads: zero the clamps, and compare with what the drive itself shows.",
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
	return []string{
		"Record again: all three currents, five turns or more, 50 samples a turn or more, a range that the peaks fill by half, and as much load as is safe.",
		"Give --scenario with the drive's own data, so that its simulated faults can be compared.",
		swap,
		leads,
	}
}
