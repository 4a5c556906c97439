package fast

import (
	"math"

	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// fill reads the solution off the stroke rowed last. Energies are weighted sums
// of the stages' contributions, extremes come from the dense output.
func (f *Route) fill(out *problem.Solution, book *problem.Energy, residual float64) {
	out.Route, out.Residual, out.StartSpeed = problem.Fast, residual, f.steps[0].V0
	out.Speed = (f.end.travel + f.recovery.end.travel) / f.Period
	if cap(out.Seats) < 1 {
		out.Seats = make([]problem.SeatSolution, 1)
	}
	out.Seats = out.Seats[:1]
	seat := &out.Seats[0]
	*seat = problem.SeatSolution{
		Effort: f.effort, DriveTime: f.end.time, Travel: f.end.travel,
		HandleWork: f.end.handle, BackWork: f.recovery.end.hands, BodyWork: f.end.body + f.recovery.end.body,
		PeakForce: f.peakPull(), PeakPinForce: f.peakPin(), Slip: f.slipped(),
		EarlyWork: f.early(),
	}
	if f.seat.Perfect {
		seat.Slip = 0
	}
	seat.Unloaded = f.unloaded()
	out.Energy = *book
	out.MinSpeed = math.Min(-f.highestSpeed(-1), -f.recovery.highest(-1))
	out.MaxSpeed = math.Max(f.highestSpeed(1), f.recovery.highest(1))
	out.Evaluations = f.rhs + f.recovery.rhs
}

// book is the energy book of the stroke rowed last.
func (f *Route) book() problem.Energy {
	s := f.seat
	e := problem.Energy{Handle: s.Count * (f.end.handle + f.recovery.end.hands), Body: s.Count *
		(f.end.body + f.recovery.end.body)}
	var loss, water, air, push, turn float64
	rule := f.rule()
	for i := range f.stages {
		var l, w, a float64
		for _, j := range rule.stages {
			r := &f.stages[i][j]
			b := rule.weight[j] * r.time
			l += float64(b * r.loss)
			w += float64(b * r.water * r.v)
			a += float64(b * r.air * r.v)
		}
		h := f.grid.width[i]
		loss, water, air = loss+float64(h*l), water+float64(h*w), air+float64(h*a)
		if f.InAir {
			p, q := f.airOnOars(i)
			push, turn = push+float64(h*p), turn+float64(h*q)
		}
	}
	e.BladeLoss = f.all * loss
	for i := range f.recovery.steps {
		for _, j := range weighted {
			r := &f.recovery.stages[i][j]
			b := num.EighthWeights[j] * f.recovery.grid.width[i] * f.recovery.length
			water += float64(b * r.water * r.v)
			air += float64(b * r.air * r.v)
			if f.InAir {
				push += float64(b * r.oars * r.v)
			}
		}
	}
	e.WaterDrag, e.AirDrag = water, air+push
	e.OarPush, e.OarAir = push, turn+float64(s.Count*f.recovery.end.hands)
	swing := float64(f.end.omega * f.end.omega)
	if s.Perfect {
		first := f.steps[0].V0 * num.Cos(s.Catch) / s.Centre
		swing -= float64(first * first)
	}
	e.OarSwing = f.all * 0.5 * s.Inertia * swing
	if s.Flexible {
		f.bookShaft(&e)
	}
	return e
}

// airOnOars is what the air takes from all oars over step i of the drive, by way of V and of ω, over
// the step's width, J.
func (f *Route) airOnOars(i int) (push, turn float64) {
	rule := f.rule()
	for _, j := range rule.stages {
		r := &f.stages[i][j]
		b := rule.weight[j] * r.time * f.all
		push += float64(b * r.push * r.v)
		turn -= float64(b * r.turn * r.blade)
	}
	return push, turn
}

// early is the handle work of a rower over the first third of the arc, J.
func (f *Route) early() float64 {
	sum, rule := 0.0, f.rule()
	for i := range f.grid.third {
		q := 0.0
		for _, j := range rule.stages {
			r := &f.stages[i][j]
			q += float64(rule.weight[j] * r.pull * r.angle)
		}
		sum += float64(f.grid.width[i] * q)
	}
	return float64(sum * f.seat.Lever)
}

// unloaded says whether the hands were faster than v_0 somewhere.
func (f *Route) unloaded() bool {
	stages := samples[:]
	if f.seat.Flexible {
		stages = radauRule.stages
	}
	for i := range f.stages {
		for _, j := range stages {
			if f.stages[i][j].omega*f.fade > 1 {
				return true
			}
		}
	}
	return false
}
