package fast

import (
	"math"

	"thole/engine/num"
)

// past is a stroke rowed on one grid, from which the next grid's steps by collocation start.
type past struct {
	steps []bentStep
	over  *grid // nil = there is none
	at    int   // the step looked at last
	ready bool  // its curves are
	curve [bentStates]num.RadauCurve
}

// state gives the state at a share φ of the arc; φ rises from one call to the next, or falls by less than a
// step.
func (p *past) state(phi float64, y *bentState) {
	for p.at > 0 && !p.from(phi, p.at) {
		p.at, p.ready = p.at-1, false
	}
	for p.at < len(p.steps)-1 && p.from(phi, p.at+1) {
		p.at, p.ready = p.at+1, false
	}
	if !p.ready {
		p.ready = true
		p.steps[p.at].curves(&p.curve)
	}
	u := p.over.place[p.at].share(phi) / p.over.width[p.at]
	for k := range y {
		y[k] = p.curve[k].At(u)
	}
}

// from says whether a share of the arc lies at the start of a step or beyond.
func (p *past) from(phi float64, step int) bool {
	start, _, _ := p.over.place[step].phi(0)
	return phi >= start
}

// share is the way from the step's start to a share φ of the arc: phi turned round.
func (p *stretchOfArc) share(phi float64) float64 {
	switch left := max(0, 1-phi); p.power {
	case 0:
		return math.Sqrt(phi) - p.start
	case 2:
		return 1 - p.start - math.Sqrt(left/p.left)
	default:
		return 1 - p.start - num.Cbrt(left/p.left)
	}
}

// curves makes a step's curves, one a state.
func (s *bentStep) curves(c *[bentStates]num.RadauCurve) {
	for k := range c {
		values := [num.RadauPoints + 1]float64{0: s.start[k]}
		for j := range s.rise {
			values[j+1] = s.start[k] + s.rise[j][k]
		}
		c[k].Through(&values)
	}
}
