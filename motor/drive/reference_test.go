package drive_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"sextant/motor/drive"
	"sextant/motor/scenario"
)

// The values are those of an independent general-purpose integrator, scipy.integrate.solve_ivp (DOP853, rtol
// 1e-12), on other equations: flux linkages for states, conduction by trying every combination, a delta as
// three windings, shorted turns as a coil of their own. circuit.py, windings.py and turns.py beside them made them
// from the same scenario files.
func TestAgainstAnIntegrator(t *testing.T) {
	files, err := filepath.Glob("../../testdata/drive/*.toml")
	if err != nil || len(files) < 20 {
		t.Fatalf("%d scenarios: %v", len(files), err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".toml")
		t.Run(name, func(t *testing.T) { compareWithFile(t, file) })
	}
}

// compareWithFile advances the scenario to each time of the file beside it and compares what is then.
func compareWithFile(t *testing.T, file string) {
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	s, err := scenario.Load(file, data)
	if err != nil {
		t.Fatal(err)
	}
	head, rows := readTable(t, strings.TrimSuffix(file, ".toml")+".csv")
	d, _ := drive.Watched(t, s)
	var ours [][]float64
	for _, row := range rows {
		advance(t, d, row[0]-d.Time())
		x := d.Now()
		ours = append(ours, []float64{row[0], x.Current[0], x.Current[1], x.Current[2], x.ID, x.IQ, x.Torque, x.Speed, x.Link, x.Turns})
	}
	drive.Balance(t, d)
	const turns = 9 // the column of the current in shorted turns, where there are any
	largest := 0.0
	for c, column := range head[1:] {
		most, worst, at := 0.0, 0.0, 0.0
		for n, row := range rows {
			size := math.Abs(row[c+1])
			if strings.HasSuffix(column, "_a") { // one scale for all currents
				size = max(math.Abs(row[1]), math.Abs(row[2]), math.Abs(row[3]))
				if len(row) > turns {
					size = max(size, math.Abs(row[turns]))
				}
			}
			most = max(most, size)
			if diff := math.Abs(ours[n][c+1] - row[c+1]); !(diff <= worst) {
				worst, at = diff, row[0]
			}
		}
		// The largest disagreement seen is 2.7e-9, where legs come to rest again and again.
		if !(worst <= 2e-8*most) {
			t.Errorf("%s: off by %.3g of %.3g at %g s", column, worst, most, at)
		}
		if most > 0 && worst/most > largest {
			largest = worst / most
		}
	}
	t.Logf("largest disagreement %.1e", largest)
}

// readTable reads a CSV file of numbers under a head of names.
func readTable(t *testing.T, file string) (head []string, rows [][]float64) {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil || len(records) < 20 {
		t.Fatalf("%s: %d lines: %v", file, len(records), err)
	}
	for _, record := range records[1:] {
		row := make([]float64, len(record))
		for i, text := range record {
			if row[i], err = strconv.ParseFloat(text, 64); err != nil {
				t.Fatal(err)
			}
		}
		rows = append(rows, row)
	}
	return records[0], rows
}
