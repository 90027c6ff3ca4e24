package main

import (
	"fmt"
	"io"

	"sextant/motor/drive"
	"sextant/motor/scenario"
)

// A lawful is what became of a built-in scenario that ran under the laws of circuits.
type lawful struct {
	Scenario string   `json:"scenario"`
	Events   int      `json:"events"`
	Instants int      `json:"instants"` // looked at
	Residual float64  `json:"residual_j"`
	Supplied float64  `json:"supplied_j"`
	Broken   []string `json:"broken"` // a line each; empty where all is well
}

// judge runs all built-in scenarios under the laws.
func (v *validation) judge() error {
	for _, name := range scenario.Names() {
		s, err := scenario.Open(name)
		if err != nil {
			return err
		}
		law := drive.NewLaw(&s)
		sum, err := drive.Simulation{Scenario: s, Settling: []drive.Observer{law}, Window: []drive.Observer{law}}.Run()
		if err != nil {
			return named(err, name)
		}
		law.Sums(&sum)
		r := lawful{name, sum.Events, law.Instants(), sum.Energy.Residual, sum.Energy.Supplied, []string{}}
		r.Broken = append(r.Broken, law.Broken()...)
		if len(r.Broken) > 0 {
			v.unlawful++
		}
		v.runs = append(v.runs, r)
	}
	return nil
}

// printLaws says for people what judge found.
func (v *validation) printLaws(w io.Writer) {
	fmt.Fprintln(w, "\nruns under the laws of circuits           events  instants  energy missing, J")
	for _, r := range v.runs {
		fmt.Fprintf(w, "  %-36s %9d %9d  %17.1e\n", r.Scenario, r.Events, r.Instants, r.Residual)
		for _, text := range r.Broken {
			paragraph(w, "    ", text)
		}
	}
	fmt.Fprintln(w)
	paragraph(w, "", "At each instant: currents sum to zero, no pole stands beyond the rails and its drops, each current runs where it can, power and energy add up, "+
		"time runs forward, numbers are numbers; of the whole: no more comes out than went in, no heat below zero, no junction colder than its sink.")
}
