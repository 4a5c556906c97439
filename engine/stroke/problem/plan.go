package problem

import (
	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/hull"
	"thole/engine/num"
	"thole/engine/oar"
)

// Plan is a problem ready for the equations of motion: levers, inertias,
// strips and curves worked out once.
type Plan struct {
	Period float64 // T, s
	Mass   float64 // M, kg
	Drag   hull.Resistance
	Oars   float64 // per rower
	Wind   float64 // m/s, positive a headwind
	InAir  bool    // the air on the oars is computed
	// Critical is the speed at which the drag of shallow water has its peak, m/s; NaN = none
	Critical float64
	Seats    []SeatPlan
}

// SeatPlan is what the equations ask of one seat.
type SeatPlan struct {
	Count              float64 // rowers it stands for
	Catch, Finish, Arc float64 // rad, catch as a magnitude
	Lever, Centre      float64 // L_in, L, m
	Inertia            float64 // I, kg·m²
	Shaft              oar.Shaft
	Flexible           bool
	Perfect            bool
	Shape              crew.Shape
	Rower              crew.Rower
	Water              blade.Elements
	Air                oar.InAir // where it is computed
	Share              float64   // effort over the crew's mean effort
}

// Prepare fills the plan from a checked problem.
func (pl *Plan) Prepare(p *Problem) error {
	pl.Period, pl.Mass, pl.Oars = p.Period(), p.TotalMass(), float64(p.OarsPerRower)
	pl.Drag = p.Hull.Resistance(pl.Mass, p.Water, p.Air, p.Wind)
	pl.Wind, pl.InAir, pl.Critical = p.Wind, p.Hull.OarsInAir(), p.Critical()
	if cap(pl.Seats) < len(p.Seats) {
		pl.Seats = make([]SeatPlan, len(p.Seats))
	}
	pl.Seats = pl.Seats[:len(p.Seats)]
	power := 0.0
	for i := range p.Seats {
		power += float64(p.Seats[i].Rowers() * p.Seats[i].Rower.Power)
	}
	power /= p.Rowers()
	for i := range p.Seats {
		seat, s := &p.Seats[i], &pl.Seats[i]
		s.Count, s.Catch, s.Finish, s.Arc = seat.Rowers(), seat.Catch, seat.Finish, seat.Arc()
		s.Lever, s.Centre, s.Inertia = seat.Oar.Lever(), seat.Oar.Centre(), seat.Oar.Inertia()
		s.Flexible, s.Perfect = seat.Oar.Flexible(), seat.Oar.Blade.Law == blade.Perfect
		if s.Flexible {
			s.Shaft = seat.Oar.Shaft()
		}
		if pl.InAir {
			s.Air = seat.Oar.InAir(p.Air)
		}
		s.Rower = seat.Rower
		s.Share = 1
		if len(p.Seats) > 1 {
			s.Share = seat.Rower.Power / power
		}
		var err error
		if s.Shape, err = seat.Rower.Style.Shape(); err != nil {
			return err
		}
		if err = s.Water.Prepare(&seat.Oar.Blade, p.Water, s.Centre); err != nil {
			return err
		}
	}
	return nil
}

// NoSquaring is the share of the recovery below which a blade counts as never squared: too short a
// time to take a step in.
const NoSquaring = 1e-9

// Back is where the oar is on its way back, and how fast: θ [rad] and ω over 1/recovery time
// [rad], at the share tau of the recovery gone. It goes back as the body does, by S(τ).
func (s *SeatPlan) Back(tau float64) (theta, turn float64) {
	return s.Finish - float64(s.Arc*num.Rise(tau)), -s.Arc * num.RiseSlope(tau)
}
