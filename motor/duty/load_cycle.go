package duty

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
	"sextant/inverter/slip"
)

// A column is one that a cycle may have.
type column struct {
	name  string
	scale float64 // to SI
	most  float64 // greatest size, as the file has it
	into  func(*Row) *float64
}

var (
	timeColumn  = column{"time_s", 1, 1e9, func(r *Row) *float64 { return &r.Time }}
	wheelSpeeds = []column{
		{"road_speed_km_h", 1 / 3.6, 1000, func(r *Row) *float64 { return &r.Speed }},
		{"road_speed_m_s", 1, 300, func(r *Row) *float64 { return &r.Speed }},
	}
	shaftSpeeds = []column{
		{"speed_rpm", math.Pi / 30, 1e6, func(r *Row) *float64 { return &r.Speed }},
		{"speed_rad_s", 1, 1e5, func(r *Row) *float64 { return &r.Speed }},
	}
	gradeColumn  = column{"grade_percent", 0.01, 100, func(r *Row) *float64 { return &r.Grade }}
	torqueColumn = column{"torque_nm", 1, 1e6, func(r *Row) *float64 { return &r.Torque }}
)

// mostFindings bounds what is said about one file.
const mostFindings = 20

// Load reads a cycle from CSV. An error is [file.Findings], each with its line.
//
// The first line names the columns, in any order: time_s; speed_rpm or speed_rad_s, and torque_nm; or else
// road_speed_km_h or road_speed_m_s, and grade_percent. Others are allowed and ignored, a line that starts with
// # is a remark, and where semicolons or tabs separate, numbers may have decimal commas.
func Load(name string, data []byte) (Cycle, error) {
	l := loader{file: name}
	data = file.Text(data)
	in := csv.NewReader(bytes.NewReader(data))
	in.Comment, in.TrimLeadingSpace, in.ReuseRecord = '#', true, true
	switch first := head(data); {
	case bytes.Contains(first, []byte(";")):
		in.Comma, l.commas = ';', true
	case bytes.Contains(first, []byte("\t")):
		in.Comma, l.commas, in.TrimLeadingSpace = '\t', true, false // a tab is a space, too
	}
	for len(l.findings) < mostFindings {
		cells, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var at *csv.ParseError
		switch {
		case errors.Is(err, csv.ErrFieldCount):
			errors.As(err, &at)
			l.report(at.Line, "", "%d cells in this row; the line of names has %d", len(cells), in.FieldsPerRecord)
			continue
		case errors.As(err, &at):
			l.report(at.Line, "", "%v; give plain cells, without quotes", at.Err)
		case err != nil:
			l.report(1, "", "%v", err)
		}
		if err != nil {
			return Cycle{}, l.findings
		}
		line, _ := in.FieldPos(0)
		switch {
		case l.columns == nil:
			if !l.head(line, cells) {
				return Cycle{}, l.findings
			}
		default:
			l.row(line, cells)
		}
	}
	switch {
	case len(l.findings) > 0:
	case l.columns == nil:
		l.report(1, "", "is empty; name the columns in its first line: time_s,speed_rpm,torque_nm or time_s,road_speed_km_h,grade_percent")
	case len(l.cycle.Rows) < 2:
		l.report(1, "", "a cycle has two rows at least; here they are %d", len(l.cycle.Rows))
	}
	if len(l.findings) > 0 {
		return Cycle{}, l.findings
	}
	return l.cycle, nil
}

// Is reports whether the first line of a CSV file names a column that cycles have besides time.
func Is(data []byte) bool {
	line := string(head(file.Text(data)))
	for _, c := range slices.Concat(wheelSpeeds, shaftSpeeds, []column{gradeColumn, torqueColumn}) {
		if strings.Contains(line, c.name) {
			return true
		}
	}
	return false
}

// head returns the line of names.
func head(data []byte) []byte {
	for line := range bytes.Lines(data) {
		if line = bytes.TrimSpace(line); len(line) > 0 && line[0] != '#' {
			return line
		}
	}
	return nil
}

// loader gathers a cycle, and what is wrong with its file.
type loader struct {
	file     string
	commas   bool     // numbers may have decimal commas
	columns  []column // those used
	places   []int    // of columns, in a row
	cycle    Cycle
	findings file.Findings
}

func (l *loader) report(line int, key, format string, args ...any) {
	l.findings = append(l.findings, &file.Finding{File: l.file, Line: line, Key: key, Err: fmt.Errorf(format, args...)})
}

// head reads the names of columns, and reports whether they are enough.
func (l *loader) head(line int, names []string) bool {
	place := map[string]int{}
	for i, name := range names {
		name = strings.TrimSpace(name)
		if _, twice := place[name]; twice && name != "" {
			l.report(line, name, "stands twice; name each column once")
		}
		place[name] = i
	}
	has := func(of ...column) bool {
		return slices.ContainsFunc(of, func(c column) bool { _, ok := place[c.name]; return ok })
	}
	need := func(of ...column) {
		given := slices.DeleteFunc(slices.Clone(of), func(c column) bool { return !has(c) })
		switch len(given) {
		case 0:
			l.missing(line, names, of)
		case 1:
			l.columns, l.places = append(l.columns, given[0]), append(l.places, place[given[0].name])
		default:
			l.report(line, given[1].name, "says again what %s says; give one or the other", given[0].name)
		}
	}
	road, shaft := has(gradeColumn) || has(wheelSpeeds...), has(torqueColumn) || has(shaftSpeeds...)
	need(timeColumn)
	switch {
	case road && shaft:
		l.report(line, "", "has columns of a machine and of a road; give speed and torque, or road speed and grade")
	case road:
		l.cycle.Road = true
		need(wheelSpeeds...)
		need(gradeColumn)
	default:
		need(shaftSpeeds...)
		need(torqueColumn)
	}
	return len(l.findings) == 0
}

// missing reports that none of some columns is there.
func (l *loader) missing(line int, names []string, of []column) {
	var wanted []string
	hint := ""
	for _, c := range of {
		wanted = append(wanted, c.name)
	}
	for _, name := range names {
		if m := slip.Meant(strings.TrimSpace(name), wanted); m != "" {
			hint = fmt.Sprintf("; there is %q%s", name, m)
		}
	}
	l.report(line, wanted[0], "is missing%s; give %s", hint, strings.Join(wanted, " or "))
}

// row takes in one row.
func (l *loader) row(line int, cells []string) {
	var r Row
	for k, c := range l.columns {
		text := strings.TrimSpace(cells[l.places[k]])
		number := text
		if l.commas {
			number = strings.Replace(text, ",", ".", 1)
		}
		x, err := strconv.ParseFloat(number, 64)
		switch {
		case err != nil || math.IsNaN(x) || math.IsInf(x, 0):
			l.report(line, c.name, "%q is not a number; give one like 12.5", text)
			return
		case math.Abs(x) > c.most:
			l.report(line, c.name, "%g is out of range; give %g to %g", x, -c.most, c.most)
			return
		}
		*c.into(&r) = x * c.scale
	}
	if n := len(l.cycle.Rows); n > 0 && r.Time <= l.cycle.Rows[n-1].Time {
		l.report(line, timeColumn.name, "%g s after %g s; give times that rise", r.Time, l.cycle.Rows[n-1].Time)
		return
	}
	l.cycle.Rows = append(l.cycle.Rows, r)
}
