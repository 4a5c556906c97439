package replay

import (
	"thole/engine/num"
	"thole/engine/stroke/general"
	"thole/engine/stroke/problem"
)

// replayRtol is the tolerance at which a solved stroke is rowed again to be looked
// at: two orders finer than it was solved, so that a curve is as good as a field.
const replayRtol = 1e-10

// Replay is a solved stroke rowed once more by the general equations, its trajectory
// kept.
type Replay struct {
	general.Route
	problem *problem.Problem
	where   []int // which of the moments each seat of the problem is
}

// Follow rows the steady stroke sol of problem p once more. An error is a *Failure.
func Follow(p *problem.Problem, sol *problem.Solution) (*Replay, error) {
	merged, where := p.Merged()
	r := &Replay{problem: p, where: where}
	if err := r.SetUp(&merged); err != nil {
		return nil, err
	}
	for i, j := range where {
		r.Moments[j].Effort = sol.Seats[i].Effort
	}
	if err := r.Run(sol.StartSpeed, general.Mode{Rtol: replayRtol, Recorded: true}); err != nil {
		return nil, &problem.Failure{Cause: problem.NotFound,
			What: "this stroke is too stiff to be followed moment by moment",
			Why: "its blade holds the water so hard, or its shaft is so stiff, that the oar takes too many " +
				"steps: " + err.Error(),
			Type: "a softer blade, or law=\"perfect\""}
	}
	return r, nil
}

// Seconds gives the step of the trajectory and the share of it at time t, on the drive's
// side where t is a seat's finish.
func (r *Replay) Seconds(seat int, t float64) (k int, u float64) {
	k, u = r.Trajectory.Find(t)
	if k > 0 && t == r.Trajectory.Starts[k] && t == r.Moments[seat].FinishTime {
		return k - 1, 1
	}
	return k, u
}

// When gives the time at which a seat's oar passes an angle [rad] in the drive;
// false where its arc does not reach.
func (r *Replay) When(seat int, theta float64) (float64, bool) {
	s, p, f := &r.Moments[seat], &r.Seats[seat], &r.Trajectory
	const slack = 1e-9 // a catch of 56 typed in degrees is the catch itself
	if theta < -p.Catch-slack || theta > p.Finish+slack {
		return 0, false
	}
	at := s.First + general.SeatTheta
	for k := range f.Starts {
		if f.Starts[k] >= s.FinishTime {
			break
		}
		if f.Value(k, at, 1) >= theta {
			u, err := num.Root(func(u float64) float64 { return f.Value(k, at, u) - theta }, 0, 1, 1e-13)
			if err != nil {
				u = 0 // below the catch by rounding
			}
			return f.Starts[k] + float64(u*f.Steps[k]), true
		}
	}
	return s.FinishTime, true
}
