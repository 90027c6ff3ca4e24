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
