// Sextant-window shows the moving picture: an inverter's switches, its machine, and the waveforms of both,
// in a window of its own or, compiled for it, in the browser.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run shows the picture and returns the exit status: 2 where the command line or a file is wrong, 1 where
// the window fails.
func run(args []string, stdout, stderr io.Writer) int {
	cmd := windowCommand()
	cmd.SetArgs(args)
	cmd.SetOut(stdout)
	cmd.SetErr(stderr)
	if err := cmd.Execute(); err != nil {
		fmt.Fprintln(stderr, err)
		if errors.As(err, new(failure)) {
			return 1
		}
		return 2
	}
	return 0
}
