package duty_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"sextant/inverter/file"
	"sextant/inverter/file/filetest"
	"sextant/motor/duty"
)

// The same two rows, as programs of many lands write them.
func TestLoad(t *testing.T) {
	want := []duty.Row{{Time: 0, Speed: 100 * math.Pi, Torque: 57.5}, {Time: 0.5, Speed: 0, Torque: -12}}
	for _, text := range []string{
		"time_s,speed_rpm,torque_nm\n0,3000,57.5\n0.5,0,-12\n",
		"\ufefftime_s,speed_rpm,torque_nm\r\n0,3000,57.5\r\n0.5,0,-12\r\n",
		"# a remark\n\ntorque_nm, note, time_s, speed_rpm\n57.5, up, 0, 3e3\n# another\n-12, x, .5, 0",
		"time_s;speed_rpm;torque_nm\n0;3000;57,5\n0,5;0;-12\n",
		"time_s\tspeed_rpm\ttorque_nm\r\n0\t3000\t57,5\r\n0,5\t0\t-12\r\n",
		"\ufefftime_s\tspeed_rpm\ttorque_nm\tnote\n0\t3000\t57.5\t\n0.5\t0\t-12\tend\n",
		"time_s,speed_rad_s,torque_nm\n0,314.1592653589793,57.5\n0.5,0,-12\n",
		"\"time_s\",\"speed_rpm\",\"torque_nm\"\n0,3000,57.5\n\"0.5\",0,-12\n",
	} {
		c, err := duty.Load("c.csv", []byte(text))
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if c.Road || len(c.Rows) != 2 || c.Rows[0] != want[0] || c.Rows[1] != want[1] {
			t.Errorf("%q: %+v", text, c)
		}
	}
	c, err := duty.Load("c.csv", []byte("time_s,grade_percent,road_speed_km_h\n0,5,36\n1,-5,0\n"))
	if err != nil || !c.Road || c.Rows[0] != (duty.Row{Speed: 10, Grade: 0.05}) || c.Rows[1].Grade != -0.05 {
		t.Errorf("%+v, %v", c, err)
	}
}

func TestLoadFindings(t *testing.T) {
	const head = "time_s,speed_rpm,torque_nm\n"
	for _, tt := range []struct{ text, want string }{
		{"", "c.csv:1: is empty; name the columns"},
		{"# nothing\n", "c.csv:1: is empty"},
		{head, "c.csv:1: a cycle has two rows at least; here they are 0"},
		{head + "0,1,2\n", "c.csv:1: a cycle has two rows at least; here they are 1"},
		{head + "0,1,2\n1,2\n", "c.csv:3: 2 cells in this row; the line of names has 3"},
		{head + "0,1,2\n1,2,3,4\n2,3,4\n", "c.csv:3: 4 cells"},
		{head + "0,1,2\n1,fast,3\n", "c.csv:3: speed_rpm: \"fast\" is not a number"},
		{head + "0,1,2\n1,2,NaN\n", "c.csv:3: torque_nm: \"NaN\" is not a number"},
		{head + "0,1,2\n1,2,inf\n", "c.csv:3: torque_nm: \"inf\" is not a number"},
		{head + "0,1,2\n1,2,\n", "c.csv:3: torque_nm: \"\" is not a number"},
		{head + "0,1,2\n1,2,1e300\n", "c.csv:3: torque_nm: 1e+300 is out of range"},
		{head + "0,1,2\n0,2,3\n", "c.csv:3: time_s: 0 s after 0 s; give times that rise"},
		{head + "# remark\n\n5,1,2\n4,2,3\n", "c.csv:5: time_s: 4 s after 5 s"},
		{head + "0,1,\"2\n", "c.csv:2: "},
		{"time_s,speed_rpm\n0,1\n", "c.csv:1: torque_nm: is missing; give torque_nm"},
		{"time_s,speed_rpm,torqe_nm\n0,1,2\n", "c.csv:1: torque_nm: is missing; there is \"torqe_nm\"; did you mean torque_nm?"},
		{"time_s,grade_percent\n0,1\n", "c.csv:1: road_speed_km_h: is missing; give road_speed_km_h or road_speed_m_s"},
		{"time_s,speed_rpm,grade_percent\n0,1,2\n", "c.csv:1: has columns of a machine and of a road"},
		{"time_s,time_s,speed_rpm,torque_nm\n0,0,1,2\n", "c.csv:1: time_s: stands twice"},
		{"time_s,speed_rpm,speed_rad_s,torque_nm\n0,1,1,2\n", "c.csv:1: speed_rad_s: says again what speed_rpm says"},
		{"\x00\x01\x02", "c.csv:1: "},
	} {
		_, err := duty.Load("c.csv", []byte(tt.text))
		var findings file.Findings
		if !errors.As(err, &findings) || !strings.HasPrefix(err.Error(), tt.want) {
			t.Errorf("%q: %v, want %s", tt.text, err, tt.want)
		}
	}
}

// Much that is wrong is said, but not without end.
func TestLoadFindingsEnd(t *testing.T) {
	_, err := duty.Load("c.csv", []byte("time_s,speed_rpm,torque_nm\n"+strings.Repeat("0,x,1\n", 10_000)))
	if n := strings.Count(err.Error(), "\n"); n < 10 || n > 50 {
		t.Errorf("%d findings", n+1)
	}
}

func TestLoadVehicleFindings(t *testing.T) {
	const vehicle = "[vehicle]\nmass = 1000\nrolling = 0.01\ndrag_area = 2\nwheel_radius = 0.3\ngear = 10\n"
	if s, err := duty.LoadVehicle("v.toml", []byte(vehicle)); err != nil || s.Vehicle.AirDensity != 1.2 || s.Drive.Sink != 65 {
		t.Errorf("%+v, %v", s, err)
	}
	for _, tt := range []struct{ text, want string }{
		{"", "v.toml:1: vehicle: section [vehicle] is missing"},
		{"[vehicle", "v.toml:1: "},
		{"vehicle = 3\n", "v.toml:1: vehicle: is a section"},
		{"title = 4\n" + vehicle, "v.toml:1: title: 4 is not text"},
		{strings.Replace(vehicle, "mass = 1000", "mass = \"1000 m\"", 1), "v.toml:2: vehicle.mass: \"1000 m\" is not a mass; give kilograms"},
		{strings.Replace(vehicle, "mass = 1000", "mass = -1", 1), "v.toml:2: vehicle.mass: -1 kg is out of range"},
		{strings.Replace(vehicle, "gear = 10\n", "", 1), "v.toml:1: vehicle.gear: is missing; give turns"},
		{strings.Replace(vehicle, "gear", "gaer", 1), "v.toml:6: vehicle.gaer: no such key; did you mean gear?"},
		{vehicle + "[battery]\ncapacity = \"10 kWh\"\n", "v.toml:7: battery.charge: is missing"},
		{vehicle + "[battery]\ncapacity = \"10 kWh\"\ncharge = \"120 %\"\n", "v.toml:9: battery.charge: 1.2 is out of range; give 0 to 1"},
		{vehicle + "[drive]\npattern = \"space-vectors\"\n", "v.toml:8: drive.pattern: \"space-vectors\" is not"},
		{vehicle + "[drive]\ndevices = \"sic-750\"\n", "v.toml:8: drive.devices: \"sic-750\" is not a list"},
		{vehicle + "[driver]\n", "v.toml:7: driver: no such key; did you mean drive?"},
	} {
		_, err := duty.LoadVehicle("v.toml", []byte(tt.text))
		if err == nil || !strings.HasPrefix(err.Error(), tt.want) {
			t.Errorf("%q: %v, want %s", tt.text, err, tt.want)
		}
	}
}

func TestOpen(t *testing.T) {
	for _, name := range duty.Cycles() {
		if c, err := duty.Open(name); err != nil || c.Duration() <= 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, name := range duty.Vehicles() {
		if s, err := duty.OpenVehicle(name); err != nil || s.Title == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, name := range []string{"hillsides", "no/such.csv", t.TempDir() + "/."} {
		_, err := duty.Open(name)
		if err == nil || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := duty.Open("hillsides"); !strings.Contains(err.Error(), "did you mean hillside?") {
		t.Error(err)
	}
}

// Whatever a file holds, it is a cycle whose times rise and whose numbers are finite, or findings with lines.
func FuzzLoad(f *testing.F) {
	for _, seed := range []string{
		"time_s,speed_rpm,torque_nm\n0,3000,57.5\n0.5,0,-12\n",
		"\ufefftime_s;road_speed_m_s;grade_percent\r\n0;1,5;2\r\n1;2;3\r\n",
		"# x\ntime_s,speed_rad_s,torque_nm\n0,1,2\n-1,1,2\n", "a,b\n\"", "time_s,speed_rpm,torque_nm\n0,1e999,NaN\n", ",,,\n,,,",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := duty.Load("f.csv", data)
		if err != nil {
			filetest.Refused(t, err)
			return
		}
		for i, r := range c.Rows {
			if s := r.Time + r.Speed + r.Torque + r.Grade; math.IsNaN(s) || math.IsInf(s, 0) || i > 0 && r.Time <= c.Rows[i-1].Time {
				t.Fatalf("row %d: %+v", i, r)
			}
		}
	})
}
