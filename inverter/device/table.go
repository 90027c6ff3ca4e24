package device

import "sort"

// A table is the rising temperatures, in °C, that data are given at.
type table struct {
	at     []float64
	goesOn bool // beyond the hottest, the last trend instead of the last value
}

// between returns the rows that a temperature lies between, and how far it is from one to the other.
func (t table) between(temperature float64) (low, high int, share float64) {
	n := len(t.at)
	high = sort.SearchFloat64s(t.at, temperature)
	switch {
	case high == 0:
		return 0, 0, 0
	case high == n && (!t.goesOn || n == 1):
		return n - 1, n - 1, 0
	case high == n:
		high = n - 1
	}
	low = high - 1
	return low, high, (temperature - t.at[low]) / (t.at[high] - t.at[low])
}

// blend returns what lies a share of the way from a to b.
func blend(a, b, share float64) float64 { return a + share*(b-a) }
