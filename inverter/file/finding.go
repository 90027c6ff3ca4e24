// Package file reads the files of a drive, scenarios, machines and devices: TOML whose every mistake is
// found with its line, and the built-in files whose names stand for them.
package file

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// A Finding is one thing wrong with one line of an input file.
type Finding struct {
	File string
	Line int    // from 1; 0 where the whole file is meant
	Key  string // dotted, like "gating.carrier"; may be empty
	Err  error  // what is wrong, and what would be right
}

// Error returns FILE:LINE: KEY: what is wrong, what is allowed; on one line.
func (f *Finding) Error() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d", f.Line)
	}
	if b.Len() > 0 && f.Key != "" {
		b.WriteString(": ")
	}
	b.WriteString(f.Key)
	b.WriteString(": " + f.Err.Error())
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' ' // a file's text may hold line ends and terminal commands
		}
		return r
	}, b.String())
}

// Unwrap returns what is wrong.
func (f *Finding) Unwrap() error { return f.Err }

// Findings is all that is wrong with a file, by line. It is an error; it is never empty when returned
// as one.
type Findings []*Finding

// Error returns the findings, one a line.
func (f Findings) Error() string {
	lines := make([]string, len(f))
	for i, finding := range f {
		lines[i] = finding.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap returns the findings one by one.
func (f Findings) Unwrap() []error {
	errs := make([]error, len(f))
	for i, finding := range f {
		errs[i] = finding
	}
	return errs
}

// Sorted returns the findings by file in order of appearance, then by line; f stays as it is.
func (f Findings) Sorted() Findings {
	order := map[string]int{}
	for _, x := range f {
		if _, ok := order[x.File]; !ok {
			order[x.File] = len(order)
		}
	}
	f = slices.Clone(f)
	slices.SortStableFunc(f, func(a, b *Finding) int {
		if d := order[a.File] - order[b.File]; d != 0 {
			return d
		}
		return a.Line - b.Line
	})
	return f
}
