package lesson

import (
	"encoding/csv"
	"io"
)

// A Result is one answer that was given.
type Result struct {
	Lesson, Scene, Question string
	Verdict
}

// Results returns all answers given so far, in order.
func (p *Player) Results() []Result { return p.results }

// WriteResults writes results as CSV, with a head, for a teacher.
func WriteResults(w io.Writer, results []Result) error {
	rows := [][]string{{"lesson", "scene", "question", "answer", "correct", "right"}}
	for _, r := range results {
		right := "no"
		if r.Right {
			right = "yes"
		}
		rows = append(rows, []string{r.Lesson, r.Scene, r.Question, r.Answer, r.Correct, right})
	}
	return csv.NewWriter(w).WriteAll(rows)
}
