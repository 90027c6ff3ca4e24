package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"sextant/motor/fault/symptom"
	"sextant/render"
	"sextant/render/chart"
	"sextant/render/picture"
)

// charted is the chart of all faults, as JSON.
type charted struct {
	Title    string         `json:"title"`
	Cautions []string       `json:"cautions"`
	Signs    []symptom.Sign `json:"signs"`
	Faults   []chartedFault `json:"faults"`
}

type chartedFault struct {
	Fault  string             `json:"fault"`
	Value  *float64           `json:"value,omitempty"`
	Hidden string             `json:"hidden,omitempty"` // why it cannot show in this drive
	Share  map[string]float64 `json:"share"`            // by sign: in which part of states and severities it shows
}

// chartPage is a sheet of A4 across, in pixels of a 96th of an inch.
var chartPage = picture.Size{Width: 1123, Height: 794}

// all tells of all faults together.
func (s *symptoms) all(c *cobra.Command) error {
	kind := strings.ToLower(filepath.Ext(s.chart))
	var format picture.Format
	if s.chart != "" && kind != ".csv" && kind != ".html" {
		var err error
		if format, err = picture.FormatOf(s.chart); err != nil {
			return usage("--chart: %q tells no kind of file; end it in .csv, .html, .pdf, .svg or .png", s.chart)
		}
	}
	healthy, err := openScenario(c, s.scenario)
	if err != nil {
		return err
	}
	if err := writable(s.chart); err != nil {
		return err
	}
	all, err := symptom.NewChart(healthy)
	if err != nil {
		return s.blame(err)
	}
	if s.chart != "" {
		write := func(w io.Writer) error { return chartCSV(w, all) }
		sheet := sheetOf(all, symptom.Cautions(healthy.Machine))
		switch kind {
		case ".csv":
		case ".html":
			write = sheet.HTML
		default:
			write = func(w io.Writer) error {
				return picture.Paint(w, format, chartPage, sheet.Title, sheet.Draw)
			}
		}
		if err := writeAside(s.chart, write); err != nil {
			return err
		}
	}
	out := c.OutOrStdout()
	if !s.json {
		printChart(out, all, symptom.Cautions(healthy.Machine))
		return nil
	}
	r := charted{Title: all.Title, Cautions: symptom.Cautions(healthy.Machine), Signs: symptom.Signs}
	for _, row := range all.Rows {
		f := chartedFault{Fault: row.Fault, Value: row.Value, Hidden: row.Hidden, Share: map[string]float64{}}
		for i, x := range symptom.Signs {
			f.Share[x.Key] = row.Share[i]
		}
		r.Faults = append(r.Faults, f)
	}
	return printJSON(out, r)
}

// sheetOf returns the chart as it is printed.
func sheetOf(all *symptom.Chart, cautions []string) *chart.Sheet {
	s := &chart.Sheet{
		Title: "Signs of faults: " + all.Title, Lead: cautions, Letters: [2]string{"M", "G"}, Theme: render.Print,
		Legend: []string{
			"● always seen   ○ seen at some severities only   M seen motoring only   G seen generating only.   Each fault is at U or U+; at other places the signs move with it.",
			"Made from runs of the drive named above, an example: another drive, load or control has another table. Faults in brackets cannot show in this drive.",
		},
	}
	for i, x := range symptom.Signs {
		if i == 0 || x.When != symptom.Signs[i-1].When {
			s.Groups = append(s.Groups, chart.Group{Name: x.When.String()})
		}
		g := &s.Groups[len(s.Groups)-1]
		g.Columns = append(g.Columns, x.Text)
	}
	for _, r := range all.Rows {
		row := chart.Row{Name: r.Fault}
		if r.Hidden != "" {
			row.Name = "(" + r.Fault + ")"
		}
		if r.Value != nil {
			row.Note = severity(r.As)
		}
		for i := range symptom.Signs {
			row.Marks = append(row.Marks, markOf(&r, i))
		}
		s.Rows = append(s.Rows, row)
	}
	return s
}

// markOf returns the mark of a sign: what shows at the severity told, else that it can show at another.
func markOf(r *symptom.Row, sign int) chart.Mark {
	x := &symptom.Signs[sign]
	seen := x.Seen(r.Symptoms)
	switch {
	case r.Share[sign] == 0:
		return chart.Blank
	case seen == 0 || seen == 1 && r.Share[sign] < 1:
		return chart.Ring
	case seen == 1:
		return chart.Full
	case x.In(&r.States[0]):
		return chart.First
	}
	return chart.Second
}

// printChart lists for people which signs go with each fault.
func printChart(w io.Writer, all *symptom.Chart, cautions []string) {
	fmt.Fprintf(w, "Signs of faults: %s\n", all.Title)
	printPoints(w, "Before you act", cautions)
	fmt.Fprintln(w)
	for _, r := range all.Rows {
		var signs []string
		for i := range symptom.Signs {
			switch key := symptom.Signs[i].Key; markOf(&r, i) {
			case chart.Full:
				signs = append(signs, key)
			case chart.Ring:
				signs = append(signs, "("+key+")")
			case chart.First:
				signs = append(signs, key+" M")
			case chart.Second:
				signs = append(signs, key+" G")
			}
		}
		said := strings.Join(signs, ", ")
		switch {
		case r.Hidden != "":
			said = r.Hidden
		case signs == nil:
			said = "nothing that an ammeter, an ear or these checks could tell"
		}
		fmt.Fprintln(w, r.Fault)
		paragraph(w, "    ", said)
	}
	fmt.Fprintln(w)
	paragraph(w, "note    ", "in brackets what shows at some severities only; M motoring only, G generating only. \"sextant diagnose --signs list\" says what the signs mean.")
}

// chartCSV writes a row a fault: how often each sign shows, then the figures of its states.
func chartCSV(w io.Writer, all *symptom.Chart) error {
	out := csv.NewWriter(w)
	head := []string{"fault", "at", "value", "hidden"}
	for _, x := range symptom.Signs {
		head = append(head, x.Key)
	}
	states := []symptom.State{symptom.Motoring, symptom.Generating}
	for _, st := range states {
		for _, name := range []string{"u_rms_a", "v_rms_a", "w_rms_a", "mean_vector_a", "mean_vector_deg", "against_rotation_peak_a", "torque_mean_nm", "torque_ripple_nm", "torque_tone_hz", "torque_tone_nm", "supply_a", "link_v"} {
			head = append(head, st.String()+"_"+name)
		}
	}
	head = append(head, "dead_share_percent")
	rows := [][]string{head}
	for _, r := range all.Rows {
		value := ""
		if r.Value != nil {
			value = shortest(*r.Value)
		}
		cells := []string{r.Fault, r.At, value, r.Hidden}
		for _, share := range r.Share {
			cells = append(cells, shortest(math.Round(share*1e6)/1e6))
		}
		for _, st := range states {
			cells = append(cells, stateCells(r.Symptoms, st)...)
		}
		dead := ""
		if r.Start != nil {
			dead = shortest(100 * r.Start.Share())
		}
		rows = append(rows, append(cells, dead))
	}
	return out.WriteAll(rows)
}

// stateCells returns the figures of a state, empty where there is no such run.
func stateCells(x *symptom.Symptoms, st symptom.State) []string {
	for _, c := range x.States {
		if c.State != st || c.Failed != "" {
			continue
		}
		f := &c.Faulty
		var tone symptom.Tone
		if len(f.Tones) > 0 {
			tone = f.Tones[0]
		}
		var cells []string
		for _, v := range []float64{
			f.Phases[0].CurrentRMS, f.Phases[1].CurrentRMS, f.Phases[2].CurrentRMS, f.Mean, f.MeanAngle, f.Against,
			f.Torque, f.Ripple, tone.Frequency, tone.Peak, f.Link, f.LinkVolts,
		} {
			cells = append(cells, shortest(v))
		}
		return cells
	}
	return make([]string, 12)
}

func shortest(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
