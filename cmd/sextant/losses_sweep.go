package main

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"sextant/inverter/loss"
)

// A sweep varies one quantity in even steps, as a flag has it: carrier=2kHz..40kHz:20.
type sweep struct {
	set      bool
	of       loss.Quantity
	from, to float64
	count    int

	points []sweepPoint
	evens  []breakEven
}

// A sweepPoint is a value of the quantity with the results of all devices.
type sweepPoint struct {
	at      float64
	results []loss.Result
}

// A breakEven is a value of the quantity at which two devices, by index, lose the same.
type breakEven struct {
	a, b int
	at   float64
}

const sweepForm = "carrier=2kHz..40kHz:20"

func (s *sweep) Set(text string) error {
	name, rest, ok := strings.Cut(text, "=")
	low, high, ranged := strings.Cut(rest, "..")
	if !ok || !ranged {
		return fmt.Errorf("%q is not a sweep; give a quantity, a range and how many points, like %s", text, sweepForm)
	}
	next := sweep{set: true, count: 20}
	if err := next.of.UnmarshalText([]byte(strings.TrimSpace(name))); err != nil {
		return err
	}
	high, count, counted := strings.Cut(high, ":")
	if counted {
		n, err := strconv.Atoi(strings.TrimSpace(count))
		if err != nil || n < 2 || n > mostPoints {
			return fmt.Errorf("%q is not a number of points; give 2 to %d", count, mostPoints)
		}
		next.count = n
	}
	of := next.of.Dimension()
	var err error
	if next.from, err = of.Parse(low); err != nil {
		return err
	}
	if next.to, err = of.Parse(high); err != nil {
		return err
	}
	if next.to <= next.from {
		return fmt.Errorf("%q does not rise; give the smaller value first", text)
	}
	if next.of == loss.PowerFactor && (next.from < -1 || next.to > 1) {
		return fmt.Errorf("%q is out of range; a power factor lies from -1 to 1", text)
	}
	*s = next
	return nil
}

// mostPoints is how many points a sweep has at most.
const mostPoints = 2000

func (s *sweep) String() string {
	if !s.set {
		return ""
	}
	of := s.of.Dimension()
	return fmt.Sprintf("%v=%s..%s:%d", s.of, of.Text(s.from), of.Text(s.to), s.count)
}

func (s *sweep) Type() string { return "sweep" }

// check refuses a sweep with an end at which the point makes no sense.
func (s *sweep) check(p *loss.Point) error {
	if !s.set {
		return nil
	}
	for _, x := range []float64{s.from, s.to} {
		q := p.With(s.of, x)
		if err := q.Validate(); err != nil {
			return usage("--sweep: at %s: %w", s.of.Dimension().Text(x), err)
		}
	}
	return nil
}

// run works out all points, and where two devices trade places.
func (s *sweep) run(l *losses) error {
	if !s.set {
		return nil
	}
	for k := range s.count {
		x := s.from + (s.to-s.from)*float64(k)/float64(s.count-1)
		results, err := l.at(l.point.With(s.of, x))
		if err != nil {
			return err
		}
		s.points = append(s.points, sweepPoint{x, results})
	}
	for a := range l.devices {
		for b := a + 1; b < len(l.devices); b++ {
			if err := s.compare(l, a, b); err != nil {
				return err
			}
		}
	}
	return nil
}

// compare finds where devices a and b trade places. Where both lose the same, such as at no current, neither is
// ahead, and what counts is which was before.
func (s *sweep) compare(l *losses, a, b int) error {
	var from float64 // the latest point at which one was ahead,
	ahead := 0       // and which, negative for a
	for _, p := range s.points {
		now := cmp.Compare(p.results[a].Bridge, p.results[b].Bridge)
		if now == 0 {
			continue
		}
		if now == -ahead {
			x, err := loss.BreakEven(&l.devices[a].device, &l.devices[b].device, l.point, s.of, from, p.at)
			if err != nil {
				return err
			}
			s.evens = append(s.evens, breakEven{a, b, x})
		}
		from, ahead = p.at, now
	}
	return nil
}

var lossColumns = []string{
	"device", "technology", "switch_conduction_w", "turn_on_w", "turn_off_w", "diode_conduction_w", "recovery_w",
	"switch_junction_c", "switch_junction_peak_c", "diode_junction_c", "diode_junction_peak_c",
	"bridge_w", "output_w", "efficiency_percent",
}

// rows writes CSV: a row for each device, at each point of the sweep where there is one.
func (l *losses) rows(w io.Writer, found []loss.Result) error {
	out := csv.NewWriter(w)
	number := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	head, points := lossColumns, []sweepPoint{{0, found}}
	if l.sweep.set {
		head, points = append([]string{l.sweep.of.Key()}, head...), l.sweep.points
	}
	if err := out.Write(head); err != nil {
		return err
	}
	for _, p := range points {
		for i, r := range p.results {
			d, m := &l.devices[i], &r.Mean
			var row []string
			if l.sweep.set {
				row = append(row, number(p.at))
			}
			row = append(row, d.asked, d.device.Technology.String())
			for _, x := range []float64{
				m.Conduction, m.TurnOn, m.TurnOff, m.Diode, m.Recovery,
				m.SwitchJunction.Mean, m.SwitchJunction.Peak, m.DiodeJunction.Mean, m.DiodeJunction.Peak, r.Bridge, r.Output,
			} {
				row = append(row, number(x))
			}
			efficiency := ""
			if e, ok := r.Efficiency(); ok {
				efficiency = number(100 * e)
			}
			if err := out.Write(append(row, efficiency)); err != nil {
				return err
			}
		}
	}
	out.Flush()
	return out.Error()
}
