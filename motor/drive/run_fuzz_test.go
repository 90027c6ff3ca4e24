package drive

import (
	"encoding/binary"
	"encoding/json"
	"math/rand/v2"
	"testing"
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

// Whatever scenario the bytes choose runs to its end or ends with a clear error, by the laws of circuits and
// with its energy accounted for.
func FuzzRun(f *testing.F) {
	for seed := range uint64(24) {
		from := rand.NewPCG(seed, 3)
		var data []byte
		for range 8 * seed {
			data = binary.LittleEndian.AppendUint64(data, from.Uint64())
		}
		f.Add(data, seed%2 == 0)
	}
	f.Fuzz(func(t *testing.T, data []byte, follows bool) {
		choice := draw{rand.New(&strip{data, rand.NewPCG(uint64(len(data)), 4)})}
		s := choice.scenario()
		if follows {
			s = choice.followed(s)
		}
		if wrong, err := tryTo(atWorst, s); len(wrong) > 0 || !allowed(err) {
			text, _ := json.Marshal(s)
			t.Errorf("%v, %v\n%s", wrong, err, text)
		}
	})
}
