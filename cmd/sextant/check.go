package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter/device"
	"sextant/inverter/file"
	"sextant/motor/duty"
	"sextant/motor/fault/capture"
	"sextant/motor/scenario"
	"sextant/render/lesson"
)

// checkReport is what --json prints of one file.
type checkReport struct {
	File     string          `json:"file"`
	Title    string          `json:"title"`
	Findings []findingReport `json:"findings"`
	Doubts   []string        `json:"doubts,omitempty"` // what is allowed, but hard to believe
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
		Long: `Read a scenario, a machine, a device, a vehicle, a duty cycle, a lesson or a
recording of currents as the other commands would, and say all that is wrong
with it, one finding a line: FILE:LINE: KEY: what is wrong, what is allowed.

FILE is a path, the name of something built in, or - for standard input.
The status is 0 when nothing is wrong and 2 when something is.`,
		Example:           "  sextant check hill.toml",
		Args:              oneFile,
		ValidArgsFunction: completeScenario,
		RunE: func(c *cobra.Command, args []string) error {
			found, data, err := readAny(c, args[0])
			var r checkReport
			if err == nil {
				r.Title, r.Doubts, err = read(found, data)
			}
			var findings file.Findings
			if err != nil && !errors.As(err, &findings) {
				return err
			}
			if asJSON {
				r.File, r.Findings = args[0], reportsOf(findings)
				err = printJSON(c.OutOrStdout(), r)
			} else {
				err = printFindings(c.OutOrStdout(), args[0], findings, r.Doubts)
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
	switch {
	case slices.Contains(device.Names(), name):
		return device.Find(name)
	case slices.Contains(duty.Vehicles(), name) && !slices.Contains(scenario.Machines(), name):
		return duty.FindVehicle(name)
	case slices.Contains(duty.Cycles(), name), strings.HasSuffix(strings.ToLower(name), ".csv"):
		return duty.Find(name)
	case slices.Contains(lesson.Names(), name):
		return lesson.Find(name)
	}
	return readScenario(c, name)
}

// read reads a file as what it is, and returns its title and what is hard to believe of it. An error is
// [file.Findings].
func read(name string, data []byte) (title string, doubts []string, err error) {
	recording := strings.HasSuffix(strings.ToLower(name), ".csv")
	if recording || duty.Is(data) {
		c, unread := capture.Read(name, bytes.NewReader(data), capture.Options{})
		switch {
		case unread == nil:
			return fmt.Sprintf("recording of %d samples over %.6g s", c.Len(), c.Time[c.Len()-1]-c.Time[0]), c.Notes, nil
		case duty.Is(data):
			_, err = duty.Load(name, data)
			return "", nil, err
		}
		return "", nil, unread
	}
	d, wrong := file.Parse(name, data)
	switch {
	case wrong != nil:
	case device.Is(d):
		x, err := device.Load(name, data)
		if err != nil {
			return "", nil, err
		}
		return x.Name, x.Doubts(), nil
	case duty.IsVehicle(d):
		s, err := duty.LoadVehicle(name, data)
		return s.Title, nil, err
	case lesson.Is(d):
		x, err := lesson.Load(name, data)
		if err != nil {
			return "", nil, err
		}
		return x.Title, nil, nil
	}
	return scenario.Check(name, data)
}

func reportsOf(findings file.Findings) []findingReport {
	reports := []findingReport{}
	for _, f := range findings {
		reports = append(reports, findingReport{f.File, f.Line, f.Key, f.Err.Error()})
	}
	return reports
}

func printFindings(w io.Writer, file string, findings file.Findings, doubts []string) error {
	if len(findings) > 0 {
		_, err := fmt.Fprintln(w, findings)
		return err
	}
	for _, d := range doubts {
		fmt.Fprintf(w, "%s: doubtful: %s\n", file, d)
	}
	_, err := fmt.Fprintf(w, "%s: nothing is wrong\n", file)
	return err
}
