package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"sextant/motor/published"
)

// validation is what validate was asked for and what it found.
type validation struct {
	json, markdown, laws bool
	csv                  string

	answers  []published.Answer
	apart    int // how many do not agree
	runs     []lawful
	unlawful int // how many broke a law
}

func validateCommand() *cobra.Command {
	var v validation
	cmd := &cobra.Command{
		Use:   "validate",
		Short: "Check live against published figures",
		Long: `Calculate, here and now, figures that books and papers print or give formulas
for, and show ours beside them. Each has the source named, and agrees if it is
as close as the printing tells, or as close as is said beside it.

What a figure rests on is one of: printed, the source prints it; formula, the
source gives the formula, and the figure is what that comes to; computed,
another program works it out from the circuit or the equations of the source.
Places in the literature are recalled.

The machine of these figures is invented: 4 pole pairs, 20 mohm, Ld 0.2 mH, Lq
the same or 0.5 mH, 0.08 Wb.

With --laws all built-in scenarios run, too, and each is asked at all its
instants whether the laws of circuits hold and its energy is accounted for.

The exit status is 1 if a figure of ours is off or a law is broken.`,
		Example: `  sextant validate
  sextant validate --laws --json`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return v.do(c.OutOrStdout()) },
	}
	f := cmd.Flags()
	f.BoolVar(&v.json, "json", false, "print JSON")
	f.StringVar(&v.csv, "csv", "", "write the table to this CSV `file`; - is standard output")
	f.BoolVar(&v.laws, "laws", false, "also run all built-in scenarios under the laws of circuits")
	f.BoolVar(&v.markdown, "markdown", false, "print the table in Markdown")
	return cmd
}

// validationReport is what --json prints.
type validationReport struct {
	Agree  bool               `json:"agree"` // all of them
	Checks []published.Answer `json:"checks"`
	Runs   []lawful           `json:"runs,omitempty"` // with --laws
}

func (v *validation) do(out io.Writer) error {
	if v.json && v.markdown {
		return usage("--markdown: is another form of what --json prints; give one of them")
	}
	for _, c := range published.Checks() {
		a, err := c.Answer()
		if err != nil {
			return err
		}
		if !a.Agrees {
			v.apart++
		}
		v.answers = append(v.answers, a)
	}
	if v.laws {
		if err := v.judge(); err != nil {
			return err
		}
	}
	text := v.text
	if v.markdown {
		text = v.table
	}
	err := answer{
		rows:   v.rows,
		report: func() any { return validationReport{v.apart+v.unlawful == 0, v.answers, v.runs} },
		text:   text,
	}.write(out, v.csv, v.json)
	if err == nil && v.apart > 0 {
		err = fmt.Errorf("of %d figures %s", len(v.answers), v.verdict())
	}
	if err == nil && v.unlawful > 0 {
		err = fmt.Errorf("%d of %d runs break a law", v.unlawful, len(v.runs))
	}
	return err
}

// ours writes our figure with as many decimals as the published one has.
func ours(a *published.Answer) string { return fixed(a.Ours, a.Check.Decimals()) }

// verdict says how many figures are off.
func (v *validation) verdict() string {
	switch v.apart {
	case 0:
		return "all agree"
	case 1:
		return "1 is off, marked *"
	}
	return fmt.Sprintf("%d are off, marked *", v.apart)
}

// described says what a figure is of, with its unit.
func described(a *published.Answer) string {
	if a.Unit == "" {
		return a.Quantity
	}
	return a.Quantity + ", " + a.Unit
}

// apart writes the difference as a part of the published figure, in %.
func apart(a *published.Answer) string {
	return fixed(100*math.Abs(a.Difference/a.Published), 4) + " %"
}

// text prints the table for people, sources by number and listed below.
func (v *validation) text(w io.Writer) error {
	var sources []*published.Source
	field, at := "", ""
	for _, a := range v.answers {
		if a.Field != field {
			if field != "" {
				fmt.Fprintln(w)
			}
			field, at = a.Field, ""
			fmt.Fprintf(w, "%-52s %9s  %9s  from\n", field, "ours", "published")
		}
		k := slices.Index(sources, a.Check.Source)
		if k < 0 {
			k = len(sources)
			sources = append(sources, a.Check.Source)
		}
		mark := " "
		if !a.Agrees {
			mark = "*"
		}
		what := described(&a)
		if a.Case != at {
			at = a.Case
			what = at + ": " + what
		}
		fmt.Fprintf(w, "  %-50s %9s%s %9s  %c[%d]\n", what, ours(&a), mark, a.Check.Figure, a.Basis.String()[0], k+1)
	}
	if v.laws {
		v.printLaws(w)
	}
	fmt.Fprintln(w, "\nsources; p: printed there, f: by its formula, c: computed from its circuit or\nequations by another program")
	for k, s := range sources {
		paragraph(w, fmt.Sprintf("%4s ", "["+strconv.Itoa(k+1)+"]"), s.Title)
	}
	worst, which := 0.0, 0
	for i, a := range v.answers {
		if x := math.Abs(a.Difference) / a.Tolerance; x > worst {
			worst, which = x, i
		}
	}
	fmt.Fprintln(w)
	paragraph(w, "", fmt.Sprintf("%d figures, %s, as closely as each is published or as --json says why not; "+
		"nearest to its tolerance, at %.0f %% of it: %s, %s", len(v.answers), v.verdict(), 100*worst, v.answers[which].Case, v.answers[which].Quantity))
	return nil
}

// table prints the table in Markdown.
func (v *validation) table(w io.Writer) error {
	fmt.Fprintln(w, "| quantity | ours | published | difference | basis | source |\n|---|---:|---:|---:|---|---|")
	field := ""
	for _, a := range v.answers {
		if a.Field != field {
			field = a.Field
			fmt.Fprintf(w, "| **%s** | | | | | |\n", field)
		}
		if _, err := fmt.Fprintf(w, "| %s: %s | %s | %s | %s | %v | %s |\n", a.Case, described(&a), ours(&a), a.Check.Figure, apart(&a), a.Basis, a.Check.Source.Short); err != nil {
			return err
		}
	}
	return nil
}

// rows writes the table as CSV.
func (v *validation) rows(w io.Writer) error {
	c := csv.NewWriter(w)
	rows := [][]string{strings.Split("field,case,quantity,unit,ours,published,difference,tolerance,agrees,basis,source", ",")}
	number := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	for _, a := range v.answers {
		rows = append(rows, []string{a.Field, a.Case, a.Quantity, a.Unit, number(a.Ours), number(a.Published), number(a.Difference), number(a.Tolerance),
			strconv.FormatBool(a.Agrees), a.Basis.String(), a.Source})
	}
	return c.WriteAll(rows)
}
