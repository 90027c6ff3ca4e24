package capture

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"golang.org/x/text/encoding/unicode"

	"sextant/inverter"
	"sextant/inverter/file"
)

const (
	// longestLine is how long a line may be, in bytes; a row of ten columns has some hundred.
	longestLine = 1 << 16
	// longestPreamble is how many lines may come before the heads of the columns.
	longestPreamble = 200
	// mostFindings is how many lines a file may be wrong in before reading stops.
	mostFindings = 10
)

// Read reads a capture from CSV. An error is [file.Findings], or the reader's own.
func Read(name string, r io.Reader, o Options) (Capture, error) {
	p := parser{options: o, capture: Capture{File: name}}
	in := bufio.NewReaderSize(r, longestLine)
	in, err := p.begin(in)
	if err != nil {
		return Capture{}, err
	}
	for {
		line, err := in.ReadSlice('\n')
		long := errors.Is(err, bufio.ErrBufferFull)
		if err != nil && err != io.EOF && !long {
			return Capture{}, err
		}
		if len(line) > 0 {
			p.line++
		}
		if bytes.IndexByte(line, 0) >= 0 {
			p.wrong("", "there are zero bytes; this is a binary file: export it as CSV")
			break
		}
		if long {
			p.wrong("", "the line is longer than %d bytes; this is no CSV of a capture", longestLine)
			break
		}
		if len(line) > 0 {
			p.take(strings.TrimRight(string(line), "\r\n"))
		}
		if err == io.EOF || p.hopeless || len(p.findings) >= mostFindings {
			break
		}
	}
	return p.finish()
}

var phaseKeys = [3]string{"current U", "current V", "current W"}

// A parser holds what is known of a file so far.
type parser struct {
	options  Options
	capture  Capture
	layout   layout
	ready    bool // the layout is known
	line     int
	preamble int
	titles   []string // the latest line of the preamble that holds more than units
	cells    []string
	begun    bool // with data
	before   float64
	start    float64
	missing  int
	missed   int  // line of the first row with a missing value
	hopeless bool // reading on would find nothing new
	findings file.Findings
}

func (p *parser) wrong(key, format string, args ...any) {
	p.findings = append(p.findings, &file.Finding{File: p.capture.File, Line: p.line, Key: key, Err: fmt.Errorf(format, args...)})
}

// begin drops a byte order mark, and reads UTF-16 that has one as UTF-8.
func (p *parser) begin(in *bufio.Reader) (*bufio.Reader, error) {
	mark, err := in.Peek(3)
	if err != nil && err != io.EOF {
		return nil, err
	}
	switch {
	case bytes.HasPrefix(mark, []byte{0xEF, 0xBB, 0xBF}):
		_, err := in.Discard(3)
		return in, err
	case bytes.HasPrefix(mark, []byte{0xFF, 0xFE}), bytes.HasPrefix(mark, []byte{0xFE, 0xFF}):
		wide := unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder()
		return bufio.NewReaderSize(wide.Reader(in), longestLine), nil
	}
	return in, nil
}

func (p *parser) take(line string) {
	trimmed := strings.TrimSpace(line)
	if trimmed == "" || trimmed[0] == '#' || trimmed[0] == '%' || strings.HasPrefix(trimmed, "//") {
		return
	}
	if !p.ready {
		p.arrange(line)
		return
	}
	p.cells = split(p.cells, line, p.layout.delimiter)
	if !p.begun && p.layout.named {
		found, err := p.layout.units(p.cells, &p.options)
		if err != nil {
			p.hopeless = true
			p.wrong("header", "%v", err)
		}
		if found || err != nil {
			return
		}
	}
	p.row()
}

// arrange finds the layout in heads or, without any, in the first row of numbers.
func (p *parser) arrange(line string) {
	delimiter := delimiterOf(line)
	p.cells = split(p.cells, line, delimiter)
	l, err := header(p.cells, delimiter, &p.options)
	switch {
	case err == nil:
		p.settle(l)
		return
	case !errors.Is(err, errNoHeader):
		p.hopeless = true
		p.wrong("header", "%v", err)
		return
	}
	l = layout{delimiter: delimiter}
	for _, cell := range p.cells {
		if _, err := l.number(cell); err != nil {
			if slices.ContainsFunc(p.cells, func(c string) bool { return !isUnit(strings.ToLower(strings.Trim(c, "()[] "))) }) || len(p.cells) != len(p.titles) {
				p.titles = slices.Clone(p.cells)
			}
			if p.preamble++; p.preamble > longestPreamble {
				p.hopeless = true
				p.wrong("header", "none of the first %d lines names phase currents; name the columns, like time_s,u_a,v_a,w_a", longestPreamble)
			}
			return
		}
	}
	if p.preamble > 0 && len(p.titles) == len(p.cells) {
		p.hopeless = true
		p.unnamed()
		return
	}
	if p.options.chosen() {
		p.hopeless = true
		p.wrong("header", "no line before the numbers names columns, so that --phases finds none; leave it out: columns are then taken to be time, U, V and W")
		return
	}
	if l, err = bare(len(p.cells), delimiter, p.options.Rate > 0); err != nil {
		p.hopeless = true
		p.wrong("header", "%v", err)
		return
	}
	in := "amperes"
	if p.options.Clamp > 0 {
		in = "volts of the clamps"
		l.scale = [3]float64{1 / p.options.Clamp, 1 / p.options.Clamp, 1 / p.options.Clamp}
	}
	p.settle(l)
	names := "time, U, V and W"
	switch {
	case l.time < 0:
		names = "U, V and W"
	case l.phase[2] < 0:
		names = "time, U and V"
	}
	p.capture.note("there is no header; the columns are taken to be %s, in seconds and %s", names, in)
	p.row()
}

// unnamed says that the heads of the columns name no phases, and what they are.
func (p *parser) unnamed() {
	if p.options.chosen() {
		p.wrong("header", "none of the columns is one of --phases; they are %s", quoted(p.titles))
		return
	}
	p.wrong("header", "the columns are %s, and none is a phase current; name them like time_s,u_a,v_a,w_a, or say which hold U, V and W, like --phases CH1,CH2,CH3", quoted(p.titles))
}

func (p *parser) settle(l layout) {
	p.layout, p.ready = l, true
	for k, i := range l.phase {
		if i < 0 {
			p.capture.Derived, p.capture.Third = true, inverter.Phase(k)
			p.capture.note("phase %v was not recorded; its current is taken as the negative sum of the other two, so that nothing can be said of the sum", inverter.Phase(k))
		}
	}
	if l.time < 0 && p.options.Rate == 0 {
		p.wrong("header", "there is no column of time; name one time_s, or give --rate")
		p.hopeless = true
	}
	if l.time >= 0 && p.options.Rate > 0 {
		p.capture.note("the column of time is not used, for --rate says when samples were taken")
	}
}

// row reads a row of data from the cells.
func (p *parser) row() {
	l := &p.layout
	if n := len(p.cells); n != l.width {
		// A delimiter at a line's end makes an empty cell that the heads may not have.
		if extra := n - l.width; !(extra == 1 && p.cells[n-1] == "") {
			p.wrong("", "the row has %d columns where there were %d before", n, l.width)
			return
		}
	}
	p.begun = true
	read := func(i int, key string) (x float64, ok bool) {
		cell := p.cells[i]
		if lacking(cell) {
			return 0, false
		}
		if key == "time" && strings.IndexByte(cell, ':') >= 0 {
			if x, ok := clock(cell); ok {
				return onward(x, p.before) / l.timeScale, true
			}
		}
		x, err := l.number(cell)
		switch {
		case err != nil && math.IsInf(x, 0), err == nil && (math.IsInf(x, 0) || math.Abs(x) > 1e15):
			p.wrong(key, "%s is out of all range", clip(cell))
			return 0, false
		case err != nil && key == "time":
			p.wrong(key, "%q is neither a number of seconds nor a time of day; give --rate, and the column is not read", clip(cell))
			return 0, false
		case err != nil && overloaded(cell):
			p.wrong(key, "%q is an instrument's overload; record again with a larger range", clip(cell))
			return 0, false
		case err != nil:
			p.wrong(key, "%q is not a number", clip(cell))
			return 0, false
		}
		return x, true
	}
	wrong := len(p.findings)
	p.capture.Rows++
	t, whole := float64(p.capture.Rows-1), true
	if p.options.Rate > 0 {
		t /= p.options.Rate
	} else if t, whole = read(l.time, "time"); whole {
		t *= l.timeScale
	}
	var i inverter.ABC
	for k, column := range l.phase {
		if column < 0 {
			continue
		}
		x, ok := read(column, phaseKeys[k])
		whole = whole && ok
		if i[k] = x * l.scale[k]; p.options.Unit != 0 {
			i[k] = x * p.options.Unit
		}
	}
	if len(p.findings) > wrong {
		return
	}
	if !whole {
		if p.missing++; p.missing == 1 {
			p.missed = p.line
		}
		return
	}
	if p.capture.Derived {
		third := p.capture.Third
		i[third] = -i[third.Next()] - i[third.Next().Next()]
	}
	p.keep(t, i)
}

func (p *parser) keep(t float64, i inverter.ABC) {
	c := &p.capture
	if c.Len() == 0 {
		p.start, p.before = t, t
	}
	if t < p.before {
		p.wrong("time", "time runs back from %g s to %g s; rows must be in the order of time", p.before, t)
	}
	p.before = t
	if c.Len() < MostRows {
		c.Time = append(c.Time, t)
		c.Current = append(c.Current, i)
	}
}

// lacking reports whether a cell holds no value.
func lacking(cell string) bool {
	switch strings.ToLower(strings.Trim(cell, "-")) {
	case "", "nan", "n/a", "null":
		return true
	}
	return false
}

// overloaded reports whether a cell says that a value was beyond the instrument's range.
func overloaded(cell string) bool {
	switch strings.ToLower(strings.Trim(cell, "+-. ")) {
	case "ol", "o.l", "over", "overload", "overflow", "ovf", "ovld":
		return true
	}
	return false
}

// clip shortens a cell for a message.
func clip(cell string) string {
	const most = 24
	if r := []rune(cell); len(r) > most {
		return string(r[:most]) + "…"
	}
	return cell
}

func (p *parser) finish() (Capture, error) {
	c := &p.capture
	if len(p.findings) == 0 {
		p.whole()
	}
	if len(p.findings) > 0 {
		return Capture{}, p.findings
	}
	if p.missing > 0 {
		c.note("%d of %d rows lack a value and were left out, the first at line %d", p.missing, c.Rows, p.missed)
	}
	if kept := c.Len() + p.missing; c.Rows > kept {
		c.note("the file has %d rows; only the first %d are used, to %.6g s: cut it to the part that matters", c.Rows, kept, c.Time[c.Len()-1])
	}
	return *c, nil
}

// whole says what is wrong with the file as a whole.
func (p *parser) whole() {
	c := &p.capture
	at := p.line
	p.line = 0
	switch {
	case at == 0:
		p.wrong("", "is empty; a capture has a header, like time_s,u_a,v_a,w_a, and rows")
	case !p.ready && p.preamble > 0:
		p.wrong("header", "no line names phase currents; name the columns, like time_s,u_a,v_a,w_a")
	case c.Rows == 0:
		p.wrong("", "holds no rows of data")
	case c.Len() < 2:
		p.wrong("", "holds no two whole rows; a capture needs some tens in each turn")
	case p.before == p.start:
		p.wrong("time", "is %g s in all rows; give --rate, or more digits", p.start)
	}
}
