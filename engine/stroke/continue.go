package stroke

import "math"

// level sets every factor on the targets to 1.
func (g *general) level() {
	if cap(g.ease) < len(g.seats) {
		g.ease = make([]float64, len(g.seats))
	}
	g.ease = g.ease[:len(g.seats)]
	for i := range g.ease {
		g.ease[i] = 1
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
func (g *general) continued(p *Problem, rtol float64) error {
	w := &g.newton
	start, err := g.easy(p, rtol)
	if err != nil {
		g.level()
		g.begin(p)
		return err
	}
	good := append([]float64(nil), w.x...)
	for gone, step := 0.0, 0.25; gone < 1; {
		next := math.Min(1, gone+step)
		for i := range g.ease {
			g.ease[i] = math.Pow(start[i], 1-next)
		}
		copy(w.x, good)
		if err := g.settle(p, rtol); err != nil {
			if step /= 3; step < shortestStride {
				copy(w.x, good)
				for i := range g.ease {
					g.ease[i] = math.Pow(start[i], 1-gone)
				}
				return err
			}
			continue
		}
		copy(good, w.x)
		gone, step = next, 2*step
		if _, drive := g.longestDrive(); drive > hopeless*g.period && gone < 1 {
			return errLong // targets only move on the way the drive grew
		}
	}
	return nil
}

// easy finds a steady stroke of the crew pulling hard, puts it into the iteration
// of p and gives what it holds over p's targets.
func (g *general) easy(p *Problem, rtol float64) ([]float64, error) {
	g.level()
	v0, effort := g.guess(p)
	v0, effort = math.Min(v0, 6), math.Min(math.Max(1.3*effort, 300), highEffort)
	hard := *p
	hard.Hold = Effort
	start := make([]float64, len(g.seats))
	var err error
	for range 12 {
		hard.Target = effort
		if err = g.settleSpeed(&hard, v0, rtol); err == nil {
			v0 = math.Exp(g.newton.x[0])
			g.newton.size(g.unknowns(p))
			x := g.newton.x
			x[0] = math.Log(v0)
			for i := 1; i < len(x); i++ {
				x[i] = math.Log(effort)
				if p.OwnPower() {
					x[i] = math.Log(g.moments[i-1].effort)
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
func (g *general) over(p *Problem, effort float64, start []float64) bool {
	y := g.ode.Y
	for i := range start {
		s := &g.moments[i]
		switch {
		case p.Hold == Effort:
			start[i] = effort / p.Target
		case p.OwnPower():
			start[i] = (y[s.at+seatWork+handleWork] + y[s.at+seatWork+bodyWork]) / g.period / g.seats[i].rower.Power
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
// its speed by itself, then by the iteration. The last stroke is left on film.
func (g *general) settleSpeed(p *Problem, v0, rtol float64) error {
	w := &g.newton
	w.size(1)
	w.x[0] = math.Log(v0)
	for range 6 {
		if err := g.residual(p, w.x, w.r, manner{rtol: rtol}); err != nil {
			return err
		}
		v := g.ode.Y[stateV]
		if !(v > 0.2) {
			return errStops
		}
		w.x[0] = math.Log(v)
	}
	if err := g.settle(p, rtol); err != nil {
		return err
	}
	return g.residual(p, w.x, w.r, manner{rtol: rtol, filmed: true})
}
