package lesson

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"sextant/inverter/file"
	"sextant/inverter/si"
	"sextant/inverter/slip"
)

// A table is a table of a lesson's file while it is read.
type table struct {
	r      *reader
	path   []string
	values map[string]any
	known  []string // keys that were asked for
}

// wrong reports what is wrong with a key, or with the table where there is none.
func (t *table) wrong(key string, err error) {
	line := t.r.doc.Line(append(slices.Clone(t.path), key)...)
	for n := len(t.path); line == 0 && n > 0; n-- {
		line = t.r.doc.Line(t.path[:n]...)
	}
	t.r.report(max(line, 1), t.dotted(key), err)
}

// dotted returns a key as findings have it, without the numbers of tables, which the line tells.
func (t *table) dotted(key string) string {
	var keys []string
	for _, k := range append(slices.Clone(t.path), key) {
		if _, err := strconv.Atoi(k); err != nil && k != "" {
			keys = append(keys, k)
		}
	}
	return strings.Join(keys, ".")
}

func (t *table) value(key string) (any, bool) {
	t.known = append(t.known, key)
	v, ok := t.values[key]
	return v, ok
}

func (t *table) prose(key string) string {
	v, ok := t.value(key)
	if !ok {
		return ""
	}
	s, err := file.Prose(v)
	if err != nil {
		t.wrong(key, err)
	}
	return strings.Join(strings.Fields(s), " ")
}

// needed is prose that must be there.
func (t *table) needed(key string) string {
	s := t.prose(key)
	if _, ok := t.values[key]; !ok {
		t.wrong(key, errors.New("is missing"))
	} else if s == "" {
		t.wrong(key, errors.New("is empty"))
	}
	return s
}

func (t *table) positive(key string, of si.Dimension, without float64) float64 {
	v, ok := t.value(key)
	if !ok {
		return without
	}
	x, err := file.Quantity(v, of)
	if err == nil && !(x > 0) {
		err = fmt.Errorf("%g is out of range; give more than 0", x)
	}
	if err != nil {
		t.wrong(key, err)
		return without
	}
	return x
}

func (t *table) flag(key string) bool {
	v, ok := t.value(key)
	yes, isBool := v.(bool)
	if ok && !isBool {
		t.wrong(key, fmt.Errorf("%s is neither true nor false", file.Called(v)))
	}
	return yes
}

// strings reads a list of strings, or one.
func (t *table) strings(key string) []string {
	v, ok := t.value(key)
	if s, one := v.(string); one {
		return []string{s}
	}
	list, isList := v.([]any)
	if ok && !isList {
		t.wrong(key, fmt.Errorf("%s is neither text nor a list of it", file.Called(v)))
	}
	var all []string
	for _, x := range list {
		s, err := file.Prose(x)
		if err != nil {
			t.wrong(key, err)
			continue
		}
		all = append(all, s)
	}
	return all
}

// table reads a table within t; it is nil where there is none.
func (t *table) table(key string) *table {
	v, ok := t.value(key)
	if !ok {
		return nil
	}
	values, isTable := v.(map[string]any)
	if !isTable {
		t.wrong(key, fmt.Errorf("%s is not a table of keys", file.Called(v)))
		return nil
	}
	return &table{r: t.r, path: append(slices.Clone(t.path), key), values: values}
}

// tables reads an array of tables.
func (t *table) tables(key string) []*table {
	v, ok := t.value(key)
	if !ok {
		return nil
	}
	list, isList := v.([]any)
	if !isList {
		t.wrong(key, fmt.Errorf("there may be many; write [[%s]]", t.dotted(key)))
		return nil
	}
	var all []*table
	for i, x := range list {
		values, isTable := x.(map[string]any)
		if !isTable {
			t.wrong(key, fmt.Errorf("%s is not a table of keys", file.Called(x)))
			continue
		}
		all = append(all, &table{r: t.r, path: append(slices.Clone(t.path), key, strconv.Itoa(i)), values: values})
	}
	return all
}

// done reports the keys that nobody asked for.
func (t *table) done() {
	for _, key := range slices.Sorted(maps.Keys(t.values)) {
		if !slices.Contains(t.known, key) {
			t.wrong(key, fmt.Errorf("no such key%s; allowed: %s", slip.Meant(key, t.known), strings.Join(t.known, ", ")))
		}
	}
}
