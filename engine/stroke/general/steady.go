package general

import (
	"errors"
	"math"

	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// The steady stroke is the pair (V(0), E) whose stroke ends at the speed it began
// with and meets the held quantity; rowers who each meet their own power have an E
// each. Unknowns are ln V(0) and ln E, so that both stay positive; residuals are
// relative.

// Why the iteration gave up.
var (
	errNoConvergence = errors.New("the search for it did not settle")
	errTooHard       = errors.New("it would take an effort without limit")
	errStops         = errors.New("the boat comes to a stop between strokes")
)

// mostWork is the number of right-hand sides, times the unlike seats each of them
// works out, after which a problem is given up; an ordinary one takes a thousandth.
const mostWork = 8_000_000

// mostEffort is ln E beyond which nobody's pull is looked for: 20 000 N, eight
// times what carries a caution.
var mostEffort = num.Ln(2e4)

// unknowns sizes the iteration: V(0), and the efforts that are free.
func (g *Route) unknowns(p *problem.Problem) int {
	switch {
	case p.Hold == problem.Effort:
		return 1
	case p.OwnPower():
		return 1 + len(g.Seats)
	}
	return 2
}

// setEfforts puts the iterate's efforts on the seats and gives V(0).
func (g *Route) setEfforts(p *problem.Problem, x []float64) float64 {
	for i := range g.Moments {
		e := p.Target * g.easing[0]
		switch {
		case p.Hold == problem.Effort:
		case p.OwnPower():
			e = num.Exp(x[1+i])
		default:
			e = num.Exp(x[1])
		}
		if !p.OwnPower() {
			e *= g.Seats[i].Share
		}
		g.Moments[i].Effort = e
	}
	return num.Exp(x[0])
}

// residual rows one stroke and says by how much it misses being steady and being
// on target. Equation 7.1.
func (g *Route) residual(p *problem.Problem, x, r []float64, how Mode) error {
	v0 := g.setEfforts(p, x)
	if x[len(x)-1] > mostEffort {
		return errTooHard
	}
	if g.evals > mostWork/len(g.Seats) {
		return errNoConvergence
	}
	how.Recorded = how.Recorded || p.Hold == problem.Force // whose peak is read off the trajectory
	if err := g.Run(v0, how); err != nil {
		return err
	}
	y := g.ODE.Y
	r[0] = y[StateV]/v0 - 1
	if math.IsNaN(r[0]) {
		return errNoConvergence
	}
	if p.Hold == problem.Effort {
		return nil
	}
	if p.OwnPower() {
		for i := range g.Seats {
			work := y[g.Moments[i].First+seatWork:]
			r[1+i] = (work[handleWork]+g.airWorks(i, y)[airBack]+bodyPart(p, work))/
				g.Period/(g.Seats[i].Rower.Power*g.easing[i]) - 1
		}
		return nil
	}
	r[1] = g.held(p)/(p.Target*g.easing[0]) - 1
	return nil
}

// bodyPart is what of a rower's own power moves the body: none of what is held at the handle.
func bodyPart(p *problem.Problem, work []float64) float64 {
	if p.Hold == problem.HandlePower {
		return 0
	}
	return work[bodyWork]
}

// held gives the held quantity of the stroke just rowed: the mean over rowers.
func (g *Route) held(p *problem.Problem) float64 {
	y := g.ODE.Y
	if p.Hold == problem.Speed {
		return y[StateX] / g.Period
	}
	sum, n := 0.0, 0.0
	for i := range g.Seats {
		s, c := &g.Moments[i], g.Seats[i].Count
		w := y[s.First+seatWork:]
		switch p.Hold {
		case problem.Power:
			sum += c * (w[handleWork] + g.airWorks(i, y)[airBack] + w[bodyWork]) / g.Period
		case problem.HandlePower:
			sum += c * (w[handleWork] + g.airWorks(i, y)[airBack]) / g.Period
		case problem.Force:
			sum += float64(c * g.peakForce(i))
		}
		n += c
	}
	return sum / n
}

// The coarse tolerance takes a quarter of the fine one's steps; its strokes are within
// 1e-6 of the fine ones. Where its noise keeps the residual from roughNear, roughEnough
// does for the fine one to start.
const (
	roughRtol   = 1e-5
	roughNear   = 2e-6
	roughEnough = 1e-3
)

// steady finds the steady stroke: the way in at a coarse tolerance, the last
// iterations at the fine one with the Jacobian learnt on the way. Where the first
// guess does not lead there, the way goes by an easy case (continued).
func (g *Route) steady(p *problem.Problem, rtol, residual float64) (float64, error) {
	g.resetTargets()
	g.begin(p)
	err := g.settle(p, math.Max(rtol, roughRtol))
	if err == nil {
		miss := 0.0
		if miss, err = g.polish(p, rtol, residual); err == nil {
			return miss, nil
		}
	}
	if errors.Is(err, errStiff) {
		return 0, err
	}
	if err := g.continued(p, math.Max(rtol, roughRtol)); err != nil {
		if !errors.Is(err, errNoConvergence) {
			return 0, err
		}
		// the coarse strokes' own noise may be what stopped it
		if err := g.continued(p, math.Max(rtol, roughRtol/100)); err != nil {
			return 0, err
		}
	}
	return g.polish(p, rtol, residual)
}

// settle approaches near enough for the fine iteration to start.
func (g *Route) settle(p *problem.Problem, rtol float64) error {
	if err := g.approach(p, rtol, roughNear); err != nil && !(largest(g.newton.r) < roughEnough) {
		return err
	}
	return nil
}

// approach is the damped Newton iteration at a coarse tolerance, from w.x.
func (g *Route) approach(p *problem.Problem, rtol, enough float64) error {
	w := &g.newton
	if err := g.residual(p, w.x, w.r, Mode{Rtol: rtol}); err != nil {
		w.r[0] = math.Inf(1)
		return err
	}
	if err := g.differences(p, Mode{Rtol: rtol}, math.Max(1e-6, 30*rtol)); err != nil {
		return err
	}
	fresh := true
	for range 12 {
		if largest(w.r) <= enough {
			return nil
		}
		moved, ratio, err := g.advance(p, rtol)
		if err != nil {
			return err
		}
		if moved && ratio < 0.5 {
			fresh = false
			continue
		}
		// slow or stuck: the Jacobian is stale, unless it was just made
		if !moved && fresh {
			return errNoConvergence
		}
		if err := g.differences(p, Mode{Rtol: rtol}, math.Max(1e-6, 30*rtol)); err != nil {
			return err
		}
		fresh = true
	}
	return errNoConvergence
}

// advance takes one guarded step, halved until the residual falls, and learns
// from it. ratio is the residual's fall.
func (g *Route) advance(p *problem.Problem, rtol float64) (moved bool, ratio float64, err error) {
	w := &g.newton
	if !w.solveStep() {
		return false, 1, nil
	}
	scale := 1.0
	for j, s := range w.step {
		limit := 0.6
		if j == 0 {
			limit = 0.25
		}
		scale = math.Min(scale, limit/math.Abs(s))
	}
	before := largest(w.r)
	for range 8 {
		for j := range w.x {
			w.x1[j] = w.x[j] + float64(scale*w.step[j])
		}
		err := g.residual(p, w.x1, w.r1, Mode{Rtol: rtol})
		if err == nil {
			now := largest(w.r1)
			if now < before {
				w.learn()
				copy(w.x, w.x1)
				copy(w.r, w.r1)
				return true, now / before, nil
			}
			if now < 1e3*before {
				w.learn()
			}
		}
		scale /= 2
	}
	return false, 1, nil
}

// differences makes the Jacobian by forward differences around w.x, where w.r is
// known.
func (g *Route) differences(p *problem.Problem, how Mode, h float64) error {
	w, n := &g.newton, g.newton.n
	for j := range n {
		copy(w.x1, w.x)
		w.x1[j] += h // upward: faster or harder, so that the drive still ends
		if err := g.residual(p, w.x1, w.r1, how); err != nil {
			return err
		}
		for i := range n {
			w.jacobian[i*n+j] = (w.r1[i] - w.r[i]) / h
		}
	}
	return nil
}

// polish ends the iteration at the fine tolerance. Its first stroke chooses the
// steps, the others go over them again: a free choice would jump by the tolerance
// from one iterate to the next and keep the residual above it. Where the Jacobian
// learnt on the way misleads it is made anew over the same steps. Steps gone over
// again are not watched, so where water or shaft are stiff they may run away; then
// every stroke chooses for itself. The trajectory left behind is that of the solution.
func (g *Route) polish(p *problem.Problem, rtol, residual float64) (float64, error) {
	w := &g.newton
	free := Mode{Rtol: rtol, Recorded: true}
	again := Mode{Rtol: rtol, Recorded: true, again: true}
	if err := g.residual(p, w.x, w.r, free); err != nil {
		return 0, err
	}
	watched, fresh := false, false
	for range 25 {
		now := largest(w.r)
		if now <= residual {
			return now, nil
		}
		if !w.solveStep() {
			return 0, errNoConvergence
		}
		for j := range w.x {
			w.x1[j] = w.x[j] + math.Max(-0.05, math.Min(0.05, w.step[j]))
		}
		how := free
		if !watched && largest(w.step) < 1e-3 {
			how = again
		}
		err := g.residual(p, w.x1, w.r1, how)
		if how.again && (err != nil || largest(w.r1) > math.Max(0.5*now, residual)) {
			// mistrust the Jacobian first, the steps if it was just made
			watched = fresh || g.differences(p, again, 1e-6) != nil
			fresh = true
			if watched {
				if err := g.residual(p, w.x, w.r, free); err != nil {
					return 0, err
				}
			}
			continue
		}
		if err != nil {
			return 0, err
		}
		w.learn()
		copy(w.x, w.x1)
		copy(w.r, w.r1)
	}
	return 0, errNoConvergence
}
