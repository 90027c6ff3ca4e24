package drive_test

import (
	"testing"

	"sextant/motor/drive"
	"sextant/motor/scenario"
)

// open returns a built-in scenario.
func open(t *testing.T, name string) drive.Scenario {
	t.Helper()
	s, err := scenario.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// start returns a drive of s.
func start(t *testing.T, s drive.Scenario) *drive.Drive {
	t.Helper()
	d, err := drive.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// advance carries d on.
func advance(t *testing.T, d *drive.Drive, dt float64) {
	t.Helper()
	if err := d.Advance(dt); err != nil {
		t.Fatal(err)
	}
}
