package stroke

import (
	"sync"

	"thole/engine/stroke/fast"
	"thole/engine/stroke/general"
	"thole/engine/stroke/problem"
)

// Row solves a problem for its steady stroke. An error is a *Failure. The stroke is
// a pure function of the problem and the settings, to the last bit.
func Row(p Problem, settings Settings) (*Stroke, error) {
	if f := problem.Check(&p); f != nil {
		return nil, f
	}
	merged, where := p, []int(nil)
	if !settings.SeatBySeat {
		merged, where = p.Merged()
	}
	sol, err := solve(&merged, &settings)
	if err != nil {
		if f, ok := err.(*Failure); ok {
			complete(f, &p, settings, where)
		}
		return nil, err
	}
	s := &Stroke{Problem: p, Solution: sol}
	if where != nil {
		s.Seats = make([]SeatSolution, len(where))
		for i, j := range where {
			s.Seats[i] = sol.Seats[j]
		}
	}
	s.Cautions = cautions(s)
	return s, nil
}

// solve takes the route the settings ask for; p is checked and merged.
func solve(p *Problem, settings *Settings) (sol Solution, err error) {
	done := false
	if settings.Route != General {
		sol, done = fast.Row(p, settings)
		if !done && settings.Route == Fast {
			return Solution{}, errNotFast
		}
	}
	if !done {
		g := workspaces.Get().(*general.Route)
		defer workspaces.Put(g)
		if f := g.Row(p, settings, &sol); f != nil {
			return Solution{}, f
		}
	}
	if f := problem.Refuse(p, &sol); f != nil {
		return Solution{}, f
	}
	return sol, nil
}

// workspaces are used again so that a long sweep allocates little; they carry
// nothing from one problem to the next.
var workspaces = sync.Pool{New: func() any { return new(general.Route) }}
