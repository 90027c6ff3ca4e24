package drive

import (
	"sextant/inverter"
	"sextant/motor"
)

// sums are integrals over a stretch of time, from which every mean, mean square and energy of the stretch
// follows.
type sums struct {
	time       float64
	i          inverter.Vector // ∫ i dt
	aa, ab, bb float64         // ∫ iα², iα iβ, iβ² dt
	dq         motor.DQ        // ∫ i_d, i_q dt
	torque     float64         // ∫ T dt
	work       float64         // ∫ T Ω dt
	turned     float64         // ∫ Ω dt
	link       float64         // ∫ v dt across the capacitor
	link2      float64         // ∫ v² dt
	linkA      float64         // ∫ v iα dt
	linkB      float64         // ∫ v iβ dt
	turns2     float64         // ∫ z² dt in shorted turns
}

// along returns ∫ i dt and ∫ i² dt of the current along axis a.
func (q *sums) along(a inverter.Vector) (i, i2 float64) {
	return dot(a, q.i), q.quadratic(a)
}

// quadratic returns ∫ (a·i)² dt.
func (q *sums) quadratic(a inverter.Vector) float64 {
	return a.Alpha*a.Alpha*q.aa + 2*a.Alpha*a.Beta*q.ab + a.Beta*a.Beta*q.bb
}

// add counts one stage with its weight.
func (q *sums) add(w float64, y *state, dq motor.DQ, torque float64) {
	a, b := y.i.Alpha, y.i.Beta
	wa, wb := w*a, w*b
	q.i.Alpha += wa
	q.i.Beta += wb
	q.aa += wa * a
	q.ab += wa * b
	q.bb += wb * b
	q.dq.D += w * dq.D
	q.dq.Q += w * dq.Q
	q.torque += w * torque
}

// addSlow counts what one stage has besides its current.
func (q *sums) addSlow(w float64, y *state, torque float64) {
	q.work += w * torque * y.speed
	q.turned += w * y.speed
	q.link += w * y.link
	q.link2 += w * y.link * y.link
	q.linkA += w * y.link * y.i.Alpha
	q.linkB += w * y.link * y.i.Beta
}

// addRing counts what one stage has in shorted turns. What they add to the magnetising current is none of the
// leads'.
func (q *sums) addRing(w float64, y *state, r *ring) {
	z, extra := r.current(y), y.frame(r.field(y.ring))
	q.turns2 += w * z * z
	q.dq.D -= w * extra.D
	q.dq.Q -= w * extra.Q
}

// merge counts another stretch.
func (q *sums) merge(o *sums) {
	q.time += o.time
	q.i.Alpha += o.i.Alpha
	q.i.Beta += o.i.Beta
	q.aa += o.aa
	q.ab += o.ab
	q.bb += o.bb
	q.dq.D += o.dq.D
	q.dq.Q += o.dq.Q
	q.torque += o.torque
	q.work += o.work
	q.turned += o.turned
	q.link += o.link
	q.link2 += o.link2
	q.linkA += o.linkA
	q.linkB += o.linkB
	q.turns2 += o.turns2
}
