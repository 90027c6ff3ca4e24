package main

import "io"

// An answer is what a command found, in the three forms in which it may be asked for.
type answer struct {
	rows   func(io.Writer) error // CSV
	report func() any            // JSON
	text   func(io.Writer) error
}

// write writes rows to the file csv, if one is named, and then JSON or text to out; rows alone go to out
// where csv is "-".
func (a answer) write(out io.Writer, csv string, asJSON bool) error {
	switch csv {
	case "":
	case "-":
		return a.rows(out)
	default:
		if err := writeAside(csv, a.rows); err != nil {
			return err
		}
	}
	if asJSON {
		return printJSON(out, a.report())
	}
	return a.text(out)
}
