package drive

import (
	"encoding/binary"
	"encoding/json"
	"math/rand/v2"
	"slices"
	"testing"

	"sextant/inverter"
)

// A strip is a source of random numbers that are given, eight bytes each, and follow from their count behind
// the last: so each choice that makes a scenario has bytes of its own, which a fuzzer can change alone.
type strip struct {
	left []byte
	then *rand.PCG
}

func (s *strip) Uint64() uint64 {
	if len(s.left) < 8 {
		return s.then.Uint64()
	}
	x := binary.LittleEndian.Uint64(s.left)
	s.left = s.left[8:]
	return x
}

// beset adds faults of any kind, those that go with s.
func (t draw) beset(s Scenario) Scenario {
	for range 1 + t.IntN(3) {
		x := s
		x.Faults = append(slices.Clone(s.Faults), Fault{
			Kind: FaultKind(t.IntN(len(FaultKinds()))), Phase: inverter.Phase(t.IntN(3)), Switch: inverter.Switch(t.IntN(6)),
			Time: t.either(t.uniform(0, s.Run.Measure)), Value: t.either(t.between(1e-3, 2)),
		})
		if x.Validate() == nil {
			s = x
		}
	}
	return s
}

// Whatever scenario the bytes choose runs to its end or ends with a clear error, by the laws of circuits and
// with its energy accounted for.
func FuzzRun(f *testing.F) {
	for seed := range uint64(24) {
		from := rand.NewPCG(seed, 3)
		var data []byte
		for range 8 * seed {
			data = binary.LittleEndian.AppendUint64(data, from.Uint64())
		}
		f.Add(data, uint8(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte, sorts uint8) {
		choice := draw{rand.New(&strip{data, rand.NewPCG(uint64(len(data)), 4)})}
		s := choice.scenario()
		if sorts&1 != 0 {
			s = choice.followed(s)
		}
		if sorts&2 != 0 {
			s = choice.shorted(s)
		}
		if sorts&4 != 0 {
			s = choice.beset(s)
		}
		if wrong, err := tryTo(atWorst, s); len(wrong) > 0 || !allowed(err) {
			text, _ := json.Marshal(s)
			t.Errorf("%v, %v\n%s", wrong, err, text)
		}
	})
}
