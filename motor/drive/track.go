package drive

import "sextant/inverter"

// A track is the continuous extension of the whole state over a stride.
type track struct {
	from, to                        state
	turn                            float64 // of a rotor at constant speed
	slow                            bool
	alpha, beta, theta, speed, link curve
	ring                            curve
}

func newTrack(st *stride, p *plant) track {
	tr := track{from: st.from, to: st.to, turn: st.to.theta - st.from.theta, slow: p.slow()}
	tr.alpha = st.curveOf(func(r *rate) float64 { return r.i.Alpha }, st.from.i.Alpha, st.to.i.Alpha)
	tr.beta = st.curveOf(func(r *rate) float64 { return r.i.Beta }, st.from.i.Beta, st.to.i.Beta)
	if tr.slow {
		tr.theta = st.curveOf(func(r *rate) float64 { return r.theta }, st.from.theta, st.to.theta)
		tr.speed = st.curveOf(func(r *rate) float64 { return r.speed }, st.from.speed, st.to.speed)
		tr.link = st.curveOf(func(r *rate) float64 { return r.link }, st.from.link, st.to.link)
		tr.ring = st.curveOf(func(r *rate) float64 { return r.ring }, st.from.ring, st.to.ring)
	}
	return tr
}

// at returns the state at part x of the stride; the ends are exact.
func (tr *track) at(x float64) state {
	switch x {
	case 0:
		return tr.from
	case 1:
		return tr.to
	}
	s := state{
		i:     inverter.Vector{Alpha: tr.alpha.at(x), Beta: tr.beta.at(x)},
		theta: tr.from.theta + x*tr.turn,
		speed: tr.from.speed,
		link:  tr.from.link,
		ring:  tr.from.ring,
	}
	if tr.slow {
		s.theta, s.speed, s.link, s.ring = tr.theta.at(x), tr.speed.at(x), tr.link.at(x), tr.ring.at(x)
	}
	return s
}

// curveOf returns the continuous extension of one variable over the stride, its slopes picked by of.
func (st *stride) curveOf(of func(*rate) float64, y0, y1 float64) curve {
	bend := 0.0
	for j := range st.rates {
		bend += bends[j] * of(&st.rates[j])
	}
	return newCurve(y0, y1, st.h*of(&st.rates[0]), st.h*of(&st.rates[stages-1]), st.h*bend)
}
