package general

import (
	"errors"
	"fmt"
	"math"

	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// failure words why no steady stroke was found. The iteration stands at the last
// stroke on the way from an easy one (continued); what that stroke is like tells
// what stopped the way.
func (g *Route) failure(p *problem.Problem, err error) *problem.Failure {
	if errors.Is(err, errTooHard) {
		return g.outOfReach(p)
	}
	if errors.Is(err, errStiff) {
		return &problem.Failure{Cause: problem.NotFound,
			What: "this blade holds the water too hard for so light an oar",
			Why: "the oar would follow the water at every millimetre, which takes too long to work out; a " +
				"perfect grip is the limit of such a blade", Type: `blade("perfect")`}
	}
	w := &g.newton
	g.evals = 0
	if g.residual(p, w.x, w.r, Mode{Rtol: roughRtol, Recorded: true}) == nil {
		low, _ := g.speeds()
		seat, drive := g.longestDrive()
		switch {
		case low < 0.1:
			return problem.Stopped(p)
		case drive > 0.7*g.Period:
			return problem.TooLongDrive(p, seat, drive, true)
		case g.hardest() > 0.6*num.Exp(mostEffort):
			return g.outOfReach(p)
		case p.OwnPower() && len(g.Seats) > 1:
			return g.powerNotMet(p)
		}
	} else if errors.Is(err, errLong) {
		f := problem.TooLongDrive(p, 0, (1-problem.LeastRecovery)*g.Period, true)
		f.Seat = 0
		return f
	}
	if errors.Is(err, errStops) {
		return problem.Stopped(p)
	}
	return &problem.Failure{
		Cause: problem.NotFound,
		What:  "no steady stroke was found",
		Why:   "the search from an easier stroke toward this one came to a halt: " + err.Error(),
		Type:  "numbers nearer to a boat that is rowed",
	}
}

// outOfReach says how far the crew gets, from the last stroke on the way.
func (g *Route) outOfReach(p *problem.Problem) *problem.Failure {
	w := &g.newton
	f := &problem.Failure{Cause: problem.OutOfReach, What: fmt.Sprintf("%s of %s is not reached", p.Hold,
		amount(p.Hold, p.Target)),
		Why: fmt.Sprintf("no effort up to %.0f N comes to it", num.Exp(mostEffort))}
	if p.OwnPower() {
		f.What = "the rowers' own power is not reached"
	}
	g.evals = 0
	if g.residual(p, w.x, w.r, Mode{Rtol: roughRtol, Recorded: true}) == nil {
		f.Why = fmt.Sprintf("with an effort of %.0f N it comes to %s", g.hardest(), amount(p.Hold, g.held(p)))
	}
	return f
}

// powerNotMet names the seat whose own power is furthest from met in the last stroke on
// the way: as a rule one too weak for the others' boat, whose body alone takes it.
func (g *Route) powerNotMet(p *problem.Problem) *problem.Failure {
	far := 0
	for i := range g.easing {
		if math.Abs(num.Ln(g.easing[i])) > math.Abs(num.Ln(g.easing[far])) {
			far = i
		}
	}
	s, own := &g.Moments[far], p.Seats[far].Rower.Power
	y := g.ODE.Y[s.First+seatWork:]
	of := "of it"
	if p.Hold == problem.HandlePower {
		of = "besides"
	}
	return &problem.Failure{
		Cause: problem.OutOfReach, Seat: far + 1,
		What: fmt.Sprintf("%.4g W cannot be rowed in this boat at rate %.4g", own, p.Rate),
		Why: fmt.Sprintf("the search came as far as %.0f W, %.0f W %s for moving the body, with an "+
			"effort of %.0f N",
			own*g.easing[far], y[bodyWork]/g.Period, of, s.Effort),
		Type: "more power for this rower, or a lower rate",
	}
}

// amount writes a held quantity with its unit.
func amount(h problem.Hold, x float64) string {
	switch h {
	case problem.Power, problem.HandlePower:
		return fmt.Sprintf("%.0f W", x)
	case problem.Speed:
		return fmt.Sprintf("%.2f m/s", x)
	}
	return fmt.Sprintf("%.0f N", x)
}

// longestDrive gives the seat whose drive is longest, of the stroke just rowed.
func (g *Route) longestDrive() (seat int, drive float64) {
	for i := range g.Moments {
		if g.Moments[i].FinishTime > drive {
			seat, drive = i, g.Moments[i].FinishTime
		}
	}
	return seat, drive
}

func (g *Route) hardest() float64 {
	e := 0.0
	for i := range g.Moments {
		e = math.Max(e, g.Moments[i].Effort)
	}
	return e
}
