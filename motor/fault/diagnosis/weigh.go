package diagnosis

import (
	"cmp"
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"sextant/inverter"
	"sextant/motor/fault/signature"
)

const pi = math.Pi

// Where signs begin, as parts of the fundamental's peak. They were chosen on one half of the bench in this
// package's tests and are judged on the other.
const (
	openBegins   = 0.20  // a phase below this part of the largest carries nothing
	sumBegins    = 0.080 // what the three recorded currents sum to: clamps and probes err by a few per cent
	evenBegins   = 0.045 // even orders: healthy drives stay below 0.01
	meanBegins   = 0.15  // a mean current that no one sensor explains
	offsetBegins = 0.07  // a mean current where one current is derived
	skewBegins   = 0.055 // negative sequence
	limpBegins   = 0.025 // the negative sequence that an open switch leaves, too
	// certain is the confidence below which the verdict is unclear.
	certain = 0.65
)

// signs are a signature's numbers as the faults are weighed by, over the fundamental's peak.
type signs struct {
	*signature.Signature
	amplitude float64    // A
	doubt     float64    // standard error
	level     [3]float64 // what each phase carries, of the largest
	mean      complex128 // mean vector, less what one sensor's offset explains
	meanRaw   complex128 // mean vector as recorded
	even      float64
	skew      float64 // negative sequence, less what one sensor's gain explains
	shortfall inverter.ABC
	offset    sensorError
	gain      sensorError
	moved     []sensorError // who may have moved the mean while the sum shows nothing
}

// A sensorError is what one sensor would have to be wrong by to explain the recorded sum.
type sensorError struct {
	phase inverter.Phase
	size  float64 // of the sum, over the fundamental's peak
	value float64 // A, or part of the true current
	fit   float64 // 0 to 1: how well one sensor explains it, or its share of the suspicion
	own   bool    // the drive's own sensor, by which it controls
}

func read(s *signature.Signature) signs {
	g := signs{Signature: s, amplitude: s.Amplitude(), doubt: s.Doubt(), even: s.Even(), shortfall: s.Shortfall()}
	largest := 0.0
	for k, f := range s.Fundamental {
		g.level[k] = math.Hypot(cmplx.Abs(f), math.Sqrt2*s.Mean[k])
		largest = max(largest, g.level[k])
	}
	for k := range g.level {
		g.level[k] /= largest
	}
	a := complex(g.amplitude, 0)
	g.meanRaw = s.Vector[signature.Orders] / a
	g.mean = g.meanRaw
	g.skew = s.Negative()
	if !s.Derived {
		g.offset = g.offsetOf()
		g.gain = g.gainOf()
	}
	g.moved = g.whoMoved()
	return g
}

// axis returns a unit vector along a phase's axis.
func axis(p inverter.Phase) complex128 { return cmplx.Rect(1, p.Axis()) }

// offsetOf finds the sensor whose offset explains the mean of the sum and most of the mean vector: an offset
// o of one sensor moves the sum by o and the vector by 2/3 o along its phase's axis. The mean is then rid
// of it.
func (g *signs) offsetOf() sensorError {
	o := g.SumMean / g.amplitude
	best := sensorError{size: math.Abs(o), value: g.SumMean}
	least := math.Inf(1)
	for _, p := range inverter.Phases {
		rest := cmplx.Abs(g.meanRaw - complex(2*o/3, 0)*axis(p))
		if rest < least {
			least, best.phase = rest, p
		}
	}
	best.fit = 1 - min(1, least/max(2*best.size/3, 1e-12))
	if present(best.size, sumBegins, g.doubt) > 0.5 && best.fit > 0.4 {
		g.mean = g.meanRaw - complex(2*o/3, 0)*axis(best.phase)
	}
	return best
}

// gainOf finds the sensor whose gain explains the fundamental of the sum: that is along its own phase's. The
// negative sequence is then taken without it.
func (g *signs) gainOf() sensorError {
	z := g.SumLine
	best := sensorError{size: cmplx.Abs(z) / g.amplitude, fit: -1}
	for _, p := range inverter.Phases {
		f := g.Fundamental[p]
		// A gain of 1 + e makes the sum e times the true current.
		carried := f - z
		if cmplx.Abs(carried) < 1e-12*g.amplitude {
			continue
		}
		e := z / carried
		if fit := math.Abs(real(e)) / cmplx.Abs(e); fit > best.fit && real(e) > -1.2 {
			best.phase, best.value, best.fit = p, real(e), fit
		}
	}
	// Phases' lines lie 60 degrees apart, so that a half of it is where one explains no better than the next.
	best.fit = max(0, (best.fit-math.Cos(pi/6))/(1-math.Cos(pi/6)))
	if present(best.size, sumBegins, 2*g.doubt) > 0.5 && best.fit > 0.3 {
		fs := g.Fundamental
		fs[best.phase] -= z
		plus, minus := sequences(fs)
		big, small := max(cmplx.Abs(plus), cmplx.Abs(minus)), min(cmplx.Abs(plus), cmplx.Abs(minus))
		g.skew = small / big
	}
	return best
}

// sequences returns the positive and negative sequence of three phasors, as phase U's.
//
// C. L. Fortescue, "Method of symmetrical co-ordinates", Trans. AIEE 37 (1918) 1027.
func sequences(f [3]complex128) (plus, minus complex128) {
	a := cmplx.Rect(1, 2*pi/3)
	return (f[0] + a*f[1] + a*a*f[2]) / 3, (f[0] + a*a*f[1] + a*f[2]) / 3
}

// present returns how surely a sign of size x lies above where it begins, from 0 to 1, given its standard
// error: a logistic curve, which with 0.55 of a standard deviation for its scale is close to the normal one.
func present(x, begins, doubt float64) float64 {
	return 1 / (1 + math.Exp(-(x-begins)/max(0.12*begins, 0.55*doubt)))
}

// outdone returns to what part y outdoes x.
func outdone(x, y float64) float64 {
	if x == 0 && y == 0 {
		return 0
	}
	return y * y / (x*x + y*y)
}

func absent(x, begins, doubt float64) float64 { return 1 - present(x, begins, doubt) }

// weigh returns the suspects, likeliest first, with scores that sum to 1 at most.
func (g *signs) weigh() []Ranked {
	d := g.doubt
	// Two orders' noise adds up in the even ones and in a vector, three sensors' in the sum.
	evenDoubt, sumDoubt := 1.5*d, 1.75*d
	sumMean, sumLine := 0.0, 0.0
	if !g.Derived {
		sumMean = present(g.offset.size, sumBegins, sumDoubt)
		sumLine = present(g.gain.size, sumBegins, 1.4*sumDoubt)
	}
	// What the sum says is the sensors' only as far as one of them explains it and nothing greater is amiss.
	byOffset, byGain := sumMean*present(g.offset.fit, 0.4, 0), sumLine*present(g.gain.fit, 0.35, 0)
	bent := math.Hypot(cmplx.Abs(g.mean), g.even)
	lopsided := present(math.Hypot(g.even/evenBegins, cmplx.Abs(g.mean)/meanBegins), 1, math.Hypot(evenDoubt/evenBegins, d/meanBegins)/math.Sqrt2)
	limp := present(g.skew, limpBegins, d)
	odd := lopsided * (1 - limp) // neither healthy nor an open switch
	lopsided *= limp
	begins := meanBegins / 2
	if g.Derived {
		begins = offsetBegins
	}
	// Half a leg missing makes even orders and a negative sequence; an offset makes neither.
	moved := present(cmplx.Abs(g.mean), begins, d) * absent(math.Hypot(g.even/evenBegins, g.skew/0.08), 1, evenDoubt/evenBegins)
	if g.Derived {
		lopsided *= present(math.Hypot(g.even/evenBegins, g.skew/0.08), 1, evenDoubt/evenBegins)
		odd *= present(g.even, evenBegins, evenDoubt)
	}
	skewed := present(g.skew, skewBegins, d)

	weakest := inverter.U
	for _, p := range inverter.Phases {
		if g.level[p] < g.level[weakest] {
			weakest = p
		}
	}
	open := absent(g.level[weakest], openBegins, 1.4*d) * absent(g.gain.size, 0.3, 0)

	var all []Ranked
	add := func(score float64, fault Fault, at fmt.Stringer, value float64) {
		s := Suspect{Fault: fault}
		if at != nil {
			s.At = at.String()
		}
		all = append(all, Ranked{Suspect: s, Score: score, value: value})
	}
	whole := 1 - open
	add(whole*(1-sumMean)*(1-sumLine)*(1-lopsided)*(1-odd)*(1-skewed)*(1-moved), Healthy, nil, 0)
	add(open, PhaseOpen, weakest, 0)
	for _, w := range g.moved {
		add(whole*moved*(1-lopsided)*w.fit*(1-byOffset)*(1-byGain), SensorOffset, w.phase, w.value)
		all[len(all)-1].own = w.own
	}
	if !g.Derived {
		others := (1 - lopsided) * (1 - skewed*outdone(g.gain.size, g.skew))
		add(whole*byGain*others*(1-byOffset*outdone(g.gain.size, g.offset.size)), SensorGain, g.gain.phase, g.gain.value)
		others = (1 - lopsided) * (1 - skewed*outdone(g.offset.size, g.skew))
		add(whole*byOffset*others*(1-byGain*outdone(g.offset.size, g.gain.size)), SensorOffset, g.offset.phase, g.offset.value)
	}
	clear := func(size float64) float64 {
		return (1 - byOffset*outdone(size, g.offset.size)) * (1 - byGain*outdone(size, g.gain.size))
	}
	for i, w := range g.whichSwitch() {
		add(whole*clear(bent)*lopsided*w, SwitchOpen, inverter.Switch(i), 0)
	}
	joint := whole * clear(g.skew) * (1 - lopsided) * skewed
	joint *= 1 - moved*outdone(g.skew, cmplx.Abs(g.mean))
	byClamp, clamps := 0.0, [3]sensorError{}
	if g.Derived {
		byClamp, clamps = g.whichClamp()
	}
	for i, w := range g.whichResistance() {
		p := inverter.Phase(i)
		add(joint*w*(1-byClamp), PhaseResistance, p, 0)
		add(joint*clamps[p].fit*byClamp, SensorGain, p, clamps[p].value)
	}
	slices.SortStableFunc(all, func(a, b Ranked) int { return cmp.Compare(b.Score, a.Score) })
	all = merged(all)
	total := 0.0
	for _, r := range all {
		total += r.Score
	}
	if total > 1 {
		for i := range all {
			all[i].Score /= total
		}
	}
	return all
}

// merged joins suspicions of the same fault at the same place, such as a clamp's and the drive's own sensor's;
// the likeliest speaks for all. It expects and returns the likeliest first.
func merged(all []Ranked) []Ranked {
	var out []Ranked
	for _, r := range all {
		i := slices.IndexFunc(out, func(o Ranked) bool { return o.Suspect == r.Suspect })
		if i < 0 {
			out = append(out, r)
			continue
		}
		out[i].Score += r.Score
	}
	slices.SortStableFunc(out, func(a, b Ranked) int { return cmp.Compare(b.Score, a.Score) })
	return out
}

// whichSwitch returns how the six switches share the suspicion that one stays open. Two published signs vote:
// the angle of the mean-current vector, exact where the voltage is given, and which phase carries less than
// its share in absolute value, which holds where a current control drives the other two against it.
func (g *signs) whichSwitch() [6]float64 {
	// A control leaves a mean of about half the fundamental; a longer one comes of voltage that is given, and
	// a short one may be half a clamp's offset.
	length := cmplx.Abs(g.mean)
	trust := max(0.3, min(1, 4*length)) + max(0, min(3, 8*(length-0.65)))
	var vote [6]float64
	for i := range vote {
		s := inverter.Switch(i)
		p := s.Leg()
		others := (g.shortfall[p.Next()] + g.shortfall[p.Next().Next()]) / 2
		lack := max(-1, min(1, (g.shortfall[p]-others)/0.2))
		vote[i] = trust*math.Cos(cmplx.Phase(g.mean)-openMean(s)) + lack
		if side := g.Mean[p]; (side > 0) == s.High() {
			vote[i]-- // its phase leans the other way
		}
	}
	var w [6]float64
	copy(w[:], share(vote[:], 0.12))
	return w
}

// whichResistance returns how the phases share the suspicion of a bad joint. A resistance r added to one phase
// moves the currents as the voltage -r i in it would: with the impedance Z of each phase the negative sequence
// there is -r i/(3Z). So -3 times the negative sequence over the phase's own current has the angle of 1/Z,
// 0 to -90 degrees, for the phase that is at fault, and lies 120 degrees further on for the others.
func (g *signs) whichResistance() [3]float64 {
	f := g.Fundamental
	place := [3]inverter.Phase{inverter.U, inverter.V, inverter.W}
	if g.Reversed {
		f[1], f[2] = f[2], f[1]
		place[1], place[2] = place[2], place[1]
	}
	_, minus := sequences(f)
	vote := make([]float64, 3)
	for k := range f {
		own := minus * cmplx.Rect(1, 2*pi/3*float64(k))
		if f[k] == 0 {
			continue
		}
		vote[place[k]] = math.Cos(cmplx.Phase(-own/f[k]) + pi/4)
	}
	var w [3]float64
	copy(w[:], share(vote, 0.2))
	return w
}

// whichClamp returns, where one current is derived, how surely a clamp's gain rather than a bad joint skews the
// phases, and how the clamps share that suspicion. A gain of 1 + e of phase p's clamp adds e times its current
// there and takes as much from the derived current; so from the negative sequence follows e/(1 + e), and the
// more surely the more nearly it is real. A bad joint in an inductive machine makes it so by chance only.
func (g *signs) whichClamp() (surely float64, clamps [3]sensorError) {
	plus, minus := sequences(g.Fundamental)
	turn := 4 * pi / 3
	if g.Reversed {
		minus, turn = plus, -turn
	}
	most, sum := 0.0, 0.0
	for _, p := range inverter.Phases {
		if p == g.Third || g.Fundamental[p] == 0 {
			continue
		}
		unit := cmplx.Rect(1, turn*float64(p)) - cmplx.Rect(1, turn*float64(g.Third))
		q := 3 * minus / (g.Fundamental[p] * unit)
		e := real(q / (1 - q))
		fit := 0.0
		if q != 0 && e > -1 {
			fit = present(math.Abs(real(q))/cmplx.Abs(q), 0.93, 0.05)
		}
		clamps[p] = sensorError{phase: p, value: e, fit: fit}
		most, sum = max(most, fit), sum+fit
	}
	if sum == 0 {
		return 0, clamps
	}
	for p := range clamps {
		clamps[p].fit /= sum
	}
	joint := 0.0
	for _, p := range inverter.Phases {
		joint = max(joint, math.Cos((g.lag(p)-45)*pi/180))
	}
	joint = present(joint, 0.6, 0.1)
	return most / (most + joint), clamps
}

// whoMoved returns the sensors whose offset may have moved the mean vector though the sum is none. The drive's
// own, where it controls by it: a control drives -2/3 o along the axis of a sensor that is o off. And where
// one current is derived, either of the two recorded: an offset o moves the derived current by -o.
func (g *signs) whoMoved() []sensorError {
	var who []sensorError
	var vote []float64
	add := func(p inverter.Phase, unit complex128, own bool) {
		o := real(g.mean*cmplx.Conj(unit)) / real(unit*cmplx.Conj(unit))
		who = append(who, sensorError{phase: p, value: o * g.amplitude, own: own})
		vote = append(vote, -ratio(cmplx.Abs(g.mean-complex(o, 0)*unit), cmplx.Abs(g.mean)))
	}
	for _, p := range inverter.Phases {
		add(p, complex(-2.0/3, 0)*axis(p), true)
		if g.Derived && p != g.Third {
			add(p, complex(2.0/3, 0)*(axis(p)-axis(g.Third)), false)
		}
	}
	for i, w := range share(vote, 0.08) {
		who[i].fit = w
	}
	return who
}

func ratio(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}

// share turns votes into shares that sum to 1; a lead of scale is worth a factor of e.
func share(votes []float64, scale float64) []float64 {
	most := slices.Max(votes)
	w := make([]float64, len(votes))
	sum := 0.0
	for i, v := range votes {
		w[i] = math.Exp((v - most) / scale)
		sum += w[i]
	}
	for i := range w {
		w[i] /= sum
	}
	return w
}
