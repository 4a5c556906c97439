package replay

import "thole/engine/stroke/general"

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
// catch, the last one step before the next. In the recovery the oar goes back along the
// body's course S(τ).
func (r *Replay) Frames(seat, n int) ([]Frame, error) {
	if err := r.check(seat, Moments{Points: n}); err != nil {
		return nil, err
	}
	i := r.where[seat]
	m, p := &r.Moments[i], &r.Seats[i]
	frames := make([]Frame, n)
	for j := range frames {
		t := r.Period * float64(j) / float64(n)
		k, u := r.Seconds(i, t)
		r.At(k, u, r.ODE.Y0)
		f := Frame{Time: t, Hull: r.Trajectory.Value(k, general.StateX, u), Speed: r.V,
			Driving: t <= m.FinishTime}
		if f.Driving {
			f.Angle, f.BladeAngle, f.HandleForce, f.HandleSpeed = m.Theta, m.BladeTheta, m.Pull, m.HandleSpeed
		} else {
			back := r.Period - m.FinishTime
			tau := (t - m.FinishTime) / back
			var turn float64
			f.Angle, turn = p.Back(tau)
			f.BladeAngle = f.Angle
			f.HandleSpeed = p.Lever * turn / back
		}
		frames[j] = f
	}
	return frames, nil
}
