package lesson

import (
	"errors"
	"fmt"
	"maps"
	"strings"

	"sextant/inverter/file"
	"sextant/motor/drive"
	"sextant/motor/scenario"
)

// keys are the values of a scenario's file: by section, then by key.
type keys map[string]any

// with returns a copy of k without some dotted keys, and with those of set over the others.
func (k keys) with(set *table, without []string) keys {
	out := maps.Clone(k)
	section := func(name string) map[string]any {
		old, _ := out[name].(map[string]any)
		fresh := maps.Clone(old)
		if fresh == nil {
			fresh = map[string]any{}
		}
		out[name] = fresh
		return fresh
	}
	for _, dotted := range without {
		if name, key, in := strings.Cut(dotted, "."); in {
			delete(section(name), key)
		} else {
			delete(out, name)
		}
	}
	if set == nil {
		return out
	}
	for name, v := range set.values {
		if values, ok := v.(map[string]any); ok {
			maps.Copy(section(name), values)
		} else {
			out[name] = v
		}
	}
	return out
}

// has reports whether k has a dotted key.
func (k keys) has(dotted string) bool {
	name, key, in := strings.Cut(dotted, ".")
	if !in {
		_, ok := k[name]
		return ok
	}
	_, ok := k.text(name + "." + key)
	return ok
}

// text returns a value of k as the file has it.
func (k keys) text(dotted string) (string, bool) {
	name, key, in := strings.Cut(dotted, ".")
	if !in {
		return "", false
	}
	section, _ := k[name].(map[string]any)
	v, ok := section[key]
	if !ok {
		return "", false
	}
	return fmt.Sprint(v), true
}

// scenario reads k as the scenario of a file, and reports what is wrong with it where t stands.
func (t *table) scenario(found string, k keys) (drive.Scenario, bool) {
	s, err := scenario.Load(found, file.Written(k))
	var wrong file.Findings
	switch {
	case err == nil:
		return s, true
	case !errors.As(err, &wrong):
		t.wrong("set", err)
		return s, false
	}
	for _, f := range wrong {
		at := append(append([]string{}, t.path...), "set")
		for _, key := range strings.Split(f.Key, ".") {
			if next := append(at, key); t.r.doc.Line(next...) > 0 {
				at = next
			}
		}
		if line := t.r.doc.Line(at...); line > 0 {
			t.r.report(line, t.dotted("set")+"."+f.Key, f.Err)
		} else {
			t.wrong("scenario", fmt.Errorf("%s: %s: %w", found, f.Key, f.Err))
		}
	}
	return s, false
}
