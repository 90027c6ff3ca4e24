// Package filetest judges, for tests, how files are refused.
package filetest

import (
	"errors"
	"strings"
	"testing"

	"sextant/inverter/file"
)

// Refused fails a test unless err is findings, at least one, each with its line and on one line.
func Refused(tb testing.TB, err error) {
	tb.Helper()
	var findings file.Findings
	if !errors.As(err, &findings) || len(findings) == 0 {
		tb.Fatalf("%v is no list of findings", err)
	}
	for _, x := range findings {
		if x.Line < 1 || strings.ContainsAny(x.Error(), "\n\x00") {
			tb.Errorf("a finding without a line, or of many: %q", x.Error())
		}
	}
}
