package drive

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"testing"

	"sextant/inverter"
	"sextant/inverter/pattern"
	"sextant/motor"
)

// A census observes a run, and stops one that gets nowhere.
type census struct {
	segments int
	mark     float64 // s, the time a thousand segments ago
	least    float64 // s, by which a thousand segments must get on
	field    float64 // J, the most that the machine's field held
	link     float64 // J, the most that the capacitor held
	motion   float64 // J, the most that a free shaft held
}

var errEndless = errors.New("the run gets nowhere")

func (c *census) Observe(s *Segment) {
	if c.segments++; c.segments%1000 == 0 {
		if s.T1-c.mark < c.least {
			panic(errEndless)
		}
		c.mark = s.T1
	}
	for _, y := range [2]*state{&s.stride.from, &s.stride.to} {
		link := s.plant.capacitance * y.link * y.link / 2
		c.link, c.field = max(c.link, link), max(c.field, s.plant.stored(y)-link)
		c.motion = max(c.motion, s.plant.inertia*y.speed*y.speed/2)
	}
}

// A run is looked at after so many pieces of it, and let be after so many segments.
const pieces, enough = 50, 20000

// closes is the part of the energy that passes which the account may miss: what the integration's tolerance is
// chosen for. A fuzzer that looks for the worst finds up to twice as much, so it is held to atWorst.
const closes, atWorst = 1e-9, 1e-8

// try runs s and returns what is wrong with the run; ended is the error by which it ended, if it did.
func try(s Scenario) (wrong []string, ended error) { return tryTo(closes, s) }

func tryTo(closes float64, s Scenario) (wrong []string, ended error) {
	fail := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	count := census{least: 1e-6 * s.Run.Measure}
	defer func() {
		if p := recover(); p != nil {
			fail("%v", p)
		}
	}()
	d, err := New(s)
	if err != nil {
		return wrong, err
	}
	l := NewLaw(&s)
	d.Watch(l)
	d.Watch(&count)
	for range pieces {
		if ended = d.Advance(s.Run.Measure / pieces); ended != nil || count.segments > enough {
			break
		}
	}
	kept(fail, l)
	a := d.Account()
	// A run in which little passes may miss a part of what is stored: of the capacitor's charge the integration
	// is free to miss 3e-10, of the field's currents and of the shaft's speed it misses far less. Rounding moves less
	// than 1e-18 J.
	floor := closes*(count.link+(count.field+count.motion)/100) + 1e-18
	if !(math.Abs(a.Residual()) <= closes*a.Passed+floor) {
		fail("energy: %g J missing of %g J that passed (%g J stored): %+v", a.Residual(), a.Passed, count.field+count.link, a)
	}
	return wrong, ended
}

// allowed reports whether err is an end that a random scenario may come to: gates and faults that short the
// supply, or a link that a weak source cannot hold up.
func allowed(err error) bool {
	var shorted *inverter.ShootThroughError
	var collapsed *linkError
	return err == nil || errors.As(err, &shorted) || errors.As(err, &collapsed)
}

// Random scenarios of every sort run to their end, or end with a clear error; they keep the laws of circuits
// and the energy account, and never hang or give what is no number.
func TestRandomScenarios(t *testing.T) { tryAll(t, 4000, scenarioOf) }

// The same of gating that follows, and of all else.
func TestRandomFollowing(t *testing.T) { tryAll(t, 1500, followedOf) }

// The same with shorted turns in a winding.
func TestRandomShortedTurns(t *testing.T) { tryAll(t, 800, shortedOf) }

func tryAll(t *testing.T, cases uint64, of func(seed uint64) Scenario) {
	ends := uint64(0)
	for seed := range cases {
		s := of(seed)
		wrong, err := try(s)
		if err != nil {
			ends++
		}
		if len(wrong) > 0 || !allowed(err) {
			text, _ := json.Marshal(s)
			t.Errorf("seed %d: %v, %v\n%s", seed, wrong, err, text)
		}
	}
	if ends == 0 || ends > cases/3 {
		t.Errorf("%d of %d scenarios ended early; the drawing of scenarios is off", ends, cases)
	}
	t.Logf("seeds 0 to %d; %d end early", cases-1, ends)
}

// An upper switch of U is shorted and nothing else conducts, when the EMF brings W's terminal to the same rail: W's
// diode has to take over, and at the very instant, whose rounding once kept it from doing so for ever.
func TestSpansPartBesideAShortedLeg(t *testing.T) {
	s := Scenario{
		Supply: Supply{Voltage: 46.0756813927872},
		Gating: Gating{Chop: 1, Settings: pattern.Settings{Kind: pattern.AllOff}},
		Machine: motor.Machine{
			PolePairs: 3, Resistance: 0.10568931829340326, FluxLinkage: 0.02902072464519183,
			InductanceD: 0.000026768248909721046, InductanceQ: 0.00002513634342939017,
		},
		Shaft: Shaft{
			Free: true, StartSpeed: -211.89935039772593, StartAngle: -2.1982073032999105,
			Inertia: 0.16038378734920944, Friction: 0.055019019407977925,
		},
		Switches: Switches{DiodeResistance: 0.06972800190994355, BothWays: true},
		Faults:   []Fault{{Kind: SwitchShort, Time: 0.010266850723003382}},
		Run:      Window{Measure: 0.023027449030050714},
	}
	if wrong, err := try(s); len(wrong) > 0 || err != nil {
		t.Errorf("%v, %v", wrong, err)
	}
}

// W and U carry current by their lower and upper diode while V's terminal, at rest, comes to the lower rail just ahead of
// a bend of the EMF. V's current then starts so slowly that a stride across the bend hardly misses, for the size of the
// others, and yet once told V to stop as soon as it started, for ever.
func TestLegStartsAheadOfABend(t *testing.T) {
	s := Scenario{
		Supply: Supply{Voltage: 344.7245331910921},
		Gating: Gating{Chop: 1, Settings: pattern.Settings{Kind: pattern.AllOff}},
		Machine: motor.Machine{
			PolePairs: 5, FluxLinkage: 0.3762023207491633, EMF: motor.Trapezoid,
			InductanceD: 0.02380828205199263, InductanceQ: 0.02380828205199263,
		},
		Shaft: Shaft{
			Free: true, StartSpeed: 338.37251865838834, StartAngle: 4.742323004474482,
			Inertia: 0.484532868417125, Friction: 0.0015160231689763022, Coulomb: 2.6251479649163856, Quadratic: 0.00017261332541835801,
		},
		Faults: []Fault{{Kind: TurnsShorted, Phase: inverter.V, Time: 0.06537637642875252, Until: 1.0291656761281973, Value: 0.5453570452541702}},
		Run: Window{
			Measure:         0.1,
			InitialCurrents: inverter.ABC{173.21942839035222, -84.6652806821234, -88.55414770822883},
		},
	}
	if wrong, err := try(s); len(wrong) > 0 || err != nil {
		t.Errorf("%v, %v", wrong, err)
	}
}

// The EMF of a trapezoidal machine is straight between its bends, six in a turn, and the integration knows where they
// are: beside a sine's it costs no more than two strides a bend.
func TestNothingBendsInsideAStride(t *testing.T) {
	const turns = 20
	strides := func(emf motor.EMF) int {
		m := machineA
		m.EMF = emf
		s := turning(m, pattern.SixStep120, 350, 1000, 0, 1)
		s.Gating.Follow = Rotor
		d, law := watched(t, s)
		var count census
		d.Watch(&count)
		if err := d.Advance(turns / 4. * 60 / 1000); err != nil {
			t.Fatal(err)
		}
		kept(t.Errorf, law)
		return count.segments
	}
	if bent, smooth := strides(motor.Trapezoid), strides(motor.Sine); bent > smooth+2*6*turns {
		t.Errorf("%d strides in %d turns, %d where nothing bends", bent, turns, smooth)
	}
}

// Nothing drives a current, so that rounding alone says which of two legs carries it out and which one back: one of
// each, or they never settle.
func TestTwoLegsReturnWhatTheyCarry(t *testing.T) {
	s := Scenario{
		Supply: Supply{Voltage: 141.0368167315102},
		Gating: Gating{Chop: 1, Settings: pattern.Settings{Kind: pattern.AllHigh}},
		Machine: motor.Machine{
			PolePairs: 5, Resistance: 0.0010729655663816403, InductanceD: 0.010709177681245711, InductanceQ: 0.010709177681245711,
		},
		Shaft: Shaft{
			Free: true, StartSpeed: 357.0069641972069, StartAngle: 3.7370862871919277,
			Inertia: 0.0016370898499279219, LoadTorque: -11.744679480395321, Friction: 0.0003142570617824154,
		},
		Switches: Switches{ChannelResistance: 0.012569785837664112},
		Faults: []Fault{
			{Kind: PhaseOpen, Phase: inverter.U, Time: 0.16047403207973926},
			{Kind: GateStuckOn, Switch: inverter.VHigh},
			{Kind: DiodeOpen, Switch: inverter.VLow, Time: 0.14540229633717458},
			{Kind: TurnsShorted, Phase: inverter.U, Time: 0.14210626208550317, Value: 0.010218195764929815},
		},
		Run: Window{Measure: 0.16564763370902838},
	}
	if wrong, err := try(s); len(wrong) > 0 || err != nil {
		t.Errorf("%v, %v", wrong, err)
	}
}

// What is left of a link whose supply has sagged to nothing is judged by what it was: a small capacitor that has emptied
// into a resistance asks for no more strides than stability does, which of this method on a decay is 3.3 time constants
// (Hairer, Wanner, Solving Ordinary Differential Equations II, section IV.2; from memory).
func TestSagToNothing(t *testing.T) {
	s := turning(machineB, pattern.AllHigh, 70, -20, 0, 1)
	s.Supply.Resistance, s.Supply.Capacitance = 0.09, 4e-6
	s.Faults = []Fault{{Kind: SupplySag, Time: 1e-5}}
	s.Run.InitialCurrents = inverter.ABC{-200, 175, 25}
	d, law := watched(t, s)
	var count census
	d.Watch(&count)
	const constants = 1000
	if err := d.Advance(1e-5 + constants*s.Supply.Resistance*s.Supply.Capacitance); err != nil {
		t.Fatal(err)
	}
	kept(t.Errorf, law)
	if count.segments > constants {
		t.Errorf("%d strides in %d time constants", count.segments, constants)
	}
}
