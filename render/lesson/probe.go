package lesson

import (
	"fmt"
	"math"
	"strings"

	"sextant/inverter"
	"sextant/motor/drive"
	"sextant/motor/fault/symptom"
)

var probeNames = []string{"clamp", "torque", "ohmmeter", "diodes", "diagnose"}

// probes take a measurement of a drive that has been run, where it is to run again in no more strides than are left.
var probes = map[string]func(s *drive.Scenario, f figures, left *int) []string{
	"clamp":    clamp,
	"torque":   pull,
	"diagnose": judged,
	"ohmmeter": func(s *drive.Scenario, _ figures, _ *int) []string {
		return readings(s, func(says string) bool { return strings.HasPrefix(says, "Phase to phase") })
	},
	"diodes": func(s *drive.Scenario, _ figures, _ *int) []string {
		return readings(s, func(says string) bool { return strings.HasPrefix(says, "Diode test") })
	},
}

// faintest is the part of the largest current that a clamp meter still tells from none.
const faintest = 1e-3

// clamp tells what clamp meters read on the three leads.
func clamp(_ *drive.Scenario, f figures, _ *int) []string {
	figure := func(p inverter.Phase, of string) float64 { return f[fmt.Sprintf("phases.%v.current_%s_a", p, of)] }
	most := max(figure(inverter.U, "rms"), figure(inverter.V, "rms"), figure(inverter.W, "rms"))
	reads := func(p inverter.Phase, of string) string {
		x := figure(p, of)
		if math.Abs(x) < faintest*most {
			x = 0
		}
		return fmt.Sprintf("%v %s", p, written(x, "A"))
	}
	var rms, mean []string
	for _, p := range inverter.Phases {
		rms, mean = append(rms, reads(p, "rms")), append(mean, reads(p, "mean"))
	}
	return []string{"Running, clamp meter: rms " + strings.Join(rms, ", ") + "; mean " + strings.Join(mean, ", ") + "."}
}

// pull tells what the shaft feels.
func pull(_ *drive.Scenario, f figures, _ *int) []string {
	return []string{fmt.Sprintf("Running, at the shaft: %s in the mean, swinging by %s at %s; the supply gives %s.",
		written(f["machine.torque_mean_nm"], "N m"), written(f["machine.torque_ripple_nm"], "N m"),
		written(f["machine.speed_mean_rpm"], "rpm"), written(f["supply.current_mean_a"], "A"))}
}

// readings tells what de-energised meters read, of the drive's first fault.
func readings(s *drive.Scenario, which func(string) bool) []string {
	fault := drive.Fault{Kind: drive.PhaseResistance} // of none
	if len(s.Faults) > 0 {
		fault = s.Faults[0]
	}
	const off, on = ", motor leads off: ", ", motor leads on: "
	var says []string
	for _, line := range symptom.MeterOf(s, fault).Says {
		if !which(line) {
			continue
		}
		test, reads, _ := strings.Cut(line, on)
		if n := len(says); n > 0 && strings.HasSuffix(says[n-1], test+off+reads) { // one reading for both
			says[n-1] = strings.Replace(says[n-1], off, ", motor leads off or on: ", 1)
			continue
		}
		says = append(says, "Locked out, proved dead, shaft held. "+line)
	}
	return says
}
