package main

import (
	"flag"
	"os"
	"strings"
	"testing"
)

var renew = flag.Bool("renew", false, "write the README's table of validate anew")

// The README's table is what validate prints.
func TestReadmeTable(t *testing.T) {
	const file, begin, end = "../../README.md", "<!-- validate -->\n", "<!-- /validate -->"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(data), begin)
	table, after, closed := strings.Cut(rest, end)
	if !ok || !closed {
		t.Fatal("the README has no place for the table")
	}
	var stdout, stderr strings.Builder
	if got := run([]string{"validate", "--markdown"}, os.Stdin, &stdout, &stderr); got != done {
		t.Fatalf("status %d: %s", got, stderr.String())
	}
	if want := "\n" + stdout.String() + "\n"; table != want {
		if *renew {
			err = os.WriteFile(file, []byte(before+begin+want+end+after), 0o644)
		}
		if !*renew || err != nil {
			t.Errorf("the README's table is another than that of validate; renew it by go test ./cmd/sextant -run TestReadmeTable -renew (%v)", err)
		}
	}
}

// A figure that is off is marked and said, and the status is that of work that failed.
func TestValidateOff(t *testing.T) {
	v := validation{}
	var out strings.Builder
	if err := v.do(&out); err != nil {
		t.Fatal(err)
	}
	v.answers[3].Agrees, v.apart = false, 1
	out.Reset()
	if err := v.text(&out); err != nil || strings.Count(out.String(), "*") != 2 || !strings.Contains(out.String(), "1 is off, marked *") {
		t.Errorf("%v\n%s", err, out.String())
	}
}

// Every built-in scenario keeps the laws, and the report says so.
func TestValidateLaws(t *testing.T) {
	var v validation
	if err := v.judge(); err != nil {
		t.Fatal(err)
	}
	if len(v.runs) < 20 || v.unlawful > 0 {
		t.Errorf("%d runs, %d unlawful", len(v.runs), v.unlawful)
	}
	for _, r := range v.runs {
		if len(r.Broken) > 0 || r.Instants == 0 {
			t.Errorf("%+v", r)
		}
	}
	v.runs[0].Broken = []string{"at 0 s: currents sum to 1 A"}
	var out strings.Builder
	if v.printLaws(&out); !strings.Contains(out.String(), "\n    at 0 s: currents sum to 1 A\n") {
		t.Errorf("a breach is not told:\n%s", out.String())
	}
}
