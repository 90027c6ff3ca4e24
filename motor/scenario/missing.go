package scenario

import (
	"errors"
	"fmt"
	"strings"

	"sextant/inverter/pattern"
	"sextant/inverter/si"
	"sextant/motor"
	"sextant/motor/drive"
)

// needs lists the keys that s cannot do without, with what to give for them.
func (r *reader) needs(s *drive.Scenario) [][2]string {
	g, m := s.Gating, s.Machine
	needs := [][2]string{
		{"supply.voltage", si.Voltage.Advice()},
		{"gating.pattern", "one of " + strings.Join(words(pattern.Kinds()), ", ")},
	}
	need := func(sure bool, key, what string) {
		if sure {
			needs = append(needs, [2]string{key, what})
		}
	}
	clock := g.Follow == drive.Clock && r.has("gating.pattern") && !r.bad["gating.pattern"]
	need(clock && (g.Kind.Stepped() || g.Kind.Compares()), "gating.frequency", si.Frequency.Advice())
	need(clock && g.Kind.Compares(), "gating.modulation", "0 to 4/pi")
	need(clock && g.Kind == pattern.PulsedLow, "gating.duty", "0 to 1")
	need(clock && g.Kind == pattern.ByHand, "gating.gates", `the switches that are on, like ["U+", "V-", "W-"]`)
	passive := m.Kind == motor.Passive
	both := r.has("machine.inductance")
	need(true, "machine.resistance", si.Resistance.Advice())
	need(passive && !r.has("machine.inductance_d"), "machine.inductance", si.Inductance.Advice())
	need(!passive && !both, "machine.inductance_d", si.Inductance.Advice())
	need(!passive && !both, "machine.inductance_q", si.Inductance.Advice())
	need(!passive, "machine.pole_pairs", "a whole number, like 4")
	need(!passive, "machine.flux_linkage", si.Flux.Advice()+", peak of a phase; "+byNameplate)
	need(!passive && !s.Shaft.Free, "shaft.speed", `the speed that the shaft is held at, like "3000 rpm"; or free = true`)
	need(!passive && s.Shaft.Free, "shaft.inertia", si.Inertia.Advice())
	need(true, "run.measure", si.Time.Advice())
	return needs
}

// missing lists what s needs and its files lack, a section that is missing as a whole once; and what they
// say twice.
func (r *reader) missing(s *drive.Scenario) []*drive.KeyError {
	var problems []*drive.KeyError
	for _, n := range r.needs(s) {
		key, sec := n[0], sectionOf(n[0])
		switch {
		case r.has(key) || r.bad[sec]:
		case r.has(sec):
			problems = append(problems, &drive.KeyError{Key: key, Err: errors.New("is missing; give " + n[1])})
		default:
			problems = append(problems, &drive.KeyError{Key: sec, Err: fmt.Errorf("section [%s] is missing, and in it %s: give %s", sec, strings.TrimPrefix(key, sec+"."), n[1])})
		}
	}
	if s.Shaft.Free && r.has("shaft.speed") {
		problems = append(problems, &drive.KeyError{Key: "shaft.speed", Err: errors.New("holds the shaft, but free = true lets it turn; give start_speed, or leave free out")})
	}
	if r.has("machine.inductance") && (r.has("machine.inductance_d") || r.has("machine.inductance_q")) {
		problems = append(problems, &drive.KeyError{Key: "machine.inductance", Err: errors.New("is said again by inductance_d and inductance_q; give one or the other")})
	}
	return problems
}

// has reports whether a key, or a section, is given.
func (r *reader) has(key string) bool {
	_, ok := r.places[key]
	return ok
}
