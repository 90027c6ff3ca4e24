package inverter

import (
	"fmt"
	"strings"
)

// Gates is the set of switches commanded on, a bit each. The zero value is a bridge at rest.
type Gates uint8

// On returns the set of the given switches.
func On(switches ...Switch) Gates {
	var g Gates
	for _, s := range switches {
		g |= 1 << s
	}
	return g
}

// AllHigh and AllLow tie the three phases together, at one rail or the other: the zero states.
const (
	AllHigh Gates = 1<<UHigh | 1<<VHigh | 1<<WHigh
	AllLow  Gates = 1<<ULow | 1<<VLow | 1<<WLow
)

// Has reports whether s is on.
func (g Gates) Has(s Switch) bool { return g>>s&1 != 0 }

// With returns g with s on.
func (g Gates) With(s Switch) Gates { return g | 1<<s }

// Without returns g with s off.
func (g Gates) Without(s Switch) Gates { return g &^ (1 << s) }

// Shorts reports whether some leg has both its switches on, which shorts the supply.
func (g Gates) Shorts() bool { return g&(g>>1)&AllHigh != 0 }

// Complete reports whether every leg has exactly one switch on, so that the gates alone set all three
// pole voltages.
func (g Gates) Complete() bool { return (g^(g>>1))&AllHigh == AllHigh }

// String lists the switches that are on, like "U+ V- W-", or says "none".
func (g Gates) String() string {
	if g == 0 {
		return "none"
	}
	return strings.Join(g.Names(), " ")
}

// Names returns the names of the switches that are on, in the order of [Switches]; never nil.
func (g Gates) Names() []string {
	names := make([]string, 0, 3)
	for _, s := range Switches {
		if g.Has(s) {
			names = append(names, s.String())
		}
	}
	return names
}

// A ShootThroughError says that both switches of a leg are commanded on.
type ShootThroughError struct{ Leg Phase }

// Error says which leg and why it matters.
func (e *ShootThroughError) Error() string {
	return fmt.Sprintf("%v and %v are on together: shoot-through, leg %v shorts the supply", High(e.Leg), Low(e.Leg), e.Leg)
}

// Interlock returns a *ShootThroughError for the first leg with both its switches on, or nil.
func (g Gates) Interlock() error {
	for _, p := range Phases {
		if g.Has(High(p)) && g.Has(Low(p)) {
			return &ShootThroughError{Leg: p}
		}
	}
	return nil
}
