package show

import (
	"fmt"
	"slices"

	"sextant/inverter/device"
	"sextant/motor/drive"
)

// ideal is the name of switches without drops.
const ideal = "ideal"

// bridge returns the name of what a scenario's switches are.
func bridge(w *drive.Switches) string {
	switch {
	case w.Device != nil:
		return w.Use
	case *w == (drive.Switches{}):
		return ideal
	}
	return "own drops"
}

// turnBridge puts the next device, or the previous, into the bridge: ideal switches, then all built in.
func (s *Show) turnBridge(step int) {
	names := append([]string{ideal}, device.Names()...)
	sc := s.drive.Scenario()
	n := len(names)
	k := slices.Index(names, bridge(&sc.Switches))
	if k < 0 && step < 0 {
		k = 0
	}
	k = ((k+step)%n + n) % n
	var put drive.Switches
	told := "The switches are ideal: they drop nothing."
	if k > 0 {
		d, err := device.Open(names[k])
		if err != nil {
			s.say(findings(err))
			return
		}
		put = drive.Switches{Use: names[k], Device: &d, Sink: device.UsualSink}
		told = fmt.Sprintf("In the bridge: %s. Rated %s V and %s A.", names[k], number(d.Voltage), number(d.Current))
		if d.Voltage < sc.Supply.Voltage {
			told += " That is too little for this supply: a real one would be destroyed."
		}
	}
	s.change(func(sc *drive.Scenario) { sc.Switches = put }, func(*drive.Scenario) string { return told })
}
