package stroke

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Cause is why there is no stroke.
type Cause uint8

// The causes of failure.
const (
	BadProblem   Cause = iota // something asked that cannot be
	DriveTooLong              // less than a fifth of the stroke is left to recover
	DriveStops                // the drive never gets going
	OutOfReach                // the held quantity cannot be met
	NotFound                  // the solver found no steady stroke, though nothing says there is none
)

// Failure is the error of a problem without a stroke, in a coach's words: What
// happened, Why, and what to Type instead (may be empty; Advice works it out).
type Failure struct {
	Cause Cause
	What  string
	Why   string
	Type  string

	problem  *Problem // what was asked, for Advice
	settings Settings
	seated   bool // it is about one seat,
	group    int  // the merged one
}

func (f *Failure) Error() string { return f.What }

// driveTooLong is the failure of a drive of this length [s] on a merged seat; more
// says that it would be at least that long.
func driveTooLong(p *Problem, seat int, drive float64, more bool) *Failure {
	t := p.Period()
	f := &Failure{
		Cause:  DriveTooLong,
		What:   fmt.Sprintf("the drive would take %.2f s of a %.2f s stroke", drive, t),
		Why:    fmt.Sprintf("%.0f %% leaves %.2f s to come forward; a fifth, %.2f s, is the least", 100*drive/t, t-drive, shortest*t),
		seated: true, group: seat,
	}
	if more {
		f.What = fmt.Sprintf("the drive would take more than %.2f s of a %.2f s stroke", drive, t)
		f.Why = fmt.Sprintf("a fifth of the stroke, %.2f s, is the least to come forward in: %s", shortest*t, tooLittle(p))
	}
	return f
}

// tooLittle names what is too small where a drive takes too long.
func tooLittle(p *Problem) string {
	switch {
	case p.OwnPower():
		return fmt.Sprintf("too little power for rate %.4g and this arc", p.Rate)
	case p.Hold == Power || p.Hold == HandlePower:
		return fmt.Sprintf("%.4g W are too little power for rate %.4g and this arc", p.Target, p.Rate)
	case p.Hold == Speed:
		return fmt.Sprintf("%.4g m/s are too slow for rate %.4g and this arc", p.Target, p.Rate)
	}
	return fmt.Sprintf("%.4g N are too little for rate %.4g and this arc", p.Target, p.Rate)
}

// failure words why no steady stroke was found. The iteration stands at the last
// stroke on the way from an easy one (continued); what that stroke is like tells
// what stopped the way.
func (g *general) failure(p *Problem, err error) *Failure {
	if errors.Is(err, errTooHard) {
		return g.outOfReach(p)
	}
	if errors.Is(err, errStiff) {
		return &Failure{Cause: NotFound, What: "this blade holds the water too hard for so light an oar",
			Why: "the oar would follow the water at every millimetre, which takes too long to work out; a perfect grip is the limit of such a blade", Type: `law="perfect"`}
	}
	w := &g.newton
	g.evals = 0
	if g.residual(p, w.x, w.r, manner{rtol: roughRtol, filmed: true}) == nil {
		low, _ := g.speeds()
		seat, drive := g.longestDrive()
		switch {
		case low < 0.1:
			return stops(p)
		case drive > 0.7*g.period:
			return driveTooLong(p, seat, drive, true)
		case g.hardest() > 0.6*math.Exp(mostEffort):
			return g.outOfReach(p)
		case p.OwnPower() && len(g.seats) > 1:
			return g.powerNotMet(p)
		}
	} else if errors.Is(err, errLong) {
		f := driveTooLong(p, 0, (1-shortest)*g.period, true)
		f.seated = false
		return f
	}
	if errors.Is(err, errStops) {
		return stops(p)
	}
	return &Failure{
		Cause: NotFound,
		What:  "no steady stroke was found",
		Why:   "the search from an easier stroke toward this one came to a halt: " + err.Error(),
		Type:  "numbers nearer to a boat that is rowed",
	}
}

// stops is the failure of a boat that the water or the wind brings to a stop.
func stops(p *Problem) *Failure {
	f := &Failure{Cause: OutOfReach, What: "the boat would come to a stop between the strokes",
		Why: fmt.Sprintf("at rate %.4g its drag takes all its way before the next catch", p.Rate), Type: "a higher rate or more power"}
	if p.Wind > 3 {
		f.Why = fmt.Sprintf("at rate %.4g a headwind of %.3g m/s takes all its way before the next catch", p.Rate, p.Wind)
		f.Type = "less wind, a higher rate or more power"
	}
	return f
}

// outOfReach says how far the crew gets, from the last stroke on the way.
func (g *general) outOfReach(p *Problem) *Failure {
	w := &g.newton
	f := &Failure{Cause: OutOfReach, What: fmt.Sprintf("%s of %s is not reached", p.Hold, amount(p.Hold, p.Target)),
		Why: fmt.Sprintf("no effort up to %.0f N comes to it", math.Exp(mostEffort))}
	if p.OwnPower() {
		f.What = "the rowers' own power is not reached"
	}
	g.evals = 0
	if g.residual(p, w.x, w.r, manner{rtol: roughRtol, filmed: true}) == nil {
		f.Why = fmt.Sprintf("with an effort of %.0f N it comes to %s", g.hardest(), amount(p.Hold, g.held(p)))
	}
	return f
}

// powerNotMet names the seat whose own power is furthest from met in the last stroke on
// the way: as a rule one too weak for the others' boat, whose body alone takes it.
func (g *general) powerNotMet(p *Problem) *Failure {
	far := 0
	for i := range g.ease {
		if math.Abs(math.Log(g.ease[i])) > math.Abs(math.Log(g.ease[far])) {
			far = i
		}
	}
	s, own := &g.moments[far], p.Seats[far].Rower.Power
	y := g.ode.Y[s.at+seatWork:]
	return &Failure{
		Cause: OutOfReach, seated: true, group: far,
		What: fmt.Sprintf("%.4g W cannot be rowed in this boat at rate %.4g", own, p.Rate),
		Why: fmt.Sprintf("the search came as far as %.0f W, %.0f W of it for moving the body, with an effort of %.0f N",
			own*g.ease[far], y[bodyWork]/g.period, s.effort),
		Type: "more power for this rower, or a lower rate",
	}
}

// amount writes a held quantity with its unit.
func amount(h Hold, x float64) string {
	switch h {
	case Power, HandlePower:
		return fmt.Sprintf("%.0f W", x)
	case Speed:
		return fmt.Sprintf("%.2f m/s", x)
	}
	return fmt.Sprintf("%.0f N", x)
}

// longestDrive gives the seat whose drive is longest, of the stroke just rowed.
func (g *general) longestDrive() (seat int, drive float64) {
	for i := range g.moments {
		if g.moments[i].finishTime > drive {
			seat, drive = i, g.moments[i].finishTime
		}
	}
	return seat, drive
}

func (g *general) hardest() float64 {
	e := 0.0
	for i := range g.moments {
		e = math.Max(e, g.moments[i].effort)
	}
	return e
}

// place ends a failure for the problem as the user asked it: which seat it was,
// and what Advice needs.
func (f *Failure) place(p *Problem, settings Settings, where []int) {
	f.problem, f.settings = p, settings
	if !f.seated || len(where) < 2 || slices.Max(where) == 0 {
		return
	}
	f.What = fmt.Sprintf("seat %d: %s", slices.Index(where, f.group)+1, f.What)
}
