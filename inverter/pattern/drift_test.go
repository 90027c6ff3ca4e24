package pattern

import (
	"math"
	"math/big"
	"testing"
)

// TestYearsOn works the same slope of a synchronous pattern now and some years of switching on: the
// positions within the slope are the same to the last bit. Of a free carrier, the angle is as good as an
// exact fraction can tell.
func TestYearsOn(t *testing.T) {
	s := Settings{Kind: SpaceVector, Frequency: 50, Phase: 0.1, Modulation: 0.8, CarrierRatio: 39}
	var d ideal
	d.turn = fraction(s.Phase / (2 * math.Pi))
	d.start(s)
	const years = 78 * 50 * 3_000_000_00 // slopes, a whole number of turns
	for slope := int64(10); slope < 90; slope++ {
		now, later := d.angle(slope, 0.25), d.angle(slope+years, 0.25)
		if now != later {
			t.Errorf("slope %d begins at %.17g turns, years on at %.17g", slope, now, later)
		}
	}
	s = Settings{Kind: SpaceVector, Frequency: 50, Modulation: 0.8, Carrier: 8000}
	d = ideal{}
	d.start(s)
	const slope = 123_456_789_012_345
	exact := new(big.Float).SetPrec(200).SetFloat64(d.gain)
	exact.Mul(exact, new(big.Float).SetPrec(200).SetInt64(slope))
	whole, _ := exact.Int(nil)
	want, _ := exact.Sub(exact, new(big.Float).SetPrec(200).SetInt(whole)).Float64()
	if got := fraction(d.angle(slope, 0)); math.Abs(got-want) > 1e-15 {
		t.Errorf("slope %d begins at %.17g turns, want %.17g", int64(slope), got, want)
	}
}
