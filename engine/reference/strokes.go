// Package reference holds the strokes by which an engine is known: about sixty, of
// every law, hold and route, with a cox, bent shafts and rowers unlike, and what is
// read out of some of them (traces, paths, turning moment, equal load). Their digest is
// the engine's mark: two engines that give the same numbers to the last bit have the
// same one, whatever their comments say; a coefficient changed by a billionth moves it.
package reference

import (
	"math"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/fluid"
	"thole/engine/hull"
	"thole/engine/num"
	"thole/engine/oar"
	"thole/engine/stroke"
	"thole/engine/stroke/problem"
)

// Case is one reference stroke: what is rowed, and by which route.
type Case struct {
	Name    string
	Problem stroke.Problem
	Route   stroke.Route
}

// Cases lists the reference strokes, from the defaults of the day. An error is a
// default that no longer makes a boat.
func Cases() ([]Case, error) {
	var out []Case
	var failed error
	add := func(name, boat string, change func(p *stroke.Problem)) {
		p, err := raced(boat)
		if err != nil {
			failed = err
			return
		}
		change(&p)
		out = append(out, Case{name, p, stroke.Auto})
		if len(p.Seats) == 1 && !p.Seats[0].Oar.Flexible() && p.Seats[0].Oar.Blade.Law != blade.Table {
			// the routes agree to 2e-7, not to the bit: a coefficient of either counts
			out = append(out, Case{name + ", general", p, stroke.General})
		}
	}
	seat := func(change func(s *stroke.Seat)) func(p *stroke.Problem) {
		return func(p *stroke.Problem) {
			for i := range p.Seats {
				change(&p.Seats[i])
			}
		}
	}
	hold := func(h stroke.Hold, target float64) func(p *stroke.Problem) {
		return func(p *stroke.Problem) { p.Hold, p.Target = h, target }
	}
	for _, boat := range hull.Boats {
		add(boat, boat, func(*stroke.Problem) {})
	}
	add("handle power", "2x", hold(problem.HandlePower, 380))
	add("effort", "2-", hold(problem.Effort, 900))
	add("force", "4x", hold(problem.Force, 700))
	add("speed", "1x", hold(problem.Speed, 4.6))
	add("slow and long", "1x", func(p *stroke.Problem) {
		p.Rate, p.Target = 20, 200
		p.Seats[0].Rower.Mass = 72
	})

	for _, style := range crew.Styles[1:] {
		add(style, "1x", seat(func(s *stroke.Seat) { s.Rower.Style, _ = crew.Named(style) }))
	}
	add("measured style", "1x", seat(func(s *stroke.Seat) {
		s.Rower.Style = crew.Measured([]crew.Point{{Along: 0, Force: 60}, {Along: 0.2, Force: 480},
			{Along: 0.5, Force: 700}, {Along: 1, Force: 50}})
	}))
	add("prescribed force", "1x", seat(func(s *stroke.Seat) { s.Rower.FreeSpeed = math.Inf(1) }))

	add("crossflow", "1x", seat(func(s *stroke.Seat) { s.Oar.Blade.Law = blade.Crossflow }))
	add("tables", "1x", seat(func(s *stroke.Seat) {
		s.Oar.Blade.Law = blade.Table
		for _, r := range [][3]float64{{0, 0, .05}, {20, .7, .2}, {45, 1, 1}, {90, .05, 2}, {135, .9, 1.1},
			{160, .6, .15}, {180, 0, .05}} {
			s.Oar.Blade.Coefficients = append(s.Oar.Blade.Coefficients,
				blade.Coefficient{Angle: num.Radians(r[0]), Lift: r[1], Drag: r[2]})
		}
	}))
	add("perfect", "1x", func(p *stroke.Problem) {
		b, err := blade.New("perfect")
		if failed = err; err == nil {
			p.Seats[0].Oar = oar.New(2.6, 0.88, b)
		}
	})
	add("tulips", "8+", func(p *stroke.Problem) {
		b, err := blade.New("sweep tulip")
		if failed = err; err == nil {
			p.Seats[0].Oar = oar.New(3.8, 1.145, b)
		}
	})
	add("early lift", "1x", seat(func(s *stroke.Seat) { s.Oar.Blade.Early, s.Oar.Blade.Grip = 0.3, 1.1 }))
	add("lift of its own", "1x", seat(func(s *stroke.Seat) { s.Oar.Blade.Lift = 1.25 }))
	add("no added mass, one strip", "2-", seat(func(s *stroke.Seat) {
		s.Oar.Blade.AddedMass,
			s.Oar.Blade.Strips = 0, 1
	}))
	add("slow to bury", "8+", seat(func(s *stroke.Seat) {
		s.Oar.Blade.Bury,
			s.Oar.Blade.Release = num.Radians(9), 0
	}))
	add("rubbed along", "1x", seat(func(s *stroke.Seat) { s.Oar.Blade.Along = 0.02 }))

	bent := seat(func(s *stroke.Seat) {
		s.Oar = s.Oar.WithStiffness(0.045)
		s.Oar.Length -= 0.03
	})
	add("soft shaft", "1x", bent)
	add("soft shafts, sweep", "4+", bent)
	add("soft shaft, early blade, measured curve", "1x", seat(func(s *stroke.Seat) {
		s.Oar = s.Oar.WithStiffness(0.045)
		s.Oar.Blade.Early = 0.15
		s.Rower.Style = crew.Measured([]crew.Point{{Along: 0, Force: 0.15}, {Along: 0.3, Force: 0.8},
			{Along: 0.5, Force: 1}, {Along: 1, Force: 0.1}})
	}))
	add("soft shaft, crossflow", "1x", seat(func(s *stroke.Seat) {
		s.Oar = s.Oar.WithStiffness(0.045)
		s.Oar.Blade.Law = blade.Crossflow
	}))
	add("swing weight given", "1x", seat(func(s *stroke.Seat) { s.Oar.SwingWeight = 1.7 }))
	add("balance given", "1x", seat(func(s *stroke.Seat) { s.Oar.Balance = 0.5 }))

	unlike := func(p *stroke.Problem) {
		one := p.Seats[0]
		one.Count = 1
		p.Seats = nil
		for i := range p.Hull.Seats() {
			s := one
			s.Rower = crew.New(78+2*float64(i), 330+15*float64(i))
			s.Catch += num.Radians(float64(i % 3))
			p.Seats = append(p.Seats, s)
		}
		p.Target = math.NaN()
	}
	add("unlike pair", "2-", unlike)
	add("unlike quad", "4x", unlike)

	add("headwind, cold water", "1x", func(p *stroke.Problem) { p.Wind, p.Water = 4, fluid.FreshWater(7) })
	add("tailwind, warm water", "8+", func(p *stroke.Problem) { p.Wind, p.Water = -3, fluid.FreshWater(27) })
	add("air as one area", "4-", func(p *stroke.Problem) { p.Hull.AirArea = 1.5 })
	add("waves as a share", "4-", func(p *stroke.Problem) { p.Hull.WaveFactor = 0.065 })
	add("waves, deep", "8+", func(p *stroke.Problem) { p.Hull.WaveFactor = math.NaN() })
	add("waves, 3.5 m", "8+", func(p *stroke.Problem) { p.Hull.WaveFactor, p.Water.Depth = math.NaN(), 3.5 })
	add("laminar start", "1x", func(p *stroke.Problem) { p.Hull.Transition = 1e6 })
	add("oars in the air", "2x", func(p *stroke.Problem) { p.Hull.AirArea, p.Wind = math.NaN(), 3 })
	return out, failed
}

// raced is a boat of its class's default hull with rowers alike, as it is raced.
func raced(boat string) (stroke.Problem, error) {
	h, err := hull.New(boat)
	if err != nil {
		return stroke.Problem{}, err
	}
	shape, length, inboard, catch, finish := "sweep hatchet", 3.74, 1.155, 55.0, 34.0
	if h.Sculling() {
		shape, length, inboard, catch, finish = "scull hatchet", 2.88, 0.88, 65.0, 43.0
	}
	b, err := blade.New(shape)
	if err != nil {
		return stroke.Problem{}, err
	}
	p := stroke.Problem{Hull: h, OarsPerRower: h.OarsPerRower(), Rate: 34, Water: fluid.FreshWater(15),
		Air:  fluid.StandardAir(),
		Hold: problem.Power, Target: 400, Seats: []stroke.Seat{{Count: h.Seats(), Rower: crew.New(88, 400),
			Oar:   oar.New(length, inboard, b),
			Catch: num.Radians(catch), Finish: num.Radians(finish)}}}
	if h.Coxed() {
		p.CoxMass = 55
	}
	return p, nil
}
