package handout

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"sextant/inverter/pattern"
	"sextant/motor/drive"
	"sextant/render"
	"sextant/render/lesson"
)

// checkWords looks for what no exercise may have.
func checkWords(t *testing.T, name string, x *Exercise) {
	t.Helper()
	for _, words := range append([]string{x.Ask, x.Answer, x.Working}, x.Choices...) {
		if words == "" || strings.ContainsAny(words, "<>") || strings.Contains(words, "NaN") || strings.Contains(words, "Inf") || strings.Contains(words, "%!") {
			t.Errorf("%s says %q", name, words)
		}
	}
	if x.Points < 1 {
		t.Errorf("%s is worth %d points", name, x.Points)
	}
	if x.Choices == nil {
		return
	}
	sorted := slices.Sorted(slices.Values(x.Choices))
	if len(slices.Compact(sorted)) != len(x.Choices) || len(x.Choices) < 2 {
		t.Errorf("%s has choices that are the same: %q", name, x.Choices)
	}
	if x.Choices[x.Right] != x.Answer {
		t.Errorf("%s: choice %d is not the answer %q", name, x.Right, x.Answer)
	}
}

// checkNumber works a number out again, and asks that the answer is what it rounds to, safely.
func checkNumber(t *testing.T, name string, r *rig, x *Exercise) {
	t.Helper()
	f, ok := closed[x.Name]
	if !ok {
		t.Errorf("%s has no closed form to check it by", name)
		return
	}
	v := values{}
	for _, g := range x.Given {
		v[g.Symbol] = g.Value
		if !strings.Contains(x.Ask, g.text()) {
			t.Errorf("%s does not tell %s = %s: %s", name, g.Symbol, g.text(), x.Ask)
		}
	}
	want := f(r, v)
	if math.Abs(x.Value-want) > 2e-5*math.Abs(want) {
		t.Errorf("%s: %v is %.9g, by the closed form %.9g", name, x.Given, x.Value, want)
	}
	if says := rounded(want, x.Unit); says != x.Answer {
		t.Errorf("%s: answer %q, %.6g rounds to %q", name, x.Answer, want, says)
	}
	// Nobody who carries a little more or less rounds to something else.
	for _, off := range []float64{1 - 5e-6, 1 + 5e-6} {
		if says := rounded(want*off, x.Unit); says != x.Answer {
			t.Errorf("%s: %.8g is within a hair of rounding to %q instead of %q", name, want, says, x.Answer)
		}
	}
	if want == 0 || !strings.HasSuffix(x.Working, " = "+x.Answer+".") {
		t.Errorf("%s: answer %q, working %q", name, x.Answer, x.Working)
	}
}

// rounded writes x to three significant digits by another way than the sheet: digits and exponent first, then the point.
func rounded(x float64, unit string) string {
	prefixes := map[int]string{-6: "µ", -3: "m", 0: "", 3: "k", 6: "M"}
	mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(math.Abs(x), 'e', 2, 64), "e")
	e, _ := strconv.Atoi(exponent)
	third := 0
	if slices.Contains([]string{"V", "A", "W", "s", "Hz", "J", "Ω", "H", "Wb"}, unit) {
		third = int(math.Floor(float64(e)/3)) * 3
		unit = prefixes[third] + unit
	}
	figures := strings.ReplaceAll(mantissa, ".", "")
	switch point := e - third + 1; {
	case point >= 3:
		figures += strings.Repeat("0", point-3)
	case point <= 0:
		figures = "0." + strings.Repeat("0", -point) + figures
	default:
		figures = figures[:point] + "." + figures[point:]
	}
	if x < 0 {
		figures = "-" + figures
	}
	return strings.TrimSpace(figures + " " + unit)
}

func given(x *Exercise, symbol string) float64 {
	for _, g := range x.Given {
		if g.Symbol == symbol {
			return g.Value
		}
	}
	return math.NaN()
}

// degreesOf reads an angle like "330°".
func degreesOf(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.TrimSuffix(text, "°"), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func checkSteps(t *testing.T, name string, k pattern.Kind, x *Exercise) {
	t.Helper()
	supply, sum := given(x, "V"), 0.0
	for i, cells := range x.Table.Rows {
		from, to := degreesOf(t, cells[0].Text), degreesOf(t, cells[1].Text)
		width := math.Mod(to-from+360, 360)
		sum += width
		on := stepSwitches(k, from+width/2)
		pole, line, phase := voltages(on, supply)
		want := []string{on}
		beta := (phase[1] - phase[2]) / math.Sqrt(3)
		want = append(want, fmt.Sprintf("%.0f°", math.Mod(math.Atan2(beta, phase[0])*180/math.Pi+360.01, 360)-0.01))
		for _, v := range slices.Concat(pole[:], line[:], phase[:]) {
			want = append(want, strings.Replace(fmt.Sprintf("%.0f", v), "-0", "0", 1))
			if v != math.Trunc(v) && math.Abs(v-math.Round(v)) > 1e-9 {
				t.Errorf("%s, row %d: %g V is no whole number", name, i+1, v)
			}
		}
		for j, w := range want {
			if w == "-0°" {
				w = "0°"
			}
			if got := cells[2+j].Text; got != w {
				t.Errorf("%s, row %d: column %d says %q, the pattern makes %q", name, i+1, 3+j, got, w)
			}
		}
	}
	if sum != 360 {
		t.Errorf("%s: the steps are %g degrees together", name, sum)
	}
}

func checkPeriod(t *testing.T, name string, k pattern.Kind, x *Exercise) {
	t.Helper()
	bare, shaped := references(k, given(x, "M"), given(x, "a"))
	for i, cells := range x.Table.Rows {
		on := (1 + shaped[i]) / 2
		want := []string{fmt.Sprintf("%.3f", bare[i])}
		if k != pattern.SineTriangle {
			want = append(want, fmt.Sprintf("%.3f", shaped[i]))
		}
		want = append(want, fmt.Sprintf("%.1f", 100*on), fmt.Sprintf("%.1f", 1e6*on/given(x, "fc")))
		for j, w := range want {
			got, err := strconv.ParseFloat(cells[1+j].Text, 64)
			if y, _ := strconv.ParseFloat(w, 64); err != nil || got != y {
				t.Errorf("%s, row %d: column %d says %q, worked out %s", name, i+1, 2+j, cells[1+j].Text, w)
			}
		}
	}
}

func checkSketch(t *testing.T, name string, k pattern.Kind, x *Exercise) {
	t.Helper()
	w := x.Figure.(*waves)
	supply := given(x, "V")
	_, shaped := references(k, given(x, "M"), given(x, "a"))
	for i, from := range w.edges {
		to := w.x1
		if i+1 < len(w.edges) {
			to = w.edges[i+1]
		}
		on := w.gates[i].String()
		want := ""
		if k.Stepped() {
			want = stepSwitches(k, (from+to)/2)
		} else {
			// A pulse is centred on the period's ends, where the carrier is at its minimum.
			off := 2 * min((from+to)/2, w.x1-(from+to)/2) / w.x1
			var names []string
			for p, leg := range []string{"U", "V", "W"} {
				if off <= (1+shaped[p])/2+1e-12 {
					names = append(names, leg+"+")
				} else {
					names = append(names, leg+"-")
				}
			}
			want = strings.Join(names, " ")
		}
		if on != want {
			t.Errorf("%s: from %g to %g %s are on, by the pattern %s", name, from, to, on, want)
		}
		pole, line, phase := voltages(want, supply)
		a, b := w.lanes[0].phase, w.lanes[2].phase
		for l, v := range []float64{pole[a], line[a], phase[b]} {
			if math.Abs(w.lanes[l].values[i]-v) > 1e-9*supply {
				t.Errorf("%s: %s from %g is %g V, want %g", name, w.lanes[l].name, from, w.lanes[l].values[i], v)
			}
		}
	}
	if len(w.edges) < 3 {
		t.Errorf("%s has %d edges only", name, len(w.edges))
	}
}

func checkVectors(t *testing.T, name string, x *Exercise) {
	t.Helper()
	supply := given(x, "V")
	h := x.Figure.(*hexagon)
	check := func(i int, length, deg float64) {
		t.Helper()
		cells := x.Table.Rows[i]
		l, err := strconv.ParseFloat(cells[2].Text, 64)
		if err != nil || math.Abs(l-length) > 0.0051*length {
			t.Errorf("%s, vector %s: length %s V, want %.4g", name, cells[0].Text, cells[2].Text, length)
		}
		if off := math.Remainder(degreesOf(t, cells[3].Text)-deg, 360); math.Abs(off) > 0.5 {
			t.Errorf("%s, vector %s: at %s, want %g", name, cells[0].Text, cells[3].Text, deg)
		}
		if v := h.vectors[i]; math.Abs(v.length-length) > 1e-9*length || math.Abs(math.Remainder(v.angle*180/math.Pi-deg, 360)) > 1e-6 {
			t.Errorf("%s: the figure's vector %s is %g V at %g rad", name, v.name, v.length, v.angle)
		}
	}
	ofSwitches := func(on string) (length, deg float64) {
		_, _, phase := voltages(on, supply)
		alpha, beta := phase[0], (phase[1]-phase[2])/math.Sqrt(3)
		return math.Hypot(alpha, beta), math.Atan2(beta, alpha) * 180 / math.Pi
	}
	m, deg := given(x, "M"), given(x, "a")
	if math.IsNaN(m) {
		for i, cells := range x.Table.Rows {
			length, at := ofSwitches(cells[1].Text)
			check(i, length, at)
		}
		return
	}
	k := math.Floor(deg / 60)
	check(0, m*supply/2, deg)
	check(1, 2*supply/3, 60*k)
	check(2, 2*supply/3, 60*(k+1))
	for i, share := range []float64{before(m, deg-60*k), behind(m, deg-60*k)} {
		if got, want := x.Table.Rows[i+1][4].Text, fmt.Sprintf("%.1f", 100*share); got != want {
			t.Errorf("%s: share %s, want %s", name, got, want)
		}
	}
}

// second runs drives anew, once for each fault.
var second = map[string]drive.Summary{}

func checkFault(t *testing.T, name string, s *subjectMatter, x *Exercise) {
	t.Helper()
	found := false
	most := s.ward().healthy.rms[0].whole
	for _, f := range suspects(&s.scenario, s.ward().peak) {
		if render.FaultSentence(&f) != x.Answer {
			continue
		}
		found = true
		sum, ok := second[s.name+x.Answer]
		if !ok {
			again := s.scenario
			again.Faults = []drive.Fault{f}
			var err error
			if sum, err = drive.Simulate(again); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			second[s.name+x.Answer] = sum
		}
		for i, p := range sum.Phases {
			for j, want := range []float64{p.CurrentRMS, p.CurrentMean} {
				if math.Abs(want) < 0.01*most {
					want = 0
				}
				says := "0 A"
				if want != 0 {
					says = rounded(want, "A")
				}
				if got := x.Table.Rows[i][1+j].Text; got != says {
					t.Errorf("%s: %s in %v, another run says %s", name, got, p.Phase, says)
				}
			}
		}
	}
	if !found {
		t.Errorf("%s: %q is no fault of those that are tried", name, x.Answer)
	}
	// Each of the others would have been told by a reading on the sheet.
	ill := map[string]*patient{}
	for _, p := range s.ward().ill {
		ill[p.words] = p
	}
	for i, c := range x.Choices {
		if i == x.Right {
			continue
		}
		if at, part := differs(ill[x.Answer], ill[c]); part <= apart {
			t.Errorf("%s: %q reads like %q, most different in %s", name, c, x.Answer, ill[c].readings()[at].name)
		}
	}
}

func checkLesson(t *testing.T, name string, l *lesson.Lesson, x *Exercise) {
	t.Helper()
	for _, sc := range l.Scenes {
		for _, q := range sc.Questions {
			if !strings.HasPrefix(x.Ask, printed(q.Ask)) {
				continue
			}
			if x.Answer != printed(q.Answer()) || x.Choices == nil != (q.Choices == nil) {
				t.Errorf("%s: answer %q, the lesson's is %q", name, x.Answer, q.Answer())
			}
			if q.Choices == nil && (x.Value != q.Value || x.Value == 0) {
				t.Errorf("%s: %g, the lesson has %g", name, x.Value, q.Value)
			}
			return
		}
	}
	t.Errorf("%s: the lesson does not ask %q", name, x.Ask)
}
