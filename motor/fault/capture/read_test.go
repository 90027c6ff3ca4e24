package capture_test

import (
	"errors"
	"fmt"
	"io"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"sextant/inverter"
	"sextant/inverter/file"
	"sextant/motor/fault/capture"
)

// TestRead reads what scopes and loggers write; every case is the same two samples.
func TestRead(t *testing.T) {
	for name, tt := range map[string]struct {
		text    string
		options capture.Options
	}{
		"as run --csv writes it":    {text: "time_s,u_a,v_a,w_a,u_v,v_v,w_v,supply_a\n0,1,-3,2,9,9,9,9\n0.001,1.5,-3.5,2,9,9,9,9\n"},
		"any order, others ignored": {text: "w_a,note,u_a,time_s,v_a\n2,x,1,0,-3\n2,y,1.5,0.001,-3.5\n"},
		"decimal commas":            {text: "time_s;u_a;v_a;w_a\n0;1,0;-3;2\n0,001;1,5;-3,5;2\n"},
		"tabs and DIN titles":       {text: "t/ms\ti_u/A\ti_v/A\ti_w/A\n0\t1\t-3\t2\n1\t1,5\t-3,5\t2\n"},
		"byte order mark, CR LF":    {text: "\ufefftime_s,u_a,v_a,w_a\r\n0,1,-3,2\r\n0.001,1.5,-3.5,2\r\n"},
		"comments and blank lines":  {text: "# a scope\n\n% of ours\ntime_s,u_a,v_a,w_a\n0,1,-3,2\n\n# pause\n0.001,1.5,-3.5,2"},
		"preamble":                  {text: "Model,invented\nSample interval,0.001\nRecord length,2\ntime_s,u_a,v_a,w_a\n0,1,-3,2\n0.001,1.5,-3.5,2\n"},
		"units in brackets":         {text: "\"Time (ms)\",\"Current U (mA)\",\"Current V [mA]\",\"Current W (mA)\"\n0,1000,-3000,2000\n1,1500,-3500,2000\n"},
		"units in a row":            {text: "t,U,V,W\nms,mA,mA,A\n0,1000,-3000,2\n1,1500,-3500,2\n"},
		"lines by number":           {text: "Time,I_L1,I_L2,I_L3\n0,1,-3,2\n0.001,1.5,-3.5,2\n"},
		"unit by flag":              {text: "time_s,u,v,w\n0,100,-300,200\n0.001,150,-350,200\n", options: capture.Options{Unit: 0.01}},
		"rate by flag":              {text: "u_a,v_a,w_a\n1,-3,2\n1.5,-3.5,2\n", options: capture.Options{Rate: 1000}},
		"no header":                 {text: "0,1,-3,2\n0.001,1.5,-3.5,2\n"},
		"no header, no time":        {text: "1,-3,2\n1.5,-3.5,2\n", options: capture.Options{Rate: 1000}},
		"delimiter at line ends":    {text: "time_s,u_a,v_a,w_a\n0,1,-3,2,\n0.001,1.5,-3.5,2,\n"},
		"clock times, rate by flag": {text: "Time;U;V;W\n12:00:00,000;1;-3;2\n12:00:00,001;1,5;-3,5;2\n", options: capture.Options{Rate: 1000}},
		"a scope's channels": {text: "Model,invented\n\nTIME,CH1,CH2,CH3\n(s),(mV),(mV),(mV)\n0,100,-300,200\n1e-3,150,-350,200\n",
			options: capture.Options{Phases: [3]string{"CH1", "CH2", "CH3"}, Clamp: 0.1}},
		"channels in another order": {text: "Time,CH1 (V),CH2 (V),CH4 (V),CH3 (V)\n0,0.2,0.1,9,-0.3\n0.001,0.2,0.15,9,-0.35\n",
			options: capture.Options{Phases: [3]string{"ch2", "CH3 (V)", "CH1"}, Clamp: 0.1}},
		"volts of clamps":          {text: "time_s,u_v,v_v,w_v\n0,1,-3,2\n0.001,1.5,-3.5,2\n", options: capture.Options{Clamp: 1}},
		"volts without a head":     {text: "0,0.1,-0.3,0.2\n0.001,0.15,-0.35,0.2\n", options: capture.Options{Clamp: 0.1}},
		"German heads":             {text: "\ufeffZeit;Strom L1;Strom L2;Strom L3\nms;A;A;A\n0;1,0;-3;2\n1;1,5;-3,5;2\n"},
		"phases by letter":         {text: "Time (ms),Phase A current (A),Phase B current (A),Phase C current (A)\n0,1,-3,2\n1,1.5,-3.5,2\n"},
		"UTF-16":                   {text: "\xff\xfe" + wide("t;u;v;w\r\n0;1;-3;2\r\n0,001;1,5;-3,5;2\r\n")},
		"decimal commas in quotes": {text: "time_s,u_a,v_a,w_a\n\"0,000\",\"1,0\",\"-3,0\",\"2,0\"\n\"0,001\",\"1,5\",\"-3,5\",\"2,0\"\n"},
		"dashes for gaps":          {text: "time_s,u_a,v_a,w_a\n0,1,-3,2\n0.0005,---,-3,2\n0.001,1.5,-3.5,2\n"},
		"two currents":             {text: "time_s,u_a,v_a\n0,1,-3\n0.001,1.5,-3.5\n"},
		"two others":               {text: "time_s,w_a,u_a\n0,2,1\n0.001,2,1.5\n"},
		"values missing":           {text: "time_s,u_a,v_a,w_a\n0,1,-3,2\n0.0005,,-3,2\n0.0007,1,NaN,2\n0.001,1.5,-3.5,2\n"},
	} {
		t.Run(name, func(t *testing.T) {
			c, err := capture.Read("scope.csv", strings.NewReader(tt.text), tt.options)
			if err != nil {
				t.Fatal(err)
			}
			if c.Len() != 2 {
				t.Fatalf("%d samples", c.Len())
			}
			for i, want := range []inverter.ABC{{1, -3, 2}, {1.5, -3.5, 2}} {
				for k := range want {
					if math.Abs(c.Current[i][k]-want[k]) > 1e-12 || math.Abs(c.Time[i]-0.001*float64(i)) > 1e-12 {
						t.Errorf("sample %d: %g s, %v, want %v", i, c.Time[i], c.Current[i], want)
					}
				}
			}
		})
	}
}

// wide is UTF-16, little end first, of ASCII.
func wide(text string) string {
	var b strings.Builder
	for i := range len(text) {
		b.WriteByte(text[i])
		b.WriteByte(0)
	}
	return b.String()
}

// TestClock: times of day are seconds from midnight, and go on behind it.
func TestClock(t *testing.T) {
	for _, tt := range []struct {
		first, second string
		from, step    float64
	}{
		{"10:15:00", "10:15:00.25", 36900, 0.25},
		{"2026-03-01 00:00:01.5", "2026-03-01 00:00:02", 1.5, 0.5},
		{"2026-03-01T00:00:01.5Z", "2026-03-01T00:00:02Z", 1.5, 0.5},
		{"2026-03-01T00:00:01+01:00", "2026-03-01T00:00:03+01:00", 1, 2},
		{"01.03.2026 00:00:01", "01.03.2026 00:01:01", 1, 60},
		{"01:30.5", "01:31", 90.5, 0.5}, // minutes and seconds, as spreadsheets write them
		{"23:59:59.5", "00:00:00.25", 86399.5, 0.75},
	} {
		text := "Timestamp,u_a,v_a\n" + tt.first + ",1,-3\n" + tt.second + ",1.5,-3.5\n"
		c, err := capture.Read("scope.csv", strings.NewReader(text), capture.Options{})
		if err != nil {
			t.Errorf("%s: %v", tt.first, err)
			continue
		}
		if c.Time[0] != tt.from || math.Abs(c.Time[1]-c.Time[0]-tt.step) > 1e-9 {
			t.Errorf("%s, %s: %v s", tt.first, tt.second, c.Time)
		}
	}
}

// TestColumns: two or three heads, in the order of the phases.
func TestColumns(t *testing.T) {
	for text, want := range map[string][3]string{"CH1,CH2,CH3": {"CH1", "CH2", "CH3"}, "a, -,b": {"a", "", "b"}, "x,y": {"x", "y", ""}} {
		if got, err := capture.Columns(text); got != want || err != nil {
			t.Errorf("%s: %q, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "CH1", "a,b,c,d", "-,-,a"} {
		if got, err := capture.Columns(text); err == nil {
			t.Errorf("%q: %q", text, got)
		}
	}
}

func TestReadSaysWhatItMadeUp(t *testing.T) {
	c, err := capture.Read("scope.csv", strings.NewReader("time_s,w_a,u_a\n0,2,1\n1,3,1\n"), capture.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !c.Derived || c.Third != inverter.V || c.Current[1][inverter.V] != -4 {
		t.Errorf("derived %v of %v: %v", c.Derived, c.Third, c.Current)
	}
	if notes := strings.Join(c.Notes, "\n"); !strings.Contains(notes, "phase V was not recorded") {
		t.Errorf("notes: %s", notes)
	}
	c, err = capture.Read("scope.csv", strings.NewReader("time_s,u_a,v_a,w_a\n0,1,1,-2\n1,1,,-2\n2,2,1,-3\n"), capture.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if notes := strings.Join(c.Notes, "\n"); !strings.Contains(notes, "1 of 3 rows lack a value and were left out, the first at line 3") {
		t.Errorf("notes: %s", notes)
	}
}

// TestFindings has what people feed to it by mistake, and the one line that each must get.
func TestFindings(t *testing.T) {
	const head = "time_s,u_a,v_a,w_a\n"
	for name, tt := range map[string]struct {
		text    string
		options capture.Options
		want    string
	}{
		"empty":            {"", capture.Options{}, "x.csv: is empty; a capture has a header, like time_s,u_a,v_a,w_a, and rows"},
		"only a header":    {head, capture.Options{}, "x.csv: holds no rows of data"},
		"one row":          {head + "0,1,2,-3\n", capture.Options{}, "x.csv: holds no two whole rows; a capture needs some tens in each turn"},
		"prose":            {"Dear all,\nthe drive hums.\n", capture.Options{}, "x.csv: header: no line names phase currents; name the columns, like time_s,u_a,v_a,w_a"},
		"text in numbers":  {head + "0,1,2,-3\n1,one,2,-3\n", capture.Options{}, `x.csv:3: current U: "one" is not a number`},
		"text for time":    {head + "noon,1,2,-3\n", capture.Options{}, `x.csv:2: time: "noon" is neither a number of seconds nor a time of day; give --rate, and the column is not read`},
		"infinite":         {head + "0,1,2,-3\n1,1e999,2,-3\n", capture.Options{}, "x.csv:3: current U: 1e999 is out of all range"},
		"ragged":           {head + "0,1,2,-3\n1,1,2\n", capture.Options{}, "x.csv:3: the row has 3 columns where there were 4 before"},
		"time runs back":   {head + "0,1,2,-3\n2,1,2,-3\n1,1,2,-3\n", capture.Options{}, "x.csv:4: time: time runs back from 2 s to 1 s; rows must be in the order of time"},
		"time stands":      {head + "5,1,2,-3\n5,2,2,-4\n5,1,2,-3\n", capture.Options{}, "x.csv: time: is 5 s in all rows; give --rate, or more digits"},
		"one column":       {"1\n2\n3\n", capture.Options{}, "x.csv:1: header: there is only one column; a capture needs two or three phase currents, like time_s,u_a,v_a,w_a"},
		"one phase":        {"time_s,u_a\n0,1\n1,2\n", capture.Options{}, "x.csv:1: header: only one phase current is named; two or three are needed, like time_s,u_a,v_a,w_a"},
		"two columns":      {"0,1\n1,2\n", capture.Options{}, "x.csv:1: header: there is one column of currents beside the time; two or three phases are needed (a file without time needs --rate)"},
		"too many columns": {"0,1,2,3,4\n", capture.Options{}, "x.csv:1: header: there are 5 columns and no header that says which hold phase currents; name them, like time_s,u_a,v_a,w_a"},
		"no time":          {"u_a,v_a,w_a\n1,2,-3\n", capture.Options{}, "x.csv:1: header: there is no column of time; name one time_s, or give --rate"},
		"phase twice":      {"time_s,u_a,i_u,v_a\n", capture.Options{}, "x.csv:1: header: columns 2 and 3 both hold the current of phase U; keep one"},
		"time twice":       {"time_s,t,u_a,v_a\n", capture.Options{}, "x.csv:1: header: columns 1 and 2 both hold the time; keep one"},
		"wrong unit":       {"time_s,u (lb),v (lb)\n", capture.Options{}, `x.csv:1: header: column 2, "u (lb)": "lb" is not a unit of current; allowed are A, mA, uA and kA`},
		"wrong time unit":  {"time (min),u,v\n", capture.Options{}, `x.csv:1: header: column 1, "time (min)": "min" is not a unit of time; allowed are s, ms, us and ns`},
		"binary":           {"\x7fELF\x02\x01\x00\x00\x00", capture.Options{}, "x.csv:1: there are zero bytes; this is a binary file: export it as CSV"},
		"overload":         {head + "0,1,OL,-3\n1,1,2,-3\n", capture.Options{}, `x.csv:2: current V: "OL" is an instrument's overload; record again with a larger range`},
		"volts chosen":     {"Time,CH1,CH2\n(s),(mV),(mV)\n0,1,2\n", capture.Options{Phases: [3]string{"CH1", "CH2"}}, `x.csv:2: header: column 2, "(mV)": holds a voltage; say what the clamp makes of an ampere, like --clamp 100mV/A`},
		"no such column":   {"Time,CH1,CH2\n0,1,2\n", capture.Options{Phases: [3]string{"CH1", "CH2", "CH3"}}, `x.csv:1: header: there is no column "CH3", that --phases has for phase W; there are "Time", "CH1", "CH2"`},
		"none of these":    {"Time,A,B\n0,1,2\n", capture.Options{Phases: [3]string{"CH1", "CH2"}}, `x.csv:2: header: none of the columns is one of --phases; they are "Time", "A", "B"`},
		"chosen of none":   {"0,1,2\n", capture.Options{Phases: [3]string{"CH1", "CH2"}}, `x.csv:1: header: no line before the numbers names columns, so that --phases finds none; leave it out: columns are then taken to be time, U, V and W`},
		"clamp of amperes": {head + "0,1,2,-3\n", capture.Options{Clamp: 0.1}, `x.csv:1: header: column 2, "u_a": holds a current; leave --clamp out`},
		"clock runs back":  {"time,u_a,v_a\n10:00:02,1,2\n10:00:01,1,2\n", capture.Options{}, "x.csv:3: time: time runs back from 36002 s to 36001 s; rows must be in the order of time"},
		"not a clock":      {"time,u_a,v_a\n10:75:02,1,2\n", capture.Options{}, `x.csv:2: time: "10:75:02" is neither a number of seconds nor a time of day; give --rate, and the column is not read`},
		"voltages":         {"time_s,u_v,v_v,w_v\n0,1,2,3\n", capture.Options{}, `x.csv:2: header: the columns are "time_s", "u_v", "v_v", "w_v", and none is a phase current; name them like time_s,u_a,v_a,w_a, or say which hold U, V and W, like --phases CH1,CH2,CH3`},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := capture.Read("x.csv", strings.NewReader(tt.text), tt.options)
			var findings file.Findings
			if !errors.As(err, &findings) || len(findings) != 1 {
				t.Fatalf("%v", err)
			}
			if got := findings.Error(); got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
		})
	}
}

// An endless reader repeats a text for so many bytes, as a file of any length does.
type endless struct {
	head, body string
	left       int
	at         int
}

func (e *endless) Read(b []byte) (int, error) {
	if e.left <= 0 {
		return 0, io.EOF
	}
	b = b[:min(len(b), e.left)]
	n := 0
	if e.head != "" {
		n = copy(b, e.head)
		e.head = e.head[n:]
	} else {
		for n < len(b) {
			k := copy(b[n:], e.body[e.at:])
			e.at = (e.at + k) % len(e.body)
			n += k
		}
	}
	e.left -= n
	return n, nil
}

// TestLongFilesKeepBounded reads far more than is kept, and one endless line of either kind.
func TestLongFilesKeepBounded(t *testing.T) {
	c, err := capture.Read("long.csv", &endless{head: "u_a,v_a,w_a\n", body: "1,2,-3\n", left: 12 + 7*1_700_000}, capture.Options{Rate: 1e6})
	if err != nil {
		t.Fatal(err)
	}
	if c.Len() != capture.MostRows || c.Rows < 3*c.Len()/2 {
		t.Errorf("%d samples of %d rows", c.Len(), c.Rows)
	}
	if notes := fmt.Sprint(c.Notes); !strings.Contains(notes, "only the first 1048576 are used") {
		t.Errorf("notes: %s", notes)
	}
	for _, body := range []string{"1,2,3,", "\x00\x01", "no end "} {
		if _, err := capture.Read("long.csv", &endless{body: body, left: 2 << 30}, capture.Options{}); err == nil || !strings.Contains(err.Error(), "long.csv:1: ") {
			t.Errorf("an endless line of %q: %v", body, err)
		}
	}
	// Every line wrong: no more findings than a person reads.
	_, err = capture.Read("long.csv", &endless{head: "time_s,u_a,v_a\n", body: "x\n", left: 2 << 30}, capture.Options{})
	var findings file.Findings
	if !errors.As(err, &findings) || len(findings) != 10 {
		t.Errorf("%d findings", len(findings))
	}
	// Nothing but a preamble.
	if _, err = capture.Read("long.csv", &endless{body: "words\n", left: 2 << 30}, capture.Options{}); err == nil || !strings.Contains(err.Error(), "none of the first 200 lines") {
		t.Errorf("%v", err)
	}
}

// A weighed reader notes how much memory is in use when its text has been read.
type weighed struct {
	io.Reader
	inUse uint64
}

func (w *weighed) Read(b []byte) (int, error) {
	n, err := w.Reader.Read(b)
	if err == io.EOF && w.inUse == 0 {
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		w.inUse = m.HeapAlloc
	}
	return n, err
}

// TestMemoryKeepsBounded: a file three times as long takes no more memory. What is kept is MostRows rows of a time
// and three currents, in slices that grow by no more than a quarter beyond.
func TestMemoryKeepsBounded(t *testing.T) {
	const row = "1.5,-2.5,1.0,0,0\n"
	use := func(rows int) float64 {
		w := &weighed{Reader: &endless{head: "u_a,v_a,w_a,x,y\n", body: row, left: 16 + rows*len(row)}}
		c, err := capture.Read("long.csv", w, capture.Options{Rate: 1e6})
		if err != nil || c.Rows != rows {
			t.Fatalf("%d rows, %v", c.Rows, err)
		}
		return float64(w.inUse)
	}
	once := use(capture.MostRows)
	if thrice := use(3 * capture.MostRows); thrice > 1.05*once || once > 1.25*capture.MostRows*32+8<<20 {
		t.Errorf("%.0f bytes for what is kept, %.0f for three times as much", once, thrice)
	}
}

// TestUnits: a clamp's scale is told in amperes and their multiples, and in no other unit.
func TestUnits(t *testing.T) {
	for unit, want := range map[string]float64{"A": 1, "amps": 1, "mA": 1e-3, "kA": 1e3, "uA": 1e-6, "µA": 1e-6} {
		if x, err := capture.Unit(unit); x != want || err != nil {
			t.Errorf("%s is %g A, %v", unit, x, err)
		}
	}
	if _, err := capture.Unit("mV"); err == nil || !strings.Contains(err.Error(), `"mV" is not a unit of current`) {
		t.Errorf("%v", err)
	}
}

// TestBetween: both ends are within, with all the samples that share an end's time.
func TestBetween(t *testing.T) {
	c := capture.Capture{Time: []float64{0, 1, 1, 2, 2, 2, 3}, Current: make([]inverter.ABC, 7)}
	for _, tt := range []struct {
		from, to float64
		want     []float64
	}{
		{1, 2, []float64{1, 1, 2, 2, 2}}, {-1, 0.5, []float64{0}}, {0.5, 0.9, nil}, {2.5, 9, []float64{3}}, {3, 1, nil}, {0, 3, c.Time},
	} {
		part := c.Between(tt.from, tt.to)
		if !slices.Equal(part.Time, tt.want) || len(part.Current) != len(tt.want) {
			t.Errorf("from %g s to %g s: %v, want %v", tt.from, tt.to, part.Time, tt.want)
		}
	}
}

// TestUnbroken finds the longer side of a pause, and none in rows that come in pairs at switching events.
func TestUnbroken(t *testing.T) {
	var c capture.Capture
	for i := range 100 {
		at := float64(i) * 1e-4
		if i >= 30 {
			at += 0.05
		}
		c.Time = append(c.Time, at)
		c.Current = append(c.Current, inverter.ABC{float64(i)})
	}
	part, paused := c.Unbroken()
	if !paused || part.Len() != 70 || part.Current[0][0] != 30 {
		t.Errorf("paused %v, %d samples", paused, part.Len())
	}
	for i := range c.Time {
		c.Time[i] = float64(i/2) * 1e-4
	}
	if part, paused := c.Unbroken(); paused || part.Len() != 100 {
		t.Errorf("pairs: paused %v, %d samples", paused, part.Len())
	}
}

// FuzzRead: whatever a file holds, reading ends in a capture of finite numbers in the order of time, or in
// findings that name the file.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{
		"time_s,u_a,v_a,w_a\n0,1,-3,2\n0.001,1.5,-3.5,2\n", "t;u;v\n0;1,5;2\n1;2,5;3\n", "0,1,2\n1,2,3\n", "\ufeffu_a,v_a\n1,2\n",
		"t,U,V\nms,mA,mA\n1,2,3\n2,3,4\n", "\x00", "\"", "time_s,u_a,v_a\n1,\"2,3\n", "t,u,v\n1e308,1e308,1\n2e308,1,1\n", "time_s,u_a,v_a\n0,nan,1\n1,-inf,2\n", "()[],u [,v ]\n",
	} {
		f.Add([]byte(seed), 0.0)
		f.Add([]byte(seed), 1000.0)
	}
	f.Fuzz(func(t *testing.T, data []byte, rate float64) {
		if !(rate >= 0 && rate <= 1e12) || rate > 0 && rate < 1e-12 {
			rate = 0
		}
		c, err := capture.Read("f.csv", strings.NewReader(string(data)), capture.Options{Rate: rate})
		if err != nil {
			var findings file.Findings
			if !errors.As(err, &findings) || len(findings) == 0 || !strings.HasPrefix(err.Error(), "f.csv") {
				t.Fatalf("%v", err)
			}
			return
		}
		if c.Len() < 2 || len(c.Current) != c.Len() {
			t.Fatalf("%d times, %d currents", c.Len(), len(c.Current))
		}
		for i, x := range c.Current {
			if math.IsNaN(x[0]+x[1]+x[2]) || math.IsInf(x[0]+x[1]+x[2], 0) || math.IsNaN(c.Time[i]) || math.IsInf(c.Time[i], 0) || i > 0 && c.Time[i] < c.Time[i-1] {
				t.Fatalf("sample %d: %g s, %v", i, c.Time[i], x)
			}
		}
		c.Unbroken()
	})
}

func BenchmarkRead(b *testing.B) {
	const head, row = "time_s,u_a,v_a,w_a\n", "0.001234,123.45,-67.89,-55.56\n"
	const rows = 10000
	b.SetBytes(rows * int64(len(row)))
	b.ReportAllocs()
	for b.Loop() {
		text := &endless{head: head, body: row, left: len(head) + rows*len(row)}
		if _, err := capture.Read("b.csv", text, capture.Options{Rate: 1000}); err != nil {
			b.Fatal(err)
		}
	}
}
