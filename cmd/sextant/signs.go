package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"sextant/motor/fault/symptom"
)

// signs is what somebody observed of a drive, without a capture.
type signs struct{ words []string }

// reasoned is what follows from observed signs.
type reasoned struct {
	Title    string             `json:"title"` // of the drive that the table of signs was made with
	Cautions []string           `json:"cautions"`
	Observed []observed         `json:"observed"`
	Ranked   []symptom.Suspect  `json:"ranked"`
	Next     []symptom.Question `json:"next"`
}

type observed struct {
	Sign string `json:"sign"`
	Seen bool   `json:"seen"`
}

func (s *signs) flag(cmd *cobra.Command) {
	cmd.Flags().StringSliceVar(&s.words, "signs", nil, "rank by `signs` observed, comma between, no- before one not seen; \"list\" shows all")
	words := []string{"list"}
	for _, x := range symptom.Signs {
		words = append(words, x.Key)
	}
	complete(cmd, "signs", words...)
}

// given reports whether signs take the place of a capture.
func (s *signs) given() bool { return s.words != nil }

// do ranks faults by the signs, by the table that the scenario's drive makes.
func (s *signs) do(c *cobra.Command, scenario string, json bool) error {
	out := c.OutOrStdout()
	if len(s.words) == 1 && s.words[0] == "list" {
		return listSigns(out)
	}
	seen, err := s.observations()
	if err != nil {
		return err
	}
	if scenario == "" {
		scenario = "hauler-climb"
	}
	healthy, err := openScenario(c, scenario)
	if err != nil {
		return err
	}
	chart, err := symptom.NewChart(healthy)
	if err != nil {
		return named(err, scenario)
	}
	r := reasoned{
		Title: chart.Title, Cautions: symptom.Cautions(healthy.Machine),
		Ranked: chart.Rank(seen), Next: chart.Next(seen),
	}
	for _, o := range seen {
		r.Observed = append(r.Observed, observed{o.Sign.Key, o.Seen})
	}
	if json {
		return printJSON(out, r)
	}
	printReasoned(out, r)
	return nil
}

func (s *signs) observations() ([]symptom.Observation, error) {
	var seen []symptom.Observation
	said := map[string]bool{}
	for _, word := range s.words {
		key, isNot := strings.CutPrefix(strings.TrimSpace(word), "no-")
		if key == "current" && isNot {
			key, isNot = "no-current", false // which is a sign itself
		}
		sign, err := symptom.FindSign(key)
		if err != nil {
			return nil, usage("--signs: %w", err)
		}
		if said[key] {
			return nil, usage("--signs: %s is given twice", key)
		}
		said[key] = true
		seen = append(seen, symptom.Observation{Sign: sign, Seen: !isNot})
	}
	if len(seen) == 0 {
		return nil, usage("--signs: give at least one; \"list\" shows all")
	}
	return seen, nil
}

func listSigns(w io.Writer) error {
	var when symptom.When
	for i, x := range symptom.Signs {
		if i == 0 || x.When != when {
			when = x.When
			fmt.Fprintf(w, "%v\n", when)
		}
		fmt.Fprintf(w, "  %-16s %s\n", x.Key, x.Text)
	}
	_, err := fmt.Fprintln(w, "\nPut no- before a sign that was looked for and not seen.")
	return err
}

// mostSuspects and mostQuestions are how many people are shown; --json has all.
const (
	mostSuspects  = 6
	mostQuestions = 5
)

func printReasoned(w io.Writer, r reasoned) {
	for _, caution := range r.Cautions {
		paragraph(w, "caution ", caution)
	}
	fmt.Fprintln(w, "\nsuspects, by the signs given")
	for _, x := range r.Ranked[:min(mostSuspects, len(r.Ranked))] {
		fmt.Fprintf(w, "%5.0f %%  %s\n", 100*x.Probability, x.Fault)
		if against := keysOf(x.Against); against != "" {
			paragraph(w, "         against it: ", against)
		}
	}
	fmt.Fprintln(w, "\nlook next, what tells most first")
	for i, q := range r.Next[:min(mostQuestions, len(r.Next))] {
		paragraph(w, fmt.Sprintf("%3d. ", i+1), fmt.Sprintf("%v: %s (if so %s, if not %s; tells %.2f bit)", q.When, q.Text, q.Yes, q.No, q.Bits))
	}
	fmt.Fprintln(w)
	paragraph(w, "note    ", fmt.Sprintf("the table of signs comes from runs of: %s; --scenario takes another drive, and \"sextant symptoms --all\" shows the table. "+
		"Each sign counts by itself, one in ten is taken to be a mistake, and all faults are equally likely beforehand. A question that halves the suspects tells 1 bit.", r.Title))
}

func keysOf(signs []symptom.Sign) string {
	var keys []string
	for _, s := range signs {
		keys = append(keys, s.Key)
	}
	return strings.Join(keys, ", ")
}
