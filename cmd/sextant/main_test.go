package main

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"errors"
	"math"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) { testscript.Main(m, map[string]func(){"sextant": main}) }

// TestScripts runs the scripts in testdata/script, each a file of commands and what they must do.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status": status, "json": checkJSON, "narrow": narrowOutput, "csv": checkCSV,
		},
	})
}

// status N PROGRAM ARGS... runs a program, which must end with status N.
func status(ts *testscript.TestScript, neg bool, args []string) {
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want || neg {
		ts.Fatalf("status %d, want %d", got, want)
	}
}

// json PATH [WANT [TOLERANCE]] checks that the output is one JSON object and no more, with a value at the
// path, like switches.0.channel_mean_a.
func checkJSON(ts *testscript.TestScript, neg bool, args []string) {
	d := json.NewDecoder(strings.NewReader(ts.ReadFile("stdout")))
	var v any
	ts.Check(d.Decode(&v))
	if d.More() {
		ts.Fatalf("there is more than one JSON value")
	}
	if _, ok := v.(map[string]any); !ok {
		ts.Fatalf("the output is no object")
	}
	for _, key := range strings.Split(args[0], ".") {
		switch at := v.(type) {
		case map[string]any:
			var ok bool
			if v, ok = at[key]; !ok {
				ts.Fatalf("there is no %s of %s", key, args[0])
			}
		case []any:
			i, err := strconv.Atoi(key)
			ts.Check(err)
			if i >= len(at) {
				ts.Fatalf("there are only %d of %s", len(at), args[0])
			}
			v = at[i]
		default:
			ts.Fatalf("%v has no %s", v, key)
		}
	}
	if len(args) == 1 {
		return
	}
	x, ok := v.(float64)
	if !ok {
		if s, _ := json.Marshal(v); string(s) != args[1] {
			ts.Fatalf("%s is %s, want %s", args[0], s, args[1])
		}
		return
	}
	within(ts, args[0], x, args[1:])
}

// within checks x against a number and a tolerance.
func within(ts *testscript.TestScript, name string, x float64, args []string) {
	want, err := strconv.ParseFloat(args[0], 64)
	ts.Check(err)
	tolerance := 0.0
	if len(args) > 1 {
		tolerance, err = strconv.ParseFloat(args[1], 64)
		ts.Check(err)
	}
	if !(math.Abs(x-want) <= tolerance) {
		ts.Fatalf("%s is %v, want %v within %v", name, x, want, tolerance)
	}
}

// narrow checks that all lines of the output fit a terminal, and hold no control characters.
func narrowOutput(ts *testscript.TestScript, neg bool, args []string) {
	for _, name := range []string{"stdout", "stderr"} {
		for line := range strings.Lines(ts.ReadFile(name)) {
			line = strings.TrimSuffix(line, "\n")
			if n := utf8.RuneCountInString(line); n > columns || strings.ContainsAny(line, "\x1b\t\r") {
				ts.Fatalf("%d columns: %q", n, line)
			}
		}
	}
}

// csv FILE COLUMN least|most|first|last|mean WANT [TOLERANCE] checks a column of a file of waveforms, the mean being over time
// by trapezoids. csv FILE rows N checks that there are at least so many rows, all of them finite numbers.
func checkCSV(ts *testscript.TestScript, neg bool, args []string) {
	rows, err := csv.NewReader(bufio.NewReader(strings.NewReader(ts.ReadFile(args[0])))).ReadAll()
	ts.Check(err)
	head, rows := rows[0], rows[1:]
	column := func(name string) []float64 {
		for j, h := range head {
			if h != name {
				continue
			}
			xs := make([]float64, len(rows))
			for i := range rows {
				x, err := strconv.ParseFloat(rows[i][j], 64)
				if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
					ts.Fatalf("row %d: %s is %q", i+2, name, rows[i][j])
				}
				xs[i] = x
			}
			return xs
		}
		ts.Fatalf("there is no column %s", name)
		return nil
	}
	if args[1] == "rows" {
		for _, h := range head {
			column(h)
		}
		least, err := strconv.Atoi(args[2])
		ts.Check(err)
		if len(rows) < least {
			ts.Fatalf("%d rows, want %d at least", len(rows), least)
		}
		return
	}
	times, xs := column("time_s"), column(args[1])
	got := xs[0]
	integral := 0.0
	for i, x := range xs {
		switch args[2] {
		case "least":
			got = min(got, x)
		case "most":
			got = max(got, x)
		case "last":
			got = x
		case "mean":
			if i > 0 {
				if times[i] < times[i-1] {
					ts.Fatalf("row %d goes back in time", i+2)
				}
				integral += (times[i] - times[i-1]) * (xs[i] + xs[i-1]) / 2
				got = integral / (times[i] - times[0])
			}
		}
	}
	within(ts, args[2]+" "+args[1], got, args[3:])
}

func TestEveryBuiltInRuns(t *testing.T) {
	all, err := builtIn()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range all.Scenarios {
		var stdout, stderr strings.Builder
		if got := run([]string{"run", s.Name}, os.Stdin, &stdout, &stderr); got != done || stderr.Len() > 0 {
			t.Errorf("%s: status %d, %s", s.Name, got, stderr.String())
		}
		for line := range strings.Lines(stdout.String()) {
			if utf8.RuneCountInString(line) > columns+1 || strings.Contains(line, "NaN") || strings.Contains(line, "Inf") {
				t.Errorf("%s prints %q", s.Name, line)
			}
		}
	}
	for _, p := range slices.Concat(all.Patterns, all.Faults) {
		if p.Title == "" || strings.HasSuffix(p.Title, ": ") {
			t.Errorf("nothing is said about %s", p.Name)
		}
	}
}
