package general

import (
	"math"

	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// resetTargets sets every factor on the targets to 1.
func (g *Route) resetTargets() {
	if cap(g.easing) < len(g.Seats) {
		g.easing = make([]float64, len(g.Seats))
	}
	g.easing = g.easing[:len(g.Seats)]
	for i := range g.easing {
		g.easing[i] = 1
	}
}

// shortestStride is the share of the way below which it is not followed further.
const shortestStride = 4e-3

// hopeless is the share of the stroke a drive takes on the way from an easy stroke
// from where it is not followed further: it grows along the way.
const hopeless = 0.87

// continued comes to the neighbourhood of a hard problem's solution from an easy
// one: the same crew pulling hard, so that the drive is short, whose targets then
// move to those asked, in steps as long as the iteration follows. Where they cannot
// be followed to the end, g.newton.x is the last steady stroke on the way.
func (g *Route) continued(p *problem.Problem, rtol float64) error {
	w := &g.newton
	start, err := g.easy(p, rtol)
	if err != nil {
		g.resetTargets()
		g.begin(p)
		return err
	}
	good := append([]float64(nil), w.x...)
	for gone, step := 0.0, 0.25; gone < 1; {
		next := math.Min(1, gone+step)
		for i := range g.easing {
			g.easing[i] = num.Pow(start[i], 1-next)
		}
		copy(w.x, good)
		if err := g.settle(p, rtol); err != nil {
			if step /= 3; step < shortestStride {
				copy(w.x, good)
				for i := range g.easing {
					g.easing[i] = num.Pow(start[i], 1-gone)
				}
				return err
			}
			continue
		}
		copy(good, w.x)
		gone, step = next, float64(2*step)
		if _, drive := g.longestDrive(); drive > hopeless*g.Period && gone < 1 {
			return errLong // targets only move on the way the drive grew
		}
	}
	return nil
}

// easy finds a steady stroke of the crew pulling hard, puts it into the iteration
// of p and gives what it holds over p's targets.
func (g *Route) easy(p *problem.Problem, rtol float64) ([]float64, error) {
	g.resetTargets()
	v0, effort := g.guess(p)
	v0, effort = math.Min(v0, 6), math.Min(math.Max(1.3*effort, 300), problem.HighEffort)
	hard := *p
	hard.Hold = problem.Effort
	start := make([]float64, len(g.Seats))
	var err error
	for range 12 {
		hard.Target = effort
		if err = g.settleSpeed(&hard, v0, rtol); err == nil {
			v0 = num.Exp(g.newton.x[0])
			g.newton.size(g.unknowns(p))
			x := g.newton.x
			x[0] = num.Ln(v0)
			for i := 1; i < len(x); i++ {
				x[i] = num.Ln(effort)
				if p.OwnPower() {
					x[i] = num.Ln(g.Moments[i-1].Effort)
				}
			}
			if g.over(p, effort, start) {
				return start, nil
			}
		}
		effort *= 1.4
		v0 *= 1.1
	}
	if err == nil {
		err = errNoConvergence
	}
	return nil, err
}

// over writes what the stroke just rowed holds over what p asks; false where that
// is nothing to start from.
func (g *Route) over(p *problem.Problem, effort float64, start []float64) bool {
	y := g.ODE.Y
	for i := range start {
		s := &g.Moments[i]
		switch {
		case p.Hold == problem.Effort:
			start[i] = effort / p.Target
		case p.OwnPower():
			work := y[s.First+seatWork:]
			start[i] = (work[handleWork] + bodyPart(p, work)) / g.Period / g.Seats[i].Rower.Power
		default:
			start[i] = g.held(p) / p.Target
		}
		if !(start[i] > 0) {
			return false
		}
	}
	return true
}

// settleSpeed finds V(0) at given efforts: stroke after stroke, as a boat comes to
// its speed by itself, then by the iteration. The last stroke is left as a trajectory.
func (g *Route) settleSpeed(p *problem.Problem, v0, rtol float64) error {
	w := &g.newton
	w.size(1)
	w.x[0] = num.Ln(v0)
	for range 6 {
		if err := g.residual(p, w.x, w.r, Mode{Rtol: rtol}); err != nil {
			return err
		}
		v := g.ODE.Y[StateV]
		if !(v > 0.2) {
			return errStops
		}
		w.x[0] = num.Ln(v)
	}
	if err := g.settle(p, rtol); err != nil {
		return err
	}
	return g.residual(p, w.x, w.r, Mode{Rtol: rtol, Recorded: true})
}
