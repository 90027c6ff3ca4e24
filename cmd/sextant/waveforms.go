package main

import (
	"fmt"
	"io"
	"math"
	"strconv"

	"sextant/inverter"
	"sextant/motor/drive"
)

// columnNames is the first row of a file of waveforms. Columns are only ever added, at the end.
const columnNames = "time_s,u_a,v_a,w_a,u_v,v_v,w_v,supply_a,torque_nm,speed_rpm,rotor_deg,field_deg,voltage_deg," +
	"u_pole_v,v_pole_v,w_pole_v,link_v,link_a,id_a,iq_a,u_emf_v,v_emf_v,w_emf_v," +
	"u_high,u_low,v_high,v_low,w_high,w_low,shorted_turns_a\n"

// waveforms writes a run as rows of comma-separated values: both sides of every event, and rows between at
// most gap seconds apart.
type waveforms struct {
	w      io.Writer
	gap    float64
	last   drive.Instant
	begun  bool
	err    error // the first; rows after it are dropped
	left   int   // strides of the run: as many as it needs, and none once err is there
	buffer []byte
}

// newWaveforms writes at least so many rows in a turn of the fundamental, or in the measured
// window where there is none.
func newWaveforms(w io.Writer, s *drive.Scenario, points int) *waveforms {
	turn := s.Run.Measure
	if f := s.ElectricalFrequency(); f > 0 {
		turn = 1 / f
	}
	out := &waveforms{w: w, gap: turn / float64(points), left: math.MaxInt}
	_, out.err = io.WriteString(w, columnNames)
	return out
}

// Observe writes a segment's rows, and ends the run where they cannot be written.
func (c *waveforms) Observe(s *drive.Segment) {
	if c.err != nil {
		c.left = 0
		return
	}
	n := math.Ceil((s.T1 - s.T0) / c.gap)
	first := s.At(s.T0)
	if !c.begun || !continues(&c.last, &first) {
		c.row(&first)
	}
	c.begun = true
	for j := 1.0; j < n && c.err == nil; j++ {
		between := s.At(s.T0 + (s.T1-s.T0)*(j/n))
		c.row(&between)
	}
	if s.T1 > s.T0 {
		c.last = s.At(s.T1)
		c.row(&c.last)
	}
}

// continues reports whether nothing happened between two instants of one time: segments also end where the
// integration does.
func continues(a, b *drive.Instant) bool {
	if a.Time != b.Time || a.Gates != b.Gates || a.Ways != b.Ways {
		return false
	}
	for _, p := range inverter.Phases {
		if math.Abs(a.Phase[p]-b.Phase[p]) > 1e-9*math.Abs(a.Link) {
			return false
		}
	}
	return true
}

func (c *waveforms) row(i *drive.Instant) {
	b := c.buffer[:0]
	add := func(xs ...float64) {
		for _, x := range xs {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				c.err = fmt.Errorf("the run went out of the range of numbers at %g s", i.Time)
			}
			b = strconv.AppendFloat(b, x, 'g', -1, 64)
			b = append(b, ',')
		}
	}
	add(i.Time)
	add(i.Current[:]...)
	add(i.Phase[:]...)
	add(i.Supply, i.Torque, i.RPM(), degrees(i.Rotor), degrees(i.CurrentVector().Angle()), degrees(i.VoltageVector().Angle()))
	add(i.Pole[:]...)
	add(i.Link, i.LinkCurrent, i.ID, i.IQ)
	add(i.EMF[:]...)
	for _, s := range inverter.Switches {
		on := byte('0')
		if i.Gates.Has(s) {
			on = '1'
		}
		b = append(b, on, ',')
	}
	add(i.Turns)
	b[len(b)-1] = '\n'
	c.buffer = b
	if c.err == nil {
		_, c.err = c.w.Write(b)
	}
}

// degrees returns an angle in degrees, 0 to 360.
func degrees(rad float64) float64 {
	d := math.Mod(rad*180/math.Pi, 360)
	if d < 0 {
		d += 360
	}
	return d
}
