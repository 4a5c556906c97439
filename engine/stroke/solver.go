package stroke

import (
	"errors"

	"thole/engine/stroke/fast"
	"thole/engine/stroke/general"
	"thole/engine/stroke/problem"
)

// Solver solves one problem after another in memory it keeps: a warm one allocates
// nothing. It gives the same numbers as Row, to the last bit. Not for use by
// several goroutines at once; the zero value is ready.
type Solver struct {
	fast     fast.Route
	general  general.Route
	seats    [1]Seat
	solution Solution
}

// Solve gives the steady stroke of p, with one SeatSolution for each seat that is
// unlike those before it. The solution is the solver's own: it holds until the next
// call. An error is a *Failure.
func (v *Solver) Solve(p *Problem, settings Settings) (*Solution, error) {
	if f := problem.Check(p); f != nil {
		return nil, f
	}
	merged := *p
	if !settings.SeatBySeat {
		if p.AllAlike() {
			v.seats[0] = p.Seats[0]
			v.seats[0].Count = int(p.Rowers())
			merged.Seats = v.seats[:]
		} else {
			merged, _ = p.Merged()
		}
	}
	if settings.Route == General || !v.fast.Solve(&merged, &settings, &v.solution) {
		if settings.Route == Fast {
			return nil, errNotFast
		}
		if f := v.general.Row(&merged, &settings, &v.solution); f != nil {
			return nil, f
		}
	}
	if f := problem.Refuse(&merged, &v.solution); f != nil {
		return nil, f
	}
	return &v.solution, nil
}

// errNotFast is the answer where the fast route alone was asked for.
var errNotFast = errors.New("the fast route does not take this problem, or does not trust itself here")
