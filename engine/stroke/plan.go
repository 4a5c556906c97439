package stroke

import (
	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/hull"
	"thole/engine/oar"
)

// plan is a problem ready for the equations of motion: levers, inertias,
// strips and curves worked out once.
type plan struct {
	period float64 // T, s
	mass   float64 // M, kg
	drag   hull.Resistance
	oars   float64 // per rower
	seats  []seatPlan
}

// seatPlan is what the equations ask of one seat.
type seatPlan struct {
	count              float64 // rowers it stands for
	catch, finish, arc float64 // rad, catch as a magnitude
	lever, centre      float64 // L_in, L, m
	inertia            float64 // I, kg·m²
	shaft              oar.Shaft
	flexible           bool
	perfect            bool
	shape              crew.Shape
	rower              crew.Rower
	water              blade.Elements
	share              float64 // effort over the crew's mean effort
}

// prepare fills the plan from a checked problem.
func (pl *plan) prepare(p *Problem) error {
	pl.period, pl.mass, pl.oars = p.Period(), p.TotalMass(), float64(p.OarsPerRower)
	pl.drag = p.Hull.Resistance(pl.mass, p.Water, p.Air, p.Wind)
	if cap(pl.seats) < len(p.Seats) {
		pl.seats = make([]seatPlan, len(p.Seats))
	}
	pl.seats = pl.seats[:len(p.Seats)]
	power := 0.0
	for i := range p.Seats {
		power += p.Seats[i].Rowers() * p.Seats[i].Rower.Power
	}
	power /= p.Rowers()
	for i := range p.Seats {
		seat, s := &p.Seats[i], &pl.seats[i]
		s.count, s.catch, s.finish, s.arc = seat.Rowers(), seat.Catch, seat.Finish, seat.Arc()
		s.lever, s.centre, s.inertia = seat.Oar.Lever(), seat.Oar.Centre(), seat.Oar.Inertia()
		s.flexible, s.perfect = seat.Oar.Flexible(), seat.Oar.Blade.Law == blade.Perfect
		if s.flexible {
			s.shaft = seat.Oar.Shaft()
		}
		s.rower = seat.Rower
		s.share = 1
		if len(p.Seats) > 1 {
			s.share = seat.Rower.Power / power
		}
		var err error
		if s.shape, err = seat.Rower.Style.Shape(); err != nil {
			return err
		}
		if err = s.water.Prepare(&seat.Oar.Blade, p.Water, s.centre); err != nil {
			return err
		}
	}
	return nil
}
