package capture

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"sextant/inverter"
)

// A layout says which columns of a row hold what.
type layout struct {
	delimiter byte
	width     int // columns
	time      int // column, or -1
	timeScale float64
	phase     [3]int // columns, or -1
	scale     [3]float64
	named     bool // by a header
}

// current units and time units, in A and s. A bare name is in A and s.
var (
	currentUnits = map[string]float64{"a": 1, "amp": 1, "amps": 1, "ampere": 1, "amperes": 1, "ma": 1e-3, "ka": 1e3, "ua": 1e-6, "µa": 1e-6}
	timeUnits    = map[string]float64{"s": 1, "sec": 1, "second": 1, "seconds": 1, "ms": 1e-3, "us": 1e-6, "µs": 1e-6, "μs": 1e-6, "ns": 1e-9}
	voltageUnits = map[string]float64{"v": 1, "volt": 1, "volts": 1, "mv": 1e-3, "uv": 1e-6, "µv": 1e-6}
	otherUnits   = map[string]bool{"kv": true, "w": true, "kw": true, "nm": true, "hz": true, "rpm": true, "deg": true, "c": true, "rad": true, "j": true, "percent": true, "%": true}
)

// Unit returns how many amperes a unit of current is.
func Unit(name string) (float64, error) {
	if x, ok := currentUnits[strings.ToLower(name)]; ok {
		return x, nil
	}
	return 0, fmt.Errorf("%q is not a unit of current; give A, mA, uA or kA", name)
}

// isUnit reports whether a word in lower case is a unit of anything that files of captures hold.
func isUnit(u string) bool {
	_, current := currentUnits[u]
	_, time := timeUnits[u]
	_, voltage := voltageUnits[u]
	return current || time || voltage || otherUnits[u]
}

// split cuts a line at the delimiter, outside quotes; quotes and blanks around a cell are dropped.
func split(dst []string, line string, delimiter byte) []string {
	dst = dst[:0]
	start, quoted := 0, false
	for i := 0; i <= len(line); i++ {
		if i < len(line) && line[i] == '"' {
			quoted = !quoted
		}
		if i == len(line) || line[i] == delimiter && !quoted {
			dst = append(dst, strings.Trim(line[start:i], " \t\""))
			start = i + 1
		}
	}
	return dst
}

// delimiterOf returns what most likely parts the cells of a line: a semicolon or a tab, which numbers do not
// hold, before a comma, which they may.
func delimiterOf(line string) byte {
	for _, d := range []byte{';', '\t'} {
		if strings.IndexByte(line, d) >= 0 {
			return d
		}
	}
	return ','
}

// A title is the head of a column taken apart.
type title struct {
	base string
	unit string
}

// titleOf takes apart heads such as "u_a", "Current U (mA)", "i_v [A]", "i_w/A", "time_ms".
func titleOf(head string) title {
	h := strings.ToLower(strings.TrimSpace(head))
	unit := ""
	if i := strings.LastIndexAny(h, "(["); i >= 0 && strings.HasSuffix(h, map[byte]string{'(': ")", '[': "]"}[h[i]]) {
		unit, h = strings.TrimSpace(h[i+1:len(h)-1]), h[:i]
	} else if i := strings.LastIndexAny(h, "/_"); i > 0 && isUnit(h[i+1:]) {
		unit, h = h[i+1:], h[:i]
	}
	base := strings.NewReplacer("_", "", " ", "", "-", "", ".", "", "phase", "", "current", "", "strom", "").Replace(h)
	if len(base) == 1 && strings.Contains("abc", base) && strings.Contains(h, "phase") {
		base = "i" + base
	}
	return title{base, unit}
}

var phaseTitles = map[string]inverter.Phase{
	"u": inverter.U, "iu": inverter.U, "l1": inverter.U, "il1": inverter.U, "i1": inverter.U, "ia": inverter.U,
	"v": inverter.V, "iv": inverter.V, "l2": inverter.V, "il2": inverter.V, "i2": inverter.V, "ib": inverter.V,
	"w": inverter.W, "iw": inverter.W, "l3": inverter.W, "il3": inverter.W, "i3": inverter.W, "ic": inverter.W,
}

var errNoHeader = errors.New("no header")

// isTime reports whether a column's head names the time.
func (t title) isTime() bool {
	switch t.base {
	case "t", "time", "times", "seconds", "timestamp", "datetime", "zeit", "zeitstempel":
		return true
	}
	return false
}

// header reads the heads of columns. It fails with errNoHeader where they name no two phases.
func header(cells []string, delimiter byte, o *Options) (layout, error) {
	l := layout{delimiter: delimiter, width: len(cells), time: -1, timeScale: 1, phase: [3]int{-1, -1, -1}, named: true}
	found := 0
	for i, cell := range cells {
		t := titleOf(cell)
		p, ok := o.phase(cell, t)
		if !ok && t.isTime() {
			if err := l.takeTime(i, cell, t); err != nil {
				return l, err
			}
			continue
		}
		if !ok {
			continue
		}
		scale, counts, err := o.scale(t.unit)
		switch {
		case err != nil:
			return l, fmt.Errorf("column %d, %q: %w", i+1, cell, err)
		case !counts:
			continue // a voltage, say
		}
		if l.phase[p] >= 0 {
			return l, fmt.Errorf("columns %d and %d both hold the current of phase %v; keep one", l.phase[p]+1, i+1, p)
		}
		l.phase[p], l.scale[p] = i, scale
		found++
	}
	if found == 1 {
		return l, errors.New("only one phase current is named; two or three are needed, like time_s,u_a,v_a,w_a")
	}
	if found == 0 {
		return l, errNoHeader
	}
	for p, want := range o.Phases {
		if want != "" && l.phase[p] < 0 {
			return l, fmt.Errorf("there is no column %q, that --phases has for phase %v; there are %s", want, inverter.Phase(p), quoted(cells))
		}
	}
	return l, nil
}

// quoted lists heads, the first few of many.
func quoted(heads []string) string {
	const most = 8
	var all []string
	for _, h := range heads[:min(len(heads), most)] {
		all = append(all, strconv.Quote(clip(h)))
	}
	if len(heads) > most {
		all = append(all, "...")
	}
	return strings.Join(all, ", ")
}

// takeTime makes column i the time's.
func (l *layout) takeTime(i int, cell string, t title) error {
	scale, ok := timeUnits[t.unit]
	switch {
	case t.unit == "", t.unit == "utc", strings.IndexByte(t.unit, ':') >= 0: // such as hh:mm:ss
		scale = 1
	case !ok:
		return fmt.Errorf("column %d, %q: %q is not a unit of time; allowed are s, ms, us and ns", i+1, cell, t.unit)
	}
	if l.time >= 0 {
		return fmt.Errorf("columns %d and %d both hold the time; keep one", l.time+1, i+1)
	}
	l.time, l.timeScale = i, scale
	return nil
}

// units reads a row of units below the heads, and reports whether it is one.
func (l *layout) units(cells []string, o *Options) (bool, error) {
	unitOf := func(cell string) string { return strings.ToLower(strings.Trim(cell, "()[] ")) }
	for _, cell := range cells {
		if u := unitOf(cell); u != "" && !isUnit(u) {
			return false, nil
		}
	}
	any := false
	for p, i := range l.phase {
		if i < 0 || i >= len(cells) || cells[i] == "" {
			continue
		}
		scale, _, err := o.scale(unitOf(cells[i]))
		if err != nil {
			return false, fmt.Errorf("column %d, %q: %w", i+1, cells[i], err)
		}
		l.scale[p], any = scale, true
	}
	if l.time >= 0 && l.time < len(cells) {
		if scale, ok := timeUnits[unitOf(cells[l.time])]; ok {
			l.timeScale, any = scale, true
		}
	}
	return any, nil
}

// bare is the layout of a file without header: time and two or three currents, or with a rate only the
// currents.
func bare(columns int, delimiter byte, rate bool) (layout, error) {
	l := layout{delimiter: delimiter, width: columns, time: 0, timeScale: 1, phase: [3]int{1, 2, 3}, scale: [3]float64{1, 1, 1}}
	if rate {
		l.time, l.phase = -1, [3]int{0, 1, 2}
	}
	switch n := columns - l.time - 1; {
	case columns == 1:
		return l, errors.New("there is only one column; a capture needs two or three phase currents, like time_s,u_a,v_a,w_a")
	case rate && columns > 3, !rate && columns > 4:
		return l, fmt.Errorf("there are %d columns and no header that says which hold phase currents; name them, like time_s,u_a,v_a,w_a", columns)
	case n == 1:
		return l, errors.New("there is one column of currents beside the time; two or three phases are needed (a file without time needs --rate)")
	case n == 2:
		l.phase[2] = -1
	}
	return l, nil
}

// number reads a cell. A comma in it, which does not part cells there or stands in quotes, is the decimal one.
func (l *layout) number(cell string) (float64, error) {
	if strings.IndexByte(cell, ',') >= 0 && strings.IndexByte(cell, '.') < 0 {
		cell = strings.Replace(cell, ",", ".", 1)
	}
	return strconv.ParseFloat(cell, 64)
}
