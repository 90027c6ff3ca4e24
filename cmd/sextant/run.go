package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"

	"sextant/inverter/file"
	"sextant/inverter/pattern"
)

// The exit statuses, which scripts read.
const (
	done   = 0
	failed = 1 // the work
	wrong  = 2 // the command line or an input file
)

// run is the program: it does what args say and returns the exit status.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	began := false // whether the command line was understood
	root := rootCommand(&began)
	root.SetArgs(args)
	root.SetIn(stdin)
	out := &outlet{w: stdout}
	root.SetOut(out)
	root.SetErr(stderr)
	err := root.Execute()
	if err == nil && out.err != nil {
		complain(stderr, out.err)
		return failed
	}
	if err == nil {
		return done
	}
	complain(stderr, err)
	if !began || isInputError(err) {
		return wrong
	}
	return failed
}

// An outlet is standard output that keeps the first error: what could not be printed was not done, whoever printed
// it.
type outlet struct {
	w   io.Writer
	err error
}

func (o *outlet) Write(p []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.w.Write(p)
	o.err = err
	return n, err
}

// A usageError says that the command line asks for what cannot be.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

// usage returns a usageError.
func usage(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// errShown stands for findings that are on the screen already.
var errShown = usageError{errors.New("")}

// isInputError reports whether the command line or a file is to blame.
func isInputError(err error) bool {
	var findings file.Findings
	var asked usageError
	return errors.As(err, &findings) || errors.As(err, &asked)
}

// complain prints err, findings as they are and all else under the program's name, one a line, without control
// characters that a command line may hold, and without the midst of what is longer than anybody reads.
func complain(stderr io.Writer, err error) {
	var findings file.Findings
	switch {
	case errors.As(err, &findings):
		for _, f := range findings {
			fmt.Fprintln(stderr, short(f.Error()))
		}
	case err.Error() != "":
		plain := func(r rune) rune {
			if unicode.IsControl(r) {
				return ' '
			}
			return r
		}
		fmt.Fprintln(stderr, "sextant:", short(strings.Map(plain, err.Error())))
	}
}

// short returns the head and the tail of a long text: what it is about, and what is allowed.
func short(text string) string {
	const whole, end = 2000, 300 // runes
	r := []rune(text)
	if len(r) <= whole {
		return text
	}
	return string(r[:end]) + " ... " + string(r[len(r)-end:])
}

// flagError turns what is wrong with a setting into what is wrong with the flag of that name.
func flagError(err error) error {
	var setting *pattern.SettingError
	if errors.As(err, &setting) {
		return usage("--%s: %s", strings.ReplaceAll(setting.Key, "_", "-"), setting.Problem)
	}
	return usageError{err}
}
