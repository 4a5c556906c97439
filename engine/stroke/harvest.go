package stroke

import (
	"math"

	"thole/engine/num"
)

// harvest reads the solution off the film of the steady stroke and the state at
// its end.
func (g *general) harvest(out *Solution) {
	y := g.ode.Y
	out.Route = General
	out.Speed = y[stateX] / g.period
	out.Evaluations = g.evals
	out.Energy = Energy{WaterDrag: y[stateWater], AirDrag: y[stateAir]}
	if cap(out.Seats) < len(g.seats) {
		out.Seats = make([]SeatSolution, len(g.seats))
	}
	out.Seats = out.Seats[:len(g.seats)]
	out.MinSpeed, out.MaxSpeed = g.speeds()
	e := &out.Energy
	for i := range g.seats {
		s, p, sol := &g.moments[i], &g.seats[i], &out.Seats[i]
		work := y[s.at+seatWork:]
		*sol = SeatSolution{Effort: s.effort, DriveTime: s.finishTime, HandleWork: work[handleWork], BodyWork: work[bodyWork]}
		e.Handle += p.count * work[handleWork]
		e.Body += p.count * work[bodyWork]
		e.BladeLoss += p.count * (work[bladeWork] + work[addedWork])
		g.finish(i, e)
		g.seatDrive(i, sol)
	}
}

// finish books what is left in a seat's oars when the drive ends.
func (g *general) finish(i int, e *Energy) {
	s, p, y := &g.moments[i], &g.seats[i], g.ode.Y
	n := p.count * g.oars
	omega := y[s.at+seatOmega]
	switch {
	case p.flexible:
		blade := y[s.at+seatBladeOmega]
		bend := y[s.at+seatTheta] - y[s.at+seatBladeTheta]
		e.OarSwing += n * 0.5 * (p.shaft.HandleInertia*omega*omega + p.shaft.BladeInertia*blade*blade)
		e.SpringLeft += n * 0.5 * p.shaft.Stiffness * bend * bend
		e.ShaftDamping += p.count * y[s.at+seatDamping]
	case p.perfect:
		step, u := g.film.find(s.finishTime)
		last := g.film.value(step, stateV, u) * math.Cos(p.finish) / p.centre
		first := g.film.value(0, stateV, 0) * math.Cos(p.catch) / p.centre
		e.OarSwing += n * 0.5 * p.inertia * (last*last - first*first)
	default:
		e.OarSwing += n * 0.5 * p.inertia * omega * omega
	}
}

// speeds gives the continuous extremes of V over the stroke.
func (g *general) speeds() (low, high float64) {
	f := &g.film
	low, high = math.Inf(1), math.Inf(-1)
	lowAt, highAt := 0, 0
	for i := range f.starts {
		v := f.value(i, stateV, 0)
		if v < low {
			low, lowAt = v, i
		}
		if v > high {
			high, highAt = v, i
		}
	}
	for _, i := range [2]int{lowAt - 1, lowAt} {
		if i >= 0 {
			_, v := num.Minimum(func(u float64) float64 { return f.value(i, stateV, u) }, 0, 1, 1e-6)
			low = math.Min(low, v)
		}
	}
	for _, i := range [2]int{highAt - 1, highAt} {
		if i >= 0 {
			_, v := num.Minimum(func(u float64) float64 { return -f.value(i, stateV, u) }, 0, 1, 1e-6)
			high = math.Max(high, -v)
		}
	}
	return low, high
}

// handleForce gives F_h of a seat at the share u of step k.
func (g *general) handleForceAt(seat, k int, u float64) float64 {
	s, p := &g.moments[seat], &g.seats[seat]
	theta := g.film.value(k, s.at+seatTheta, u)
	omega := g.film.value(k, s.at+seatOmega, u)
	if p.perfect {
		omega = g.film.value(k, stateV, u) * math.Cos(theta) / p.centre
	}
	return s.effort * p.shape.At((theta+p.catch)/p.arc) * p.rower.Fade(p.lever*omega)
}

// peakForce gives the continuous maximum of F_h of a seat over its drive.
func (g *general) peakForce(seat int) float64 {
	return g.peak(seat, func(k int, u float64) float64 { return g.handleForceAt(seat, k, u) })
}

// peak gives the continuous maximum of a quantity over a seat's drive: the best of
// the ends and middles of steps, refined between its neighbours.
func (g *general) peak(seat int, of func(k int, u float64) float64) float64 {
	f, end := &g.film, g.moments[seat].finishTime
	best, bestAt, bestMid := math.Inf(-1), 0, false
	last := 0
	for k := range f.starts {
		if f.starts[k] >= end {
			break
		}
		last = k
		if v := of(k, 0); v > best {
			best, bestAt, bestMid = v, k, false
		}
		if v := of(k, 0.5); v > best {
			best, bestAt, bestMid = v, k, true
		}
	}
	refine := func(k int, a, b float64) {
		if k < 0 || k > last {
			return
		}
		_, v := num.Minimum(func(u float64) float64 { return -of(k, u) }, a, b, 1e-5)
		best = math.Max(best, -v)
	}
	if bestMid {
		refine(bestAt, 0, 1)
	} else {
		refine(bestAt-1, 0.5, 1)
		refine(bestAt, 0, 0.5)
	}
	return math.Max(best, of(last, 1))
}

// seatDrive reads what a seat's drive holds beyond its works: peaks, early work,
// slip and travel.
func (g *general) seatDrive(i int, sol *SeatSolution) {
	s, p, f := &g.moments[i], &g.seats[i], &g.film
	sol.PeakForce = g.peakForce(i)
	step, u := f.find(s.finishTime)
	sol.Travel = f.value(step, stateX, u)
	third := -p.catch + p.arc/3
	early := false
	y := g.ode.Y0 // room to spare: the stroke is over
	sol.PeakPinForce = g.peak(i, func(k int, u float64) float64 { return g.pinForce(i, k, u, y) })

	// slip is cut where s_n changes sign: between the cuts its integral runs one way
	slipAt := func(k int, u float64) float64 {
		v, theta := f.value(k, stateV, u), f.value(k, s.at+seatTheta, u)
		omega := f.value(k, s.at+seatOmega, u)
		if p.flexible {
			theta, omega = f.value(k, s.at+seatBladeTheta, u), f.value(k, s.at+seatBladeOmega, u)
		}
		return p.centre*omega - v*math.Cos(theta)
	}
	cut, before := 0.0, 0.0
	if !p.perfect {
		before = slipAt(0, 0)
	}
	for k := range f.starts {
		if f.starts[k] >= s.finishTime {
			break
		}
		if !early && f.value(k, s.at+seatTheta, 1) >= third {
			early = true
			at := s.at + seatTheta
			u, err := num.Root(func(u float64) float64 { return f.value(k, at, u) - third }, 0, 1, 1e-14)
			if err == nil {
				sol.EarlyWork = f.value(k, s.at+seatWork+handleWork, u)
			}
		}
		if p.lever*f.value(k, s.at+seatOmega, 1) > p.rower.FreeSpeed {
			sol.Unloaded = true
		}
		if p.perfect {
			continue
		}
		now := slipAt(k, 1)
		if (now > 0) != (before > 0) {
			if u, err := num.Root(func(u float64) float64 { return slipAt(k, u) }, 0, 1, 1e-12); err == nil {
				here := f.value(k, s.at+seatSlip, u)
				sol.Slip += math.Abs(here - cut)
				cut = here
			}
		}
		before = now
	}
	if !p.perfect {
		sol.Slip += math.Abs(f.value(step, s.at+seatSlip, u) - cut)
	}
}

// pinForce gives |(F_h,oar + Σf_n + F_a) n − Σf_t a| at the share u of step k; n
// and a are square to each other.
func (g *general) pinForce(seat, k int, u float64, y []float64) float64 {
	along, across := g.pinForces(seat, k, u, y)
	return math.Hypot(along, across)
}

// pinForces gives the pin force of one oar along n and against a, N.
func (g *general) pinForces(seat, k int, u float64, y []float64) (normal, inward float64) {
	g.at(k, u, y)
	s := &g.moments[seat]
	return s.pull/g.oars + s.load.Normal + s.addedForce, s.load.Along
}

// at puts the motion at the share u of step k of the film: every force and
// acceleration as it was there.
func (g *general) at(k int, u float64, y []float64) {
	t := g.film.starts[k] + u*g.film.steps[k]
	for i := range g.moments {
		s := &g.moments[i]
		s.finished = g.film.starts[k] >= s.finishTime
	}
	g.film.state(k, u, y)
	g.balance(t, y)
}
