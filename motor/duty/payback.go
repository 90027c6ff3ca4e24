package duty

// Prices are a user's own, in any one money.
type Prices struct {
	Energy float64 // of a kilowatt-hour
	Device float64 // what six of the dearer devices cost more than six of the other
}

// A Payback is when a dearer bridge has paid for itself.
type Payback struct {
	Saved  float64 // J a cycle
	Gain   float64 // money a cycle
	Cycles float64 // until the difference in price is earned
	Ever   bool    // whether there is such a time; the others stand even so
}

// PaybackOf compares a bridge with a base.
func PaybackOf(base, other *Account, p Prices) Payback {
	const kilowattHour = 3.6e6
	b := Payback{Saved: base.Net() - other.Net()}
	b.Gain = b.Saved / kilowattHour * p.Energy
	switch {
	case p.Device <= 0:
		b.Ever = b.Gain >= 0 // it is no dearer
	case b.Gain > 0:
		b.Cycles, b.Ever = p.Device/b.Gain, true
	}
	return b
}
