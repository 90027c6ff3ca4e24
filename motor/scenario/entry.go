package scenario

import (
	"fmt"
	"strconv"

	"sextant/inverter"
	"sextant/inverter/file"
	"sextant/inverter/si"
)

// A slot is a place in a scenario that a value of a file goes into and comes from.
type slot interface {
	read(value any) error // a string, int64, float64, bool, []any or map[string]any
	text() string         // the value as TOML
}

// quantity is a slot for a number with a unit.
type quantity struct {
	at *float64
	of si.Dimension
}

func (q quantity) read(value any) error {
	x, err := file.Quantity(value, q.of)
	if err == nil {
		*q.at = x
	} else if more := conversion(q.of, value); more != "" {
		err = fmt.Errorf("%w%s", err, more)
	}
	return err
}

func (q quantity) text() string {
	if q.of == si.Number {
		return strconv.FormatFloat(*q.at, 'g', -1, 64)
	}
	return strconv.Quote(q.of.Text(*q.at))
}

// given is a slot for a quantity, and for whether there is one.
type given struct {
	quantity
	set *bool
}

func (g given) read(value any) error {
	err := g.quantity.read(value)
	*g.set = *g.set || err == nil
	return err
}

// denial is a slot for the opposite of a flag.
type denial struct{ at *bool }

func (d denial) read(value any) error {
	var yes bool
	err := flag{&yes}.read(value)
	if err == nil {
		*d.at = !yes
	}
	return err
}

func (d denial) text() string { return strconv.FormatBool(!*d.at) }

// both is a slot for a quantity that stands in two places.
type both struct {
	quantity
	also *float64
}

func (b both) read(value any) error {
	err := b.quantity.read(value)
	if err == nil {
		*b.also = *b.at
	}
	return err
}

// choice is a slot for one of a closed set, whose values print as files have them.
type choice[T fmt.Stringer] struct {
	at   *T
	noun string
	of   []T
}

func (c choice[T]) read(value any) error {
	i, err := file.Word(value, c.noun, words(c.of))
	if err == nil {
		*c.at = c.of[i]
	}
	return err
}

func (c choice[T]) text() string { return strconv.Quote((*c.at).String()) }

// words returns what values print as.
func words[T fmt.Stringer](values []T) []string {
	all := make([]string, len(values))
	for i, v := range values {
		all[i] = v.String()
	}
	return all
}

// flag is a slot for true or false.
type flag struct{ at *bool }

func (f flag) read(value any) error {
	b, ok := value.(bool)
	if !ok {
		return fmt.Errorf("%s is neither true nor false, which are allowed, without quotes", file.Called(value))
	}
	*f.at = b
	return nil
}

func (f flag) text() string { return strconv.FormatBool(*f.at) }

// count is a slot for a whole number.
type count struct{ at *int }

func (c count) read(value any) error {
	n, ok := value.(int64)
	if !ok || int64(int(n)) != n {
		return fmt.Errorf("%s is not a whole number; give one like 4", file.Called(value))
	}
	*c.at = int(n)
	return nil
}

func (c count) text() string { return strconv.Itoa(*c.at) }

// prose is a slot for words.
type prose struct{ at *string }

func (p prose) read(value any) error {
	s, err := file.Prose(value)
	if err == nil {
		*p.at = s
	}
	return err
}

func (p prose) text() string { return file.Quoted(*p.at) }

// three is a slot for a quantity of each phase.
type three struct {
	at *inverter.ABC
	of si.Dimension
}

func (t three) read(value any) error {
	list, ok := value.([]any)
	if !ok || len(list) != 3 {
		return fmt.Errorf("%s is not a list of three; give one %v for each of U, V, W", file.Called(value), t.of)
	}
	var x inverter.ABC
	for _, p := range inverter.Phases {
		if err := (quantity{&x[p], t.of}).read(list[p]); err != nil {
			return fmt.Errorf("phase %v: %w", p, err)
		}
	}
	*t.at = x
	return nil
}

func (t three) text() string {
	s := func(p inverter.Phase) string { return quantity{&t.at[p], t.of}.text() }
	return fmt.Sprintf("[%s, %s, %s]", s(inverter.U), s(inverter.V), s(inverter.W))
}

// gates is a slot for a list of switches that are on.
type gates struct{ at *inverter.Gates }

func (g gates) read(value any) error {
	list, ok := value.([]any)
	if !ok {
		return fmt.Errorf(`%s is not a list of switches; give one like ["U+", "V-", "W-"]`, file.Called(value))
	}
	var on inverter.Gates
	for _, v := range list {
		var s inverter.Switch
		name, ok := v.(string)
		if !ok {
			return fmt.Errorf("%s is not a switch; switches are U+ U- V+ V- W+ W-", file.Called(v))
		}
		if err := s.UnmarshalText([]byte(name)); err != nil {
			return err
		}
		if on.Has(s) {
			return fmt.Errorf("%v stands twice; name each switch once", s)
		}
		on = on.With(s)
	}
	*g.at = on
	return nil
}

func (g gates) text() string {
	s := "["
	for i, name := range g.at.Names() {
		if i > 0 {
			s += ", "
		}
		s += strconv.Quote(name)
	}
	return s + "]"
}
