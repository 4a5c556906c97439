package stroke

import "thole/engine/num"

// Frame is one picture of a moving stroke, SI.
type Frame struct {
	Time        float64 // s
	Hull        float64 // X, m
	Speed       float64 // V, m/s
	Angle       float64 // θ_h, rad
	BladeAngle  float64 // θ_b, rad; θ_h on a rigid shaft
	HandleForce float64 // F_h, N
	HandleSpeed float64 // v_h, m/s; negative on the way back
	Driving     bool
}

// Frames gives n pictures of a seat (from 0, bow) at equal times, the first at the
// catch, the last one step before the next. In the recovery, which the model gives no
// oar angle, the oar is drawn back along the body's course S(τ).
func (s *Stroke) Frames(seat, n int) ([]Frame, error) {
	if err := checkPath(s, seat, n); err != nil {
		return nil, err
	}
	g, where, err := s.replay()
	if err != nil {
		return nil, err
	}
	i := where[seat]
	m, p := &g.moments[i], &g.seats[i]
	frames := make([]Frame, n)
	for j := range frames {
		t := g.period * float64(j) / float64(n)
		k, u := g.seconds(i, t)
		g.at(k, u, g.ode.Y0)
		f := Frame{Time: t, Hull: g.film.value(k, stateX, u), Speed: g.v, Driving: t <= m.finishTime}
		if f.Driving {
			f.Angle, f.BladeAngle, f.HandleForce, f.HandleSpeed = m.theta, m.bladeTheta, m.pull, m.speed
		} else {
			back := g.period - m.finishTime
			tau := (t - m.finishTime) / back
			f.Angle = p.finish - p.arc*num.Rise(tau)
			f.BladeAngle = f.Angle
			f.HandleSpeed = -p.lever * p.arc * num.RiseSlope(tau) / back
		}
		frames[j] = f
	}
	return frames, nil
}
