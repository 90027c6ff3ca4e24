package device

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"sextant/inverter/file"
	"sextant/inverter/si"
	"sextant/inverter/slip"
)

// A sheet is a CSV file of digitised curves: columns temperature_c and current_a, in any order, with others
// of what is digitised; rows by rising temperature, and in each by rising current. A line that starts with
// # is a remark.
type sheet struct {
	file     string
	names    []string // of columns
	index    map[string]int
	groups   []group // at least one, of two rows at least, if there is no finding
	findings file.Findings
}

// A group is the rows of one temperature.
type group struct {
	temperature float64
	rows        []row
}

type row struct {
	line   int
	values []float64
}

func (g group) column(s *sheet, name string) []float64 {
	xs := make([]float64, len(g.rows))
	for i, r := range g.rows {
		xs[i] = r.values[s.index[name]]
	}
	return xs
}

func (s *sheet) report(line int, key string, err error) {
	s.findings = append(s.findings, &file.Finding{File: s.file, Line: line, Key: key, Err: err})
}

// readSheet reads a sheet with these columns besides temperature and current.
func readSheet(name string, data []byte, columns []string) *sheet {
	s := &sheet{file: name, index: map[string]int{}}
	columns = append([]string{"temperature_c", "current_a"}, columns...)
	in := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
	in.Comment, in.TrimLeadingSpace = '#', true
	head, err := in.Read()
	if errors.Is(err, io.EOF) {
		s.report(1, "", fmt.Errorf("is empty; give columns %s", strings.Join(columns, ", ")))
		return s
	}
	for err == nil && len(s.findings) == 0 {
		line, _ := in.FieldPos(0)
		if len(s.index) == 0 {
			s.head(line, head, columns)
		} else {
			s.row(line, head)
		}
		head, err = in.Read()
	}
	var at *csv.ParseError
	switch {
	case errors.As(err, &at):
		s.report(at.Line, "", at.Err)
	case len(s.findings) > 0:
	case len(s.groups) == 0:
		s.report(1, "", errors.New("has no rows; give two at least for each temperature"))
	}
	for _, g := range s.groups {
		if len(g.rows) < 2 && len(s.findings) == 0 {
			s.report(g.rows[0].line, "current_a", fmt.Errorf("there is one row at %s; a curve takes two at least", celsius(g.temperature)))
		}
	}
	return s
}

func (s *sheet) head(line int, names, columns []string) {
	for i, name := range names {
		name = strings.TrimSpace(name)
		switch _, twice := s.index[name]; {
		case twice:
			s.report(line, name, errors.New("stands twice; name each column once"))
		case !slices.Contains(columns, name):
			s.report(line, name, fmt.Errorf("no such column%s; allowed: %s", slip.Meant(name, columns), strings.Join(columns, ", ")))
		}
		s.index[name] = i
		s.names = append(s.names, name)
	}
	for _, c := range columns {
		if _, ok := s.index[c]; !ok && len(s.findings) == 0 {
			s.report(line, c, fmt.Errorf("is missing; columns are %s", strings.Join(columns, ", ")))
		}
	}
}

// row takes in one row; a finding ends the reading.
func (s *sheet) row(line int, cells []string) {
	r := row{line: line, values: make([]float64, len(cells))}
	for i, name := range s.names {
		x, err := strconv.ParseFloat(strings.TrimSpace(cells[i]), 64)
		if err != nil || math.IsNaN(x) || math.Abs(x) > 1e9 {
			s.report(line, name, fmt.Errorf("%q is not a number; give one like 120.5", cells[i]))
			return
		}
		r.values[i] = x
	}
	temperature, current := r.values[s.index["temperature_c"]], r.values[s.index["current_a"]]
	n := len(s.groups)
	switch {
	case temperature < coldest:
		s.report(line, "temperature_c", fmt.Errorf("%s is below absolute zero", celsius(temperature)))
	case current < 0:
		s.report(line, "current_a", fmt.Errorf("%g A is negative; give 0 or more", current))
	case n == 0 || temperature > s.groups[n-1].temperature:
		s.groups = append(s.groups, group{temperature, []row{r}})
	case temperature < s.groups[n-1].temperature:
		s.report(line, "temperature_c", fmt.Errorf("out of order, %s after %s; sort the rows by temperature, then by current", celsius(temperature), celsius(s.groups[n-1].temperature)))
	default:
		g := &s.groups[n-1]
		if before := g.rows[len(g.rows)-1].values[s.index["current_a"]]; current <= before {
			s.report(line, "current_a", fmt.Errorf("out of order, %g A after %g A; sort the rows by temperature, then by current", current, before))
			return
		}
		g.rows = append(g.rows, r)
	}
}

// rises reports where a curve falls, or stands still, or starts negative.
func (s *sheet) rises(g group, name string, y []float64, negative bool) {
	if negative {
		s.report(g.rows[0].line, name, fmt.Errorf("%g is negative; give 0 or more", y[0]))
		return
	}
	for i := 1; i < len(y); i++ {
		if y[i] <= y[i-1] {
			s.report(g.rows[i].line, name, fmt.Errorf("falls, %g after %g; it rises with current", y[i], y[i-1]))
			return
		}
	}
}

// covers reports a curve that leaves out much of the range up to the rated current.
func (s *sheet) covers(g group, x []float64, rated float64) {
	last := len(x) - 1
	switch {
	case rated <= 0: // which has its own finding
	case x[last] < rated:
		s.report(g.rows[last].line, "current_a", fmt.Errorf("the curve of %s ends at %g A, short of the device's %g A; digitise it up to there", celsius(g.temperature), x[last], rated))
	case x[0] > rated/4:
		s.report(g.rows[0].line, "current_a", fmt.Errorf("the curve of %s starts at %g A, beyond a quarter of the device's %g A; digitise it from below there", celsius(g.temperature), x[0], rated))
	}
}

// fit returns the curve through points that rise, else one that nobody will use: a finding says why.
func (s *sheet) fit(x, y []float64) curve {
	c, err := newCurve(x, y)
	if err != nil {
		s.report(s.groups[0].rows[0].line, "", err)
	}
	return c
}

func celsius(t float64) string { return si.Temperature.Text(t) }
