package picture

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"sextant/inverter"
	"sextant/inverter/si"
	"sextant/motor/drive"
)

// A Moment is a time of a scenario, given in seconds or by what happens then. The zero value is when the scenario has
// settled. It is written like "12ms", "settled", "event 3", "U+ on" or "fault +2ms".
type Moment struct {
	what   what
	count  int             // which of them, from 1
	at     inverter.Switch // of on, off and diode
	phase  inverter.Phase  // of zero
	offset float64         // s after it
}

// A what is a kind of thing that happens.
type what uint8

const (
	settled what = iota
	start
	end
	event
	commutation
	fault
	trip
	on
	off
	diode
	zero
)

// Moments says which moments have names, and what they are; of those with n, the first where it is left out.
const Moments = `start, settled, end (of the measured window); counted from settling:
event n (any switching), commutation n (a leg's current changes device),
"U+ on", "U+ off" (a gate), "diode U+" (begins to conduct), "zero U" (of a
current); fault n, trip; each with +TIME behind it if later, like "fault +2ms"`

// String writes the moment as it is read.
func (m Moment) String() string {
	name := [...]string{"settled", "start", "end", "event", "commutation", "fault", "trip", "on", "off", "diode", "zero"}[m.what]
	switch m.what {
	case start:
		return si.Time.Text(m.offset)
	case on, off:
		name = m.at.String() + " " + name
	case diode:
		name += " " + m.at.String()
	case zero:
		name += " " + m.phase.String()
	}
	if m.count > 1 {
		name += " " + strconv.Itoa(m.count)
	}
	if m.offset != 0 {
		name += " +" + si.Time.Text(m.offset)
	}
	return name
}

// MarshalText returns what [Moment.String] does.
func (m Moment) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText reads a time or one of [Moments].
func (m *Moment) UnmarshalText(text []byte) error {
	words := strings.TrimSpace(string(text))
	if t, err := si.Time.Parse(words); err == nil {
		*m = Moment{what: start, count: 1, offset: t}
		return nil
	}
	bad := fmt.Errorf("%q is neither a time, like 12ms, nor a moment with a name: %s", text, strings.Join(strings.Fields(Moments), " "))
	read := Moment{count: 1}
	if k := strings.LastIndex(words, "+"); k > 0 { // of "U+ on", what follows the sign is no time
		if t, err := si.Time.Parse(strings.TrimSpace(words[k+1:])); err == nil && t >= 0 {
			read.offset, words = t, words[:k]
		}
	}
	names := strings.Fields(words)
	if n := len(names); n > 1 {
		if k, err := strconv.Atoi(names[n-1]); err == nil {
			if k < 1 {
				return bad
			}
			read.count, names = k, names[:n-1]
		}
	}
	counted, known := read.named(names)
	if !known || !counted && read.count > 1 {
		return bad
	}
	*m = read
	return nil
}

// named reads the words of a name, and tells whether it can be counted and whether it is one.
func (m *Moment) named(names []string) (counted, known bool) {
	switch len(names) {
	case 1:
		for k, name := range map[what]string{settled: "settled", start: "start", end: "end", trip: "trip"} {
			if names[0] == name {
				m.what = k
				return false, true
			}
		}
		for k, name := range map[what]string{event: "event", commutation: "commutation", fault: "fault"} {
			if names[0] == name {
				m.what = k
				return true, true
			}
		}
	case 2:
		first, second := names[0], names[1]
		switch {
		case second == "on", second == "off":
			if m.what = on; second == "off" {
				m.what = off
			}
			return true, m.at.UnmarshalText([]byte(first)) == nil
		case first == "diode":
			m.what = diode
			return true, m.at.UnmarshalText([]byte(second)) == nil
		case first == "zero":
			m.what = zero
			return true, m.phase.UnmarshalText([]byte(second)) == nil
		}
	}
	return false, false
}

// search is for how many s past a scenario's measured window a moment is looked for.
const search = 1

// Time returns when in s the moment comes in a run of s, just after what happens then. It fails where that does not
// happen up to a second after the measured window, and as the drive does.
func (m Moment) Time(s *drive.Scenario) (float64, error) {
	t, err := m.time(s)
	if err != nil {
		return 0, err
	}
	return t + m.offset, nil
}

func (m Moment) time(s *drive.Scenario) (float64, error) {
	last := s.Run.Settle + s.Run.Measure
	switch m.what {
	case start:
		return 0, nil
	case settled:
		return s.Run.Settle, nil
	case end:
		return last, nil
	case fault:
		if m.count > len(s.Faults) {
			return 0, fmt.Errorf("there is no %v: the scenario has %d faults", m.name(), len(s.Faults))
		}
		return after(s.Faults[m.count-1].Time), nil
	}
	d, err := drive.New(*s)
	if err != nil {
		return 0, err
	}
	if m.what != trip {
		err = d.Advance(s.Run.Settle)
	}
	for left := max(m.count, 1); err == nil && d.Time() <= last+search; {
		from, before, events := d.Clone(), d.Now(), d.Events()
		if err = d.AdvanceToEvent(); err != nil {
			break
		}
		now := d.Now()
		switch {
		case m.what == trip && d.Tripped():
			return first(from, now.Time, (*drive.Drive).Tripped)
		case m.what == zero && before.Current[m.phase] != 0 && before.Current[m.phase]*now.Current[m.phase] <= 0:
			if left--; left == 0 {
				return first(from, now.Time, func(d *drive.Drive) bool {
					return before.Current[m.phase]*d.Now().Current[m.phase] <= 0
				})
			}
		case d.Events() > events && m.happened(&before, &now):
			if left--; left == 0 {
				return after(now.Time), nil
			}
		}
	}
	if err != nil {
		return 0, fmt.Errorf("looking for %v: %w", m.name(), err)
	}
	return 0, fmt.Errorf("there is no %v up to %s", m.name(), si.Time.Format(last+search, 3))
}

// name returns the moment without its offset.
func (m Moment) name() Moment {
	m.offset = 0
	return m
}

// happened reports whether the moment is what lies between two instants, one after each of two events.
func (m Moment) happened(before, now *drive.Instant) bool {
	switch m.what {
	case event:
		return true
	case commutation:
		return before.Ways != now.Ways
	case on:
		return !before.Gates.Has(m.at) && now.Gates.Has(m.at)
	case off:
		return before.Gates.Has(m.at) && !now.Gates.Has(m.at)
	case diode:
		way := inverter.LowerDiode
		if m.at.High() {
			way = inverter.UpperDiode
		}
		return before.Ways[m.at.Leg()] != way && now.Ways[m.at.Leg()] == way
	}
	return false
}

// first returns when something becomes so that is not yet where a drive is, but is at a time.
func first(d *drive.Drive, to float64, so func(*drive.Drive) bool) (float64, error) {
	for from := d.Time(); ; {
		mid := from + (to-from)/2
		if mid <= from || mid >= to {
			return after(to), nil
		}
		c := d.Clone()
		if err := c.Advance(mid - c.Time()); err != nil {
			return 0, err
		}
		if so(c) {
			to = mid
		} else {
			from = mid
		}
	}
}

// after returns a time that is behind t whatever rounding does to how it is come by: a few of the least steps there are.
func after(t float64) float64 {
	return t + 8*(math.Nextafter(t, math.Inf(1))-t)
}
