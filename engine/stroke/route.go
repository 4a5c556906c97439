package stroke

import "errors"

// Row solves a problem for its steady stroke. An error is a *Failure.
func Row(p Problem, settings Settings) (*Stroke, error) {
	return nil, errors.New("not built yet")
}

// fastApplies says whether the fast route can take a problem at all: rigid
// oars, rowers alike, a blade that slips.
//
// FAST fills fast.go with it and rowFast, and takes this one away:
//
//	func fastApplies(p *Problem) bool
//	func rowFast(p *Problem, s *Settings) (Solution, bool, error)
//
// p is merged (alike seats stand for one) and checked. false = handed over: not
// trusted by its own error estimate. An error is a *Failure, true failures only.
