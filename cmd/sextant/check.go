package main

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"sextant/inverter/device"
	"sextant/inverter/file"
	"sextant/motor/drive"
)

// checkReport is what --json prints of one file.
type checkReport struct {
	File     string          `json:"file"`
	Title    string          `json:"title"`
	Findings []findingReport `json:"findings"`
}

type findingReport struct {
	File    string `json:"file"`
	Line    int    `json:"line"` // 0 where the whole file is meant
	Key     string `json:"key"`
	Problem string `json:"problem"`
}

func checkCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "check FILE",
		Short: "Say what is wrong with a file, line by line",
		Long: `Read a scenario, a machine or a device as the other commands would, and say all
that is wrong with it, one finding a line: FILE:LINE: KEY: what is wrong, what
is allowed.

FILE is a path, the name of something built in, or - for standard input.
The status is 0 when nothing is wrong and 2 when something is.`,
		Example:           "  sextant check hill.toml",
		Args:              oneFile,
		ValidArgsFunction: completeScenario,
		RunE: func(c *cobra.Command, args []string) error {
			found, data, err := readAny(c, args[0])
			title := ""
			if err == nil {
				title, err = titleOf(found, data)
			}
			var findings drive.Findings
			if err != nil && !errors.As(err, &findings) {
				return err
			}
			if asJSON {
				err = printJSON(c.OutOrStdout(), reportOf(args[0], title, findings))
			} else {
				err = printFindings(c.OutOrStdout(), args[0], findings)
			}
			if err == nil && len(findings) > 0 {
				return errShown
			}
			return err
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return cmd
}

// readAny returns what FILE holds, which may be the name of anything built in.
func readAny(c *cobra.Command, name string) (found string, data []byte, err error) {
	if slices.Contains(device.Names(), name) {
		return device.Find(name)
	}
	return readScenario(c, name)
}

// titleOf reads a file as what it is, and returns its title. An error is [file.Findings].
func titleOf(name string, data []byte) (string, error) {
	if d, wrong := file.Parse(name, data); wrong == nil && device.Is(d) {
		x, err := device.Load(name, data)
		return x.Name, err
	}
	return drive.Check(name, data)
}

func reportOf(file, title string, findings drive.Findings) checkReport {
	r := checkReport{File: file, Title: title, Findings: []findingReport{}}
	for _, f := range findings {
		r.Findings = append(r.Findings, findingReport{f.File, f.Line, f.Key, f.Err.Error()})
	}
	return r
}

func printFindings(w io.Writer, file string, findings drive.Findings) error {
	if len(findings) > 0 {
		_, err := fmt.Fprintln(w, findings)
		return err
	}
	_, err := fmt.Fprintf(w, "%s: nothing is wrong\n", file)
	return err
}
