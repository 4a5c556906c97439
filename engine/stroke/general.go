package stroke

import (
	"errors"
	"math"

	"thole/engine/num"
)

// general is the workspace of the general route: one stroke is integrated in time
// by the adaptive pair, whatever the oars and rowers, and the steady one is found
// by Newton's method on top (steady.go). It is used again from problem to problem
// so that a warm one allocates nothing; it keeps nothing from one to the next.
type general struct {
	motion
	ode    *num.Dopri5
	film   film
	steps  []float64 // lengths of the last free run's steps, as they were before an event cut them, s
	ease   []float64 // factors on the targets, 1 but on the way by an easy case
	evals  int
	newton newton
}

// errLong says that some drive does not end in time for any recovery at all.
var errLong = errors.New("the drive takes the whole stroke")

// errStiff says that water or shaft are so stiff that the steps become too many.
var errStiff = errors.New("the oar follows the water too closely for steps in time")

// mostEvals is where a stroke counts as too stiff: a stiff blade on an ordinary oar
// takes a hundredth of it.
const mostEvals = 3_000_000

// longest is the share of the stroke within which a drive must end for the
// equations to go on; more than a fifth of recovery is asked of a result.
const longest = 0.98

// setUp makes the workspace ready for a checked, merged problem.
func (g *general) setUp(p *Problem) error {
	if err := g.prepare(p); err != nil {
		return err
	}
	if cap(g.moments) < len(g.seats) {
		g.moments = make([]moment, len(g.seats))
	}
	g.moments = g.moments[:len(g.seats)]
	n := boatStates
	for i := range g.moments {
		g.moments[i] = moment{at: n}
		n += g.seats[i].states()
	}
	if g.ode == nil || len(g.ode.Y) != n {
		g.ode = num.NewDopri5(n, g.slopes)
	}
	g.evals = 0
	return nil
}

// tolerances sets the absolute tolerances of model.md section 7.
func (g *general) tolerances(rtol float64) {
	g.ode.Rtol = rtol
	a := g.ode.Atol
	for i := range a {
		a[i] = 100 * rtol // J
	}
	a[stateX], a[stateV] = rtol, rtol
	for i := range g.moments {
		at := g.moments[i].at
		a[at+seatTheta], a[at+seatOmega], a[at+seatSlip] = 0.1*rtol, 0.1*rtol, rtol
		if g.seats[i].flexible {
			a[at+seatBladeTheta], a[at+seatBladeOmega] = 0.1*rtol, 0.1*rtol
		}
	}
}

// manner is how a stroke is integrated.
type manner struct {
	rtol   float64
	again  bool // over the last free run's steps, so that the end is smooth in the start
	filmed bool
}

// run integrates one stroke from the catch at hull speed v0, each seat with its
// own effort.
func (g *general) run(v0 float64, how manner) error {
	ode, rtol := g.ode, how.rtol
	g.tolerances(rtol)
	clear(ode.Y)
	ode.Y[stateV] = v0
	for i := range g.moments {
		s, p := &g.moments[i], &g.seats[i]
		s.finished = false
		s.power = [accounts]float64{}
		ode.Y[s.at+seatTheta] = -p.catch
		if p.flexible {
			ode.Y[s.at+seatBladeTheta] = -p.catch
		}
		if p.perfect {
			ode.Y[s.at+seatOmega] = v0 * math.Cos(p.catch) / p.centre
		}
	}
	g.film.start(len(ode.Y))
	ode.Start(0, 1e-3*g.period*math.Pow(rtol/1e-8, 0.2))
	defer func() { g.evals += ode.Evals }()
	if !how.again {
		g.steps = g.steps[:0]
	}
	for k, driving := 0, len(g.moments); ode.T < g.period; k++ {
		limit := g.period
		if driving > 0 {
			limit = longest * g.period
		}
		switch {
		case how.again && k < len(g.steps):
			ode.StepBy(g.steps[k], limit)
		default:
			if err := ode.Step(limit); err != nil {
				return err
			}
			g.steps = append(g.steps, ode.H)
		}
		if driving > 0 {
			driving -= g.finishes()
		}
		if how.filmed {
			g.film.add(ode)
		}
		if ode.Evals > mostEvals {
			return errStiff
		}
		if driving > 0 && ode.T >= longest*g.period {
			return errLong
		}
	}
	return nil
}

// finishes ends the drive of the first seat to reach its finish in the last step,
// and the step with it, and says how many finished: seats that are alike do so
// together.
func (g *general) finishes() int {
	ode, first, who := g.ode, 2.0, -1
	for i := range g.moments {
		s, p := &g.moments[i], &g.seats[i]
		if s.finished || ode.Y[s.at] < p.finish {
			continue
		}
		at, finish := s.at, p.finish
		u, err := num.RootBetween(func(u float64) float64 { return ode.Dense(at, u) - finish }, 0, 1, ode.Y0[at]-finish, ode.Y[at]-finish, 1e-15)
		if err == nil && u < first {
			first, who = u, i
		}
	}
	if who < 0 {
		return 0
	}
	ode.Retake(first * ode.H)
	left := math.Max(0, g.seats[who].finish-ode.Y[g.moments[who].at]) + 1e-12
	n := 0
	for i := range g.moments {
		s, p := &g.moments[i], &g.seats[i]
		if !s.finished && p.finish-ode.Y[s.at] <= left {
			s.finished, s.finishTime = true, ode.T
			n++
		}
	}
	ode.Turn()
	return n
}
