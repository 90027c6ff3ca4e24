package device

// A Drop is a forward characteristic: the voltage over what conducts, by current and junction temperature.
type Drop struct {
	table
	lines  []line  // a row for each temperature; or
	curves []curve // digitised
}

// A line is the usual approximation, threshold + resistance × current.
type line struct{ threshold, resistance float64 }

// NewDrop returns straight lines at rising temperatures: thresholds in V, resistances in Ω.
func NewDrop(temperature, threshold, resistance []float64) Drop {
	d := Drop{table: table{at: temperature}}
	for i := range temperature {
		d.lines = append(d.lines, line{threshold[i], resistance[i]})
	}
	return d
}

// A Characteristic is a [Drop] at one temperature. Where it is straight, Threshold and Resistance are all of
// it; where it is digitised, they are zero.
type Characteristic struct {
	Threshold, Resistance float64

	low, high *curve
	share     float64
}

// At returns the characteristic at a junction temperature.
func (d Drop) At(temperature float64) Characteristic {
	low, high, share := d.between(temperature)
	if d.curves != nil {
		return Characteristic{low: &d.curves[low], high: &d.curves[high], share: share}
	}
	a, b := d.lines[low], d.lines[high]
	return Characteristic{Threshold: max(0, blend(a.threshold, b.threshold, share)), Resistance: max(0, blend(a.resistance, b.resistance, share))}
}

// Voltage returns the drop, in V, at a current i ≥ 0.
func (c Characteristic) Voltage(i float64) float64 {
	if c.low == nil {
		return c.Threshold + c.Resistance*i
	}
	v := c.low.at(i)
	if c.share != 0 {
		v = blend(v, c.high.at(i), c.share)
	}
	return max(0, v)
}

func (c Characteristic) straight() bool { return c.low == nil }

// Covers returns the current, in A, up to which the data go; +Inf for straight lines.
func (d Drop) Covers() float64 { return reach(d.curves) }
