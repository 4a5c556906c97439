package general

import (
	"errors"
	"math"

	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// Route is the workspace of the general route: one stroke is integrated in time
// by the adaptive pair, whatever the oars and rowers, and the steady one is found
// by Newton's method on top (steady.go). It is used again from problem to problem
// so that a warm one allocates nothing; it keeps nothing from one to the next.
type Route struct {
	motion
	ODE        *num.Dopri5
	Trajectory Trajectory
	steps      []float64 // lengths of the last free run's steps, as they were before an event cut them, s
	easing     []float64 // factors on the targets, 1 but on the way by an easy case
	evals      int
	newton     newton
}

// Row solves a checked, merged problem by the general route.
func (g *Route) Row(p *problem.Problem, settings *problem.Settings, out *problem.Solution) *problem.Failure {
	if err := g.SetUp(p); err != nil {
		return &problem.Failure{Cause: problem.BadProblem, What: err.Error()}
	}
	miss, err := g.steady(p, settings.RtolOrDefault(), settings.ResidualOrDefault())
	if err != nil {
		return g.failure(p, err)
	}
	out.Residual = miss
	out.StartSpeed = num.Exp(g.newton.x[0])
	g.results(out)
	return nil
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

// SetUp makes the workspace ready for a checked, merged problem.
func (g *Route) SetUp(p *problem.Problem) error {
	if err := g.Prepare(p); err != nil {
		return err
	}
	if cap(g.Moments) < len(g.Seats) {
		g.Moments = make([]Moment, len(g.Seats))
	}
	g.Moments = g.Moments[:len(g.Seats)]
	n := boatStates
	for i := range g.Moments {
		g.Moments[i] = Moment{First: n}
		n += g.states(&g.Seats[i])
	}
	if g.ODE == nil || len(g.ODE.Y) != n {
		g.ODE = num.NewDopri5(n, g.Slopes)
	}
	g.evals = 0
	return nil
}

// tolerances sets the absolute tolerances of model 7.
func (g *Route) tolerances(rtol float64) {
	g.ODE.Rtol = rtol
	a := g.ODE.Atol
	for i := range a {
		a[i] = 100 * rtol // J
	}
	a[StateX], a[StateV] = rtol, rtol
	for i := range g.Moments {
		at := g.Moments[i].First
		a[at+SeatTheta], a[at+seatOmega], a[at+seatSlip] = 0.1*rtol, 0.1*rtol, rtol
		if g.Seats[i].Flexible {
			a[at+SeatBladeTheta], a[at+seatBladeOmega] = 0.1*rtol, 0.1*rtol
		}
	}
}

// Mode is how a stroke is integrated.
type Mode struct {
	Rtol     float64
	again    bool // over the last free run's steps, so that the end is smooth in the start
	Recorded bool
}

// Run integrates one stroke from the catch at hull speed v0, each seat with its
// own effort.
func (g *Route) Run(v0 float64, how Mode) error {
	ode, rtol := g.ODE, how.Rtol
	g.tolerances(rtol)
	clear(ode.Y)
	ode.Y[StateV] = v0
	for i := range g.Moments {
		s, p := &g.Moments[i], &g.Seats[i]
		s.Finished, s.squared = false, false
		s.Power = [accounts]float64{}
		ode.Y[s.First+SeatTheta] = -p.Catch
		if p.Flexible {
			ode.Y[s.First+SeatBladeTheta] = -p.Catch
		}
		if p.Perfect {
			ode.Y[s.First+seatOmega] = v0 * num.Cos(p.Catch) / p.Centre
		}
	}
	g.Trajectory.start(len(ode.Y))
	ode.Start(0, 1e-3*g.Period*num.Pow(rtol/1e-8, 0.2))
	defer func() { g.evals += ode.Evals }()
	if !how.again {
		g.steps = g.steps[:0]
	}
	for k, driving := 0, len(g.Moments); ode.T < g.Period; k++ {
		limit := g.Period
		if driving > 0 {
			limit = longest * g.Period
		}
		limit = math.Min(limit, g.nextSquaring())
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
		if how.Recorded {
			g.Trajectory.add(ode)
		}
		g.squares()
		if ode.Evals > mostEvals {
			return errStiff
		}
		if driving > 0 && ode.T >= longest*g.Period {
			return errLong
		}
	}
	return nil
}

// finishes ends the drive of the first seat to reach its finish in the last step,
// and the step with it, and says how many finished: seats that are alike do so
// together.
func (g *Route) finishes() int {
	ode, first, who := g.ODE, 2.0, -1
	for i := range g.Moments {
		s, p := &g.Moments[i], &g.Seats[i]
		if s.Finished || ode.Y[s.First] < p.Finish {
			continue
		}
		at, finish := s.First, p.Finish
		u, err := num.RootBetween(func(u float64) float64 { return ode.Dense(at, u) - finish }, 0, 1,
			ode.Y0[at]-finish, ode.Y[at]-finish, 1e-15)
		if err == nil && u < first {
			first, who = u, i
		}
	}
	if who < 0 {
		return 0
	}
	ode.Retake(first * ode.H)
	left := math.Max(0, g.Seats[who].Finish-ode.Y[g.Moments[who].First]) + 1e-12
	n := 0
	for i := range g.Moments {
		s, p := &g.Moments[i], &g.Seats[i]
		if !s.Finished && p.Finish-ode.Y[s.First] <= left {
			s.Finished, s.FinishTime = true, ode.T
			s.squareTime = math.Inf(1)
			if p.Rower.Squaring > problem.NoSquaring {
				s.squareTime = g.Period - float64(p.Rower.Squaring*(g.Period-ode.T))
			}
			n++
		}
	}
	ode.Turn()
	return n
}

// nextSquaring is when the next blade is squared on its way back, s: the air on it jumps there, so no
// step goes past it. +Inf where no oar is in the air or none is left to square.
func (g *Route) nextSquaring() float64 {
	next := math.Inf(1)
	if !g.InAir {
		return next
	}
	for i := range g.Moments {
		if s := &g.Moments[i]; s.Finished && !s.squared {
			next = math.Min(next, s.squareTime)
		}
	}
	return next
}

// squares squares the blades whose time has come.
func (g *Route) squares() {
	if !g.InAir {
		return
	}
	for i := range g.Moments {
		s := &g.Moments[i]
		if s.Finished && !s.squared && s.squareTime <= g.ODE.T+1e-12 {
			s.squared = true
			g.ODE.Turn()
		}
	}
}
