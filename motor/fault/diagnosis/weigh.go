package diagnosis

import (
	"cmp"
	"math"
	"math/cmplx"
	"slices"

	"sextant/inverter"
)

// Where signs begin, as parts of the fundamental's peak. They were chosen on one half of the bench in this
// package's tests and are judged on the other.
const (
	openBegins   = 0.20  // a phase below this part of the largest carries nothing
	sumBegins    = 0.080 // what the three recorded currents sum to: clamps and probes err by a few per cent
	evenBegins   = 0.045 // even orders; healthy drives make some only by chopping, and then no negative sequence with them
	meanBegins   = 0.15  // a mean current that no one sensor explains
	offsetBegins = 0.07  // a mean current where one current is derived
	skewBegins   = 0.055 // negative sequence
	limpBegins   = 0.025 // the least negative sequence that an open switch leaves beside them
	bentBegins   = 0.080 // what it leaves where it shows well
	shortBegins  = 1.58  // one-way flow of all phases, twice, and the negative sequence together: an open switch leaves less
	shortEnds    = 0.55  // the negative sequence that a short leaves at most while the shaft keeps its speed
	allBegins    = 0.975 // one-way flow of all phases that only a short makes, whatever the speed does
	stuckBegins  = 0.43  // the negative sequence that a stuck position sensor may leave beside a mean,
	stuckMeans   = 0.68  // and leaves with half the mean: an open switch leaves less
	stuckOff     = 0.3   // rad from the nearest axis of a phase: a long mean of an open switch lies nearer
	astrayBegins = 0.68  // the cosine of the angle between the mean-current vector and where a switch puts it
	// certain is the confidence below which the verdict is unclear.
	certain = 0.65
)

// present returns how surely a sign of size x lies above where it begins, from 0 to 1, given its standard
// error: a logistic curve, which with 0.55 of a standard deviation for its scale is close to the normal one.
func present(x, begins, doubt float64) float64 {
	return 1 / (1 + math.Exp(-(x-begins)/max(0.12*begins, 0.55*doubt)))
}

// beyond is present with a scale of its own, for what parts two great signs of unlike faults.
func beyond(x, begins, scale, doubt float64) float64 {
	return 1 / (1 + math.Exp(-(x-begins)/max(scale, 0.55*doubt)))
}

// outdone returns to what part y outdoes x.
func outdone(x, y float64) float64 {
	if x == 0 && y == 0 {
		return 0
	}
	return y * y / (x*x + y*y)
}

func absent(x, begins, doubt float64) float64 { return 1 - present(x, begins, doubt) }

// A suspicion says from 0 to 1 how surely each thing is amiss with a capture, by itself.
type suspicion struct {
	open     float64 // a phase carries nothing,
	weakest  inverter.Phase
	sumMean  float64 // the three currents sum to a mean,
	byOffset float64 // and one sensor's offset explains it
	sumLine  float64 // they sum to a fundamental,
	byGain   float64 // and one sensor's gain explains it
	moved    float64 // a mean flows that half a leg would not make
	lopsided float64 // half-waves differ as half a leg makes them
	uneven   float64 // they differ otherwise
	skewed   float64 // phases differ
	shorted  float64 // all phases flow one way only, as to one rail,
	short    inverter.Switch
	stuck    float64 // the steps of half a turn are missing, as of a bridge that one position sensor misleads
}

func (g *signs) suspect() suspicion {
	var x suspicion
	d := g.doubt
	// Noise adds up where several orders or currents are taken together.
	evenDoubt, sumDoubt := 1.5*d, 1.75*d
	for _, p := range inverter.Phases {
		if g.level[p] < g.level[x.weakest] {
			x.weakest = p
		}
	}
	// Where the sum is as large as a phase's current, the current flows and its clamp is dead.
	x.open = absent(g.level[x.weakest], openBegins, 1.4*d) * absent(g.gain.size, 0.3, 0)
	if !g.Derived {
		x.sumMean = present(g.offset.size, sumBegins, sumDoubt)
		x.sumLine = present(g.gain.size, sumBegins, 1.4*sumDoubt)
	}
	x.byOffset = x.sumMean * present(g.offset.fit, 0.4, 0)
	x.byGain = x.sumLine * present(g.gain.fit, 0.35, 0)

	mean := cmplx.Abs(g.mean)
	limp := present(g.skew, limpBegins, d)
	// An open switch makes even orders and a negative sequence, an offset neither.
	bent := math.Hypot(g.even/evenBegins, g.skew/bentBegins)
	uneven := present(math.Hypot(g.even/evenBegins, mean/meanBegins), 1, math.Hypot(evenDoubt/evenBegins, d/meanBegins)/math.Sqrt2)
	begins := meanBegins / 2
	x.lopsided, x.uneven = uneven*limp, uneven*(1-limp)
	if g.Derived { // a clamp's offset is in the mean
		begins = offsetBegins
		x.lopsided *= present(bent, 1, evenDoubt/evenBegins)
		x.uneven *= present(g.even, evenBegins, evenDoubt)
	}
	x.moved = present(mean, begins, d) * absent(bent, 1, evenDoubt/evenBegins)
	x.skewed = present(g.skew, skewBegins, d)
	length, negative := cmplx.Abs(g.meanRaw), g.Negative()
	var oneWay float64
	x.short, oneWay = g.whichShort()
	// A stuck sensor lets some current through the other way, and drives more of it backwards.
	all := beyond(oneWay, allBegins, 0.012, d)
	between := beyond(offAxis(cmplx.Phase(g.meanRaw)), stuckOff, 0.05, ratio(d, length))
	x.shorted = beyond(2*oneWay+negative, shortBegins, 0.03, d) * max(all, 1-beyond(negative, shortEnds, 0.03, d))
	x.stuck = (1 - x.shorted) * (1 - all) * max(between, beyond(negative, stuckBegins, 0.03, d)) * beyond(negative+length/2, stuckMeans, 0.03, d) * present(g.even, 2*evenBegins, evenDoubt)
	gross := (1 - x.shorted) * (1 - x.stuck)
	x.open *= gross
	x.lopsided *= gross
	x.moved *= gross
	x.skewed *= gross
	return x
}

// weigh returns the suspects, likeliest first, with scores that sum to 1 at most. What is greater outdoes what
// is less: a sum is a sensor's fault only where nothing greater is amiss.
func (g *signs) weigh() []Ranked {
	x := g.suspect()
	all := []Ranked{
		{Suspect: Suspect{Fault: Healthy}, Score: (1 - x.open) * (1 - x.sumMean) * (1 - x.sumLine) * (1 - x.lopsided) * (1 - x.uneven) * (1 - x.skewed) * (1 - x.moved) * (1 - x.shorted) * (1 - x.stuck)},
		{Suspect: Suspect{PhaseOpen, x.weakest.String()}, Score: x.open},
		{Suspect: Suspect{SwitchShort, x.short.String()}, Score: x.shorted},
	}
	for i, w := range g.whichStuck() {
		all = append(all, Ranked{Suspect: Suspect{PositionStuck, inverter.Phase(i).String()}, Score: x.stuck * w})
	}
	all = append(all, g.sensors(x)...)
	alike := func(size float64) float64 { // that no sensor's error exceeds a sign of that size
		return (1 - x.byOffset*outdone(size, g.offset.size)) * (1 - x.byGain*outdone(size, g.gain.size))
	}
	half := (1 - x.open) * x.lopsided * alike(math.Hypot(cmplx.Abs(g.mean), g.even))
	for i, w := range g.whichSwitch() {
		s := inverter.Switch(i)
		if length := cmplx.Abs(g.mean); length > 0 { // a short vector's angle says little
			w *= beyond(math.Cos(cmplx.Phase(g.mean)-openMean(s)), astrayBegins, 0.06, 2*g.doubt/length)
		}
		all = append(all, Ranked{Suspect: Suspect{SwitchOpen, s.String()}, Score: half * w})
	}
	skew := (1 - x.open) * (1 - x.lopsided) * x.skewed * alike(g.skew) * (1 - x.moved*outdone(g.skew, cmplx.Abs(g.mean)))
	byClamp, clamps := g.whichClamp()
	for i, w := range g.whichResistance() {
		at := inverter.Phase(i).String()
		all = append(all,
			Ranked{Suspect: Suspect{PhaseResistance, at}, Score: skew * w * (1 - byClamp)},
			Ranked{Suspect: Suspect{SensorGain, at}, Score: skew * byClamp * clamps[i].fit, value: clamps[i].value})
	}
	return scaled(merged(all))
}

// sensors returns the sensors suspected by what the currents sum to, and by a mean that is none of a switch's.
func (g *signs) sensors(x suspicion) []Ranked {
	var all []Ranked
	whole := (1 - x.open) * (1 - x.lopsided) * (1 - x.shorted) * (1 - x.stuck)
	for _, e := range g.moved {
		all = append(all, Ranked{Suspect: Suspect{SensorOffset, e.phase.String()}, Score: whole * x.moved * e.fit * (1 - x.byOffset) * (1 - x.byGain), value: e.value, own: e.own})
	}
	if g.Derived {
		return all
	}
	gain := whole * x.byGain * (1 - x.skewed*outdone(g.gain.size, g.skew)) * (1 - x.byOffset*outdone(g.gain.size, g.offset.size))
	offset := whole * x.byOffset * (1 - x.skewed*outdone(g.offset.size, g.skew)) * (1 - x.byGain*outdone(g.offset.size, g.gain.size))
	return append(all,
		Ranked{Suspect: Suspect{SensorGain, g.gain.phase.String()}, Score: gain, value: g.gain.value},
		Ranked{Suspect: Suspect{SensorOffset, g.offset.phase.String()}, Score: offset, value: g.offset.value})
}

// scaled makes scores sum to 1 at most.
func scaled(all []Ranked) []Ranked {
	total := 0.0
	for _, r := range all {
		total += r.Score
	}
	for i := range all {
		all[i].Score /= max(total, 1)
	}
	return all
}

// merged joins suspicions of the same fault at the same place, such as a clamp's and the drive's own sensor's,
// of which the likeliest speaks for all. It returns the likeliest first.
func merged(all []Ranked) []Ranked {
	likeliest := func(a, b Ranked) int { return cmp.Compare(b.Score, a.Score) }
	slices.SortStableFunc(all, likeliest)
	var out []Ranked
	for _, r := range all {
		if i := slices.IndexFunc(out, func(o Ranked) bool { return o.Suspect == r.Suspect }); i >= 0 {
			out[i].Score += r.Score
			continue
		}
		out = append(out, r)
	}
	slices.SortStableFunc(out, likeliest)
	return out
}
