package drive

import "sextant/inverter/file"

// A Finding is one thing wrong with one line of an input file.
type Finding = file.Finding

// Findings is all that is wrong with a file, by line.
type Findings = file.Findings
