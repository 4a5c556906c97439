package general

import (
	"math"

	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// results reads the solution off the trajectory of the steady stroke and the state at
// its end.
func (g *Route) results(out *problem.Solution) {
	y := g.ODE.Y
	out.Route = problem.General
	out.Speed = y[StateX] / g.Period
	out.Evaluations = g.evals
	out.Energy = problem.Energy{WaterDrag: y[stateWater], AirDrag: y[stateAir]}
	if cap(out.Seats) < len(g.Seats) {
		out.Seats = make([]problem.SeatSolution, len(g.Seats))
	}
	out.Seats = out.Seats[:len(g.Seats)]
	out.MinSpeed, out.MaxSpeed = g.speeds()
	e := &out.Energy
	for i := range g.Seats {
		s, p, sol := &g.Moments[i], &g.Seats[i], &out.Seats[i]
		work := y[s.First+seatWork:]
		air := g.airWorks(i, y)
		*sol = problem.SeatSolution{Effort: s.Effort, DriveTime: s.FinishTime, HandleWork: work[handleWork],
			BackWork: air[airBack], BodyWork: work[bodyWork]}
		e.Handle += float64(p.Count * (work[handleWork] + air[airBack]))
		e.OarAir += float64(p.Count * (air[airDrive] + air[airBack]))
		e.OarPush += float64(p.Count * air[airPush])
		e.Body += float64(p.Count * work[bodyWork])
		e.BladeLoss += float64(p.Count * (work[bladeWork] + work[AddedWork]))
		g.finish(i, e)
		g.seatDrive(i, sol)
	}
	e.AirDrag += e.OarPush
}

// finish books what is left in a seat's oars when the drive ends.
func (g *Route) finish(i int, e *problem.Energy) {
	s, p, y := &g.Moments[i], &g.Seats[i], g.ODE.Y
	n := p.Count * g.Oars
	omega := y[s.First+seatOmega]
	switch {
	case p.Flexible:
		blade := y[s.First+seatBladeOmega]
		bend := y[s.First+SeatTheta] - y[s.First+SeatBladeTheta]
		e.OarSwing += float64(n * 0.5 * (float64(p.Shaft.HandleInertia*omega*omega) +
			float64(p.Shaft.BladeInertia*blade*blade)))
		e.SpringLeft += float64(n * 0.5 * p.Shaft.Stiffness * bend * bend)
		e.ShaftDamping += float64(p.Count * y[s.First+seatDamping])
	case p.Perfect:
		step, u := g.Trajectory.Find(s.FinishTime)
		last := g.Trajectory.Value(step, StateV, u) * num.Cos(p.Finish) / p.Centre
		first := g.Trajectory.Value(0, StateV, 0) * num.Cos(p.Catch) / p.Centre
		e.OarSwing += float64(n * 0.5 * p.Inertia * (float64(last*last) - float64(first*first)))
	default:
		e.OarSwing += float64(n * 0.5 * p.Inertia * omega * omega)
	}
}

// speeds gives the continuous extremes of V over the stroke.
func (g *Route) speeds() (low, high float64) {
	f := &g.Trajectory
	low, high = math.Inf(1), math.Inf(-1)
	lowAt, highAt := 0, 0
	for i := range f.Starts {
		v := f.Value(i, StateV, 0)
		if v < low {
			low, lowAt = v, i
		}
		if v > high {
			high, highAt = v, i
		}
	}
	for _, i := range [2]int{lowAt - 1, lowAt} {
		if i >= 0 {
			_, v := num.Minimum(func(u float64) float64 { return f.Value(i, StateV, u) }, 0, 1, 1e-6)
			low = math.Min(low, v)
		}
	}
	for _, i := range [2]int{highAt - 1, highAt} {
		if i >= 0 {
			_, v := num.Minimum(func(u float64) float64 { return -f.Value(i, StateV, u) }, 0, 1, 1e-6)
			high = math.Max(high, -v)
		}
	}
	return low, high
}

// handleForce gives F_h of a seat at the share u of step k.
func (g *Route) handleForceAt(seat, k int, u float64) float64 {
	s, p := &g.Moments[seat], &g.Seats[seat]
	theta := g.Trajectory.Value(k, s.First+SeatTheta, u)
	omega := g.Trajectory.Value(k, s.First+seatOmega, u)
	if p.Perfect {
		omega = g.Trajectory.Value(k, StateV, u) * num.Cos(theta) / p.Centre
	}
	return s.Effort * p.Shape.At((theta+p.Catch)/p.Arc) * p.Rower.Fade(p.Lever*omega)
}

// peakForce gives the continuous maximum of F_h of a seat over its drive.
func (g *Route) peakForce(seat int) float64 {
	return g.peak(seat, func(k int, u float64) float64 { return g.handleForceAt(seat, k, u) })
}

// peak gives the continuous maximum of a quantity over a seat's drive: the best of
// the ends and middles of steps, refined between its neighbours.
func (g *Route) peak(seat int, of func(k int, u float64) float64) float64 {
	f, end := &g.Trajectory, g.Moments[seat].FinishTime
	best, bestAt, bestMid := math.Inf(-1), 0, false
	last := 0
	for k := range f.Starts {
		if f.Starts[k] >= end {
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
// slip and travel. Equation 8.6.
func (g *Route) seatDrive(i int, sol *problem.SeatSolution) {
	s, p, f := &g.Moments[i], &g.Seats[i], &g.Trajectory
	sol.PeakForce = g.peakForce(i)
	step, u := f.Find(s.FinishTime)
	sol.Travel = f.Value(step, StateX, u)
	third := -p.Catch + p.Arc/3
	early := false
	y := g.ODE.Y0 // room to spare: the stroke is over
	sol.PeakPinForce = g.peak(i, func(k int, u float64) float64 { return g.pinForce(i, k, u, y) })

	// slip is cut where s_n changes sign: between the cuts its integral runs one way
	slipAt := func(k int, u float64) float64 {
		v, theta := f.Value(k, StateV, u), f.Value(k, s.First+SeatTheta, u)
		omega := f.Value(k, s.First+seatOmega, u)
		if p.Flexible {
			theta, omega = f.Value(k, s.First+SeatBladeTheta, u), f.Value(k, s.First+seatBladeOmega, u)
		}
		return float64(p.Centre*omega) - float64(v*num.Cos(theta))
	}
	cut, before := 0.0, 0.0
	if !p.Perfect {
		before = slipAt(0, 0)
	}
	for k := range f.Starts {
		if f.Starts[k] >= s.FinishTime {
			break
		}
		if !early && f.Value(k, s.First+SeatTheta, 1) >= third {
			early = true
			at := s.First + SeatTheta
			u, err := num.Root(func(u float64) float64 { return f.Value(k, at, u) - third }, 0, 1, 1e-14)
			if err == nil {
				sol.EarlyWork = f.Value(k, s.First+seatWork+handleWork, u)
			}
		}
		if p.Lever*f.Value(k, s.First+seatOmega, 1) > p.Rower.FreeSpeed {
			sol.Unloaded = true
		}
		if p.Perfect {
			continue
		}
		now := slipAt(k, 1)
		if (now > 0) != (before > 0) {
			if u, err := num.Root(func(u float64) float64 { return slipAt(k, u) }, 0, 1, 1e-12); err == nil {
				here := f.Value(k, s.First+seatSlip, u)
				sol.Slip += math.Abs(here - cut)
				cut = here
			}
		}
		before = now
	}
	if !p.Perfect {
		sol.Slip += math.Abs(f.Value(step, s.First+seatSlip, u) - cut)
	}
}

// pinForce gives |(F_h,oar + Σf_n + F_a) n − Σf_t a| at the share u of step k; n
// and a are square to each other. Equation 8.7.
func (g *Route) pinForce(seat, k int, u float64, y []float64) float64 {
	along, across := g.pinForces(seat, k, u, y)
	return num.Hypot(along, across)
}

// pinForces gives the pin force of one oar along n and against a, N.
func (g *Route) pinForces(seat, k int, u float64, y []float64) (normal, inward float64) {
	g.At(k, u, y)
	s := &g.Moments[seat]
	return s.Pull/g.Oars + s.Load.Normal + s.AddedForce, s.Load.Along
}

// At puts the motion at the share u of step k of the trajectory: every force and
// acceleration as it was there.
func (g *Route) At(k int, u float64, y []float64) {
	t := g.Trajectory.Starts[k] + float64(u*g.Trajectory.Steps[k])
	for i := range g.Moments {
		s := &g.Moments[i]
		s.Finished = g.Trajectory.Starts[k] >= s.FinishTime
		s.squared = s.Finished && g.Trajectory.Starts[k] >= s.squareTime-1e-12
	}
	g.Trajectory.state(k, u, y)
	g.balance(t, y)
}
