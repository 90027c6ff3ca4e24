package render

import (
	"math"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/motor"
	"sextant/motor/drive"
)

func TestSentence(t *testing.T) {
	const deg = math.Pi / 180
	on := inverter.On
	up, low, upD, lowD, idle := inverter.UpperChannel, inverter.LowerChannel, inverter.UpperDiode, inverter.LowerDiode, inverter.Idle
	load := &drive.Scenario{Machine: motor.Machine{Kind: motor.Passive}}
	for _, tt := range []struct {
		name string
		now  drive.Instant
		s    *drive.Scenario
		want string
	}{
		{"driving", drive.Instant{
			Gates: on(inverter.UHigh, inverter.VLow, inverter.WLow), Ways: [3]inverter.Way{up, low, low},
			Current: inverter.ABC{112, -56, -56}, Rotor: 296 * deg, Speed: 300, Torque: 96, Supply: 112, Power: drive.Power{Supply: 39200},
		}, nil, "U+ V- W- are on: 112 A enters at U and leaves at V and W; the field points to 0°, 64° ahead of the rotor: it pulls forward with 96.0 N m."},
		{"circulating", drive.Instant{
			Gates: inverter.AllLow, Ways: [3]inverter.Way{low, low, low},
			Current: inverter.ABC{-100, 50, 50}, Rotor: 90 * deg, Speed: 300, Torque: 85.7,
		}, nil, "All lower switches are on: 100 A circulates by the lower rail, in at V and W, out at U; the field points to 180°, 90° ahead of the rotor: it pulls forward with 85.7 N m."},
		{"generating by diodes", drive.Instant{
			Ways: [3]inverter.Way{lowD, upD, upD}, Current: inverter.ABC{60, -30, -30}, Rotor: 130 * deg, Speed: 800,
			Torque: -40, Supply: -60, Power: drive.Power{Supply: -21000},
		}, nil, "All switches are off: 60.0 A enters at U and leaves at V and W, all by diodes; 60.0 A flows back into the supply; the field points to 0°, 130° behind the rotor: it holds back with 40.0 N m, the shaft drives."},
		{"dead time", drive.Instant{
			Gates: on(inverter.UHigh, inverter.WLow), Ways: [3]inverter.Way{up, upD, low},
			Current: inverter.ABC{20, -10, -10}, Rotor: 270 * deg, Torque: 5,
		}, nil, "U+ W- are on: 20.0 A enters at U and leaves at V and W, at V by the upper diode; the field points to 0°, 90° ahead of the rotor: it pulls forward with 5.00 N m."},
		{"backwards", drive.Instant{
			Gates: on(inverter.UHigh, inverter.VLow), Ways: [3]inverter.Way{up, low, idle},
			Current: inverter.ABC{10, -10, 0}, Rotor: 60 * deg, Speed: -100, Torque: -5, Supply: 10, Power: drive.Power{Supply: 480},
		}, nil, "U+ V- are on: 10.0 A enters at U and leaves at V; the field points to 330°, 90° behind the rotor: it pulls backward with 5.00 N m."},
		{"coasting", drive.Instant{EMF: inverter.ABC{100, -50, -50}, Speed: 300}, nil,
			"All switches are off; no current flows, no torque, but the turning magnet still makes 100 V in a winding."},
		{"shorted turns", drive.Instant{EMF: inverter.ABC{100, -50, -50}, Speed: 300, Turns: -1200, Torque: -30}, nil,
			"All switches are off; no lead carries current; 1.20 kA circulates in the shorted turns: it holds back with 30.0 N m, the shaft drives."},
		{"at rest", drive.Instant{}, nil, "All switches are off; no current flows, no torque."},
		{"load at rest", drive.Instant{Gates: on(inverter.ULow)}, load, "Only U- is on; no current flows."},
		{"load", drive.Instant{
			Gates: on(inverter.UHigh, inverter.VHigh, inverter.WLow), Ways: [3]inverter.Way{up, up, low}, Current: inverter.ABC{1, 1, -2},
		}, load, "U+ V+ W- are on: 2.00 A enters at U and V and leaves at W; the field points to 60°."},
		{"shorted", drive.Instant{Gates: on(inverter.VHigh, inverter.VLow)}, nil,
			"Shoot-through: V+ and V- are both on and short the supply; no current flows, no torque."},
	} {
		if got := Sentence(&tt.now, tt.s); got != tt.want {
			t.Errorf("%s:\n got %s\nwant %s", tt.name, got, tt.want)
		}
	}
}

// Two lines of the stage hold about 190 characters of text; what is broken may take a third, which is then smaller.
func TestSentencesAreShort(t *testing.T) {
	for name, v := range views(t) {
		if name == "huge" || name == "tiny" || name == "lost" {
			continue
		}
		most := 200
		if v.Scenario != nil && len(v.Scenario.Faults) > 0 {
			most = 270
		}
		if s := Sentence(&v.Now, v.Scenario); len(s) > most || !strings.HasSuffix(s, ".") {
			t.Errorf("%s: %d bytes: %s", name, len(s), s)
		}
	}
}
