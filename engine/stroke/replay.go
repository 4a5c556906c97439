package stroke

import "thole/engine/num"

// replayRtol is the tolerance at which a solved stroke is rowed again to be looked
// at: two orders finer than it was solved, so that a curve is as good as a field.
const replayRtol = 1e-10

// replay rows a solved stroke once more by the general equations, on film; where
// says which of its moments each seat of the problem is. Traces and paths are read
// off it, so that a Stroke itself stays small.
func (s *Stroke) replay() (g *general, where []int, err error) {
	merged, where := s.Problem.merged()
	g = new(general)
	if err := g.setUp(&merged); err != nil {
		return nil, nil, err
	}
	for i, j := range where {
		g.moments[j].effort = s.Seats[i].Effort
	}
	if err := g.run(s.StartSpeed, manner{rtol: replayRtol, filmed: true}); err != nil {
		return nil, nil, &Failure{Cause: NotFound, What: "this stroke is too stiff to be followed moment by moment",
			Why:  "its blade holds the water so hard, or its shaft is so stiff, that the oar takes too many steps: " + err.Error(),
			Type: "a softer blade, or law=\"perfect\""}
	}
	return g, where, nil
}

// seconds gives the step of the film and the share of it at time t, on the drive's
// side where t is a seat's finish.
func (g *general) seconds(seat int, t float64) (k int, u float64) {
	k, u = g.film.find(t)
	if k > 0 && t == g.film.starts[k] && t == g.moments[seat].finishTime {
		return k - 1, 1
	}
	return k, u
}

// when gives the time at which a seat's oar passes an angle [rad] in the drive;
// false where its arc does not reach.
func (g *general) when(seat int, theta float64) (float64, bool) {
	s, p, f := &g.moments[seat], &g.seats[seat], &g.film
	const slack = 1e-9 // a catch of 56 typed in degrees is the catch itself
	if theta < -p.catch-slack || theta > p.finish+slack {
		return 0, false
	}
	at := s.at + seatTheta
	for k := range f.starts {
		if f.starts[k] >= s.finishTime {
			break
		}
		if f.value(k, at, 1) >= theta {
			u, err := num.Root(func(u float64) float64 { return f.value(k, at, u) - theta }, 0, 1, 1e-13)
			if err != nil {
				u = 0 // below the catch by rounding
			}
			return f.starts[k] + u*f.steps[k], true
		}
	}
	return s.finishTime, true
}
