package scenario

import (
	"strings"
	"testing"
)

// TestGuide: every key that is read is explained, by what it takes too, and nothing else is.
func TestGuide(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range Keys() {
		if k.About == "" || k.Takes == "" {
			t.Errorf("%s.%s: %q, takes %q", k.Section, k.Key, k.About, k.Takes)
		}
		seen[strings.TrimPrefix(k.Section+"."+k.Key, ".")] = true
	}
	for key := range about {
		if !seen[key] {
			t.Errorf("%s is explained, and there is no such key", key)
		}
	}
	for _, key := range faultKeys {
		if !seen["fault."+key] {
			t.Errorf("fault.%s is not explained", key)
		}
	}
	for key, takes := range map[string]string{"supply.voltage": `volts, like "350 V"`, "gating.follow": "clock, rotor, current", "supply.accepts": "true or false", "machine.pole_pairs": "a whole number", "title": "words, in quotes"} {
		for _, k := range Keys() {
			if strings.TrimPrefix(k.Section+"."+k.Key, ".") == key && k.Takes != takes {
				t.Errorf("%s takes %s, want %s", key, k.Takes, takes)
			}
		}
	}
}
