package symptom

import (
	"errors"
	"fmt"
	"math"

	"sextant/motor"
	"sextant/motor/drive"
)

// Symptoms is what a fault does to a drive.
type Symptoms struct {
	Fault    string        `json:"fault"`
	At       string        `json:"at,omitempty"`
	Value    *float64      `json:"value,omitempty"` // in the SI unit of the kind's
	Cautions []string      `json:"cautions"`
	Healthy  drive.Summary `json:"healthy"` // of the scenario as it stands, its own faults left out
	Faulty   drive.Summary `json:"faulty"`  // of the same with the fault from the start
	Signs    []string      `json:"signs"`
	Meter    Meter         `json:"meter"`
	States   []Comparison  `json:"states"` // with the shaft held
	Start    *Start        `json:"start,omitempty"`

	Scenario drive.Scenario `json:"-"` // without faults
	As       drive.Fault    `json:"-"`
}

// A Comparison is of one state of the drive, without and with the fault.
type Comparison struct {
	State   State    `json:"state"`
	Healthy Figures  `json:"healthy"`
	Faulty  Figures  `json:"faulty"`
	Signs   []string `json:"signs"`
	Failed  string   `json:"failed,omitempty"` // why the faulty drive could not be run to its end

	Scenario drive.Scenario `json:"-"` // of the healthy drive
	iq       float64        // its mean, A
}

// last observes how a run ends.
type last struct{ drive.Instant }

func (l *last) Observe(s *drive.Segment) { l.Instant = s.At(s.T1) }

// scanPoints is at how many rotor angles a start is tried.
const scanPoints = 72

// Of returns what fault f does to drive s, whose own faults are left out. A value of NaN is that of [Value].
// It fails where the scenario or the fault is out of range, and where the healthy drive cannot be run.
func Of(s drive.Scenario, f drive.Fault) (*Symptoms, error) {
	b, err := baseOf(s)
	if err != nil {
		return nil, err
	}
	return b.symptoms(f, scanPoints)
}

// A base is a healthy drive with the states that faults are looked at in.
type base struct {
	scenario drive.Scenario
	summary  drive.Summary
	states   []Comparison
	peak     float64  // greatest phase current of the healthy drive, A
	dq       motor.DQ // its mean current when motoring
	sense    float64
}

// baseOf runs drive s healthy.
func baseOf(s drive.Scenario) (*base, error) {
	s.Faults = nil
	var end last
	sum, err := drive.Simulate(s, &end)
	if err != nil {
		return nil, err
	}
	b := &base{scenario: s, summary: sum, sense: 1}
	for _, p := range sum.Phases {
		b.peak = math.Max(b.peak, p.CurrentPeak)
	}
	iq := sum.Machine.IQMean
	h := held(s, end.Speed, iq)
	if h.Shaft.Speed < 0 || s.Gating.Follow == drive.Clock && s.Gating.Frequency < 0 {
		b.sense = -1
	}
	first, err := b.healthy(h)
	if err != nil {
		return nil, err
	}
	b.dq = motor.DQ{D: sum.Machine.IDMean, Q: iq}
	b.states = append(b.states, first)
	if m, ok := mirrored(h, first.iq); ok {
		// A drive that cannot be turned round, such as one whose supply takes nothing back, is looked at as it is.
		if second, err := b.healthy(m); err == nil && second.State != first.State {
			b.states = append(b.states, second)
		}
	}
	if len(b.states) == 2 && b.states[0].State == Generating {
		b.states[0], b.states[1] = b.states[1], b.states[0]
		b.dq.Q = -b.dq.Q
	}
	return b, nil
}

// healthy runs held scenario s and names its state by the way that power flows at the shaft, or out of the
// supply where nothing turns.
func (b *base) healthy(s drive.Scenario) (Comparison, error) {
	sum, err := observed(s)
	if err != nil {
		return Comparison{}, err
	}
	c := Comparison{Healthy: figures(sum, b.sense), Scenario: s, iq: sum.Machine.IQMean}
	power := sum.Machine.ShaftPower
	if power == 0 {
		power = sum.Supply.Power
	}
	if power < 0 {
		c.State = Generating
	}
	return c, nil
}

// observed runs s with as many harmonics as there is a fundamental for.
func observed(s drive.Scenario) (drive.Summary, error) {
	run := drive.Simulation{Scenario: s}
	if s.ElectricalFrequency() > 0 {
		run.Orders = Orders
	}
	return run.Run()
}

// symptoms returns what fault f does, with a start tried at so many angles.
func (b *base) symptoms(f drive.Fault, scan int) (*Symptoms, error) {
	f.Time, f.Until = 0, 0
	x := &Symptoms{Fault: f.Kind.String(), At: Place(f), Scenario: b.scenario, Healthy: b.summary}
	if f.Kind.TakesValue() {
		if math.IsNaN(f.Value) {
			f.Value = Value(f.Kind, &b.scenario, b.peak)
		}
		x.Value = &f.Value
	}
	x.As = f
	faulty := b.scenario
	faulty.Faults = []drive.Fault{f}
	if err := faulty.Validate(); err != nil {
		return nil, err
	}
	x.Meter = metered(&b.scenario, f)
	x.Cautions = append(atOnce(f.Kind, b.scenario.Machine), Cautions(b.scenario.Machine)...)
	var failed string
	sum, err := drive.Simulate(faulty)
	if err != nil {
		if failed, err = brokeDown(err); err != nil {
			return nil, err
		}
	}
	x.Faulty = sum
	if failed != "" {
		x.Signs = append(x.Signs, "The run ends before its time: "+failed+".")
	}
	if startable(&b.scenario) && b.peak > 0 && b.dq.Q != 0 {
		if x.Start, err = start(b.scenario, f, scan, b.peak, b.dq, b.sense); err != nil {
			return nil, err
		}
	}
	for _, c := range b.states {
		c.Scenario.Faults = []drive.Fault{f}
		sum, err := observed(c.Scenario)
		if err != nil {
			if c.Failed, err = brokeDown(err); err != nil {
				return nil, err
			}
		} else {
			c.Faulty = figures(sum, b.sense)
		}
		c.Scenario.Faults = nil
		c.Signs = c.signs()
		x.States = append(x.States, c)
	}
	x.Signs = append(x.Signs, x.sentences()...)
	return x, nil
}

// brokeDown tells a drive that its fault brings to a state without equations, which is a sign, from a scenario
// that is wrong.
func brokeDown(err error) (why string, other error) {
	var wrong *drive.KeyError
	if errors.As(err, &wrong) {
		return "", err
	}
	return err.Error(), nil
}

// Cautions returns what comes before any step that a person takes on a drive with machine m.
func Cautions(m motor.Machine) []string {
	list := []string{
		"Isolate and lock out the supply before you open or touch anything; an isolator that is off is no proof.",
		"Wait out the link's discharge and prove it dead with a tester proved before and after.",
	}
	if turnsMagnet(m) {
		perK := math.Sqrt(3) * m.Star().FluxLinkage * float64(m.PolePairs) * 1000 * math.Pi / 30 / math.Sqrt2
		list = append(list, fmt.Sprintf("Hold the shaft: a turning permanent-magnet rotor makes voltage with everything off, here %s V rms between leads at 1000 rpm.", number(perK)))
	}
	return append(list, "Local codes, the maker's procedure and a qualified person come before this text, which certifies nothing.")
}
