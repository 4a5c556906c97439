package forms

import (
	"math"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/defaults"
	"thole/engine/stroke/problem"
)

// The ends of the air, which Crossed looks up.
const (
	lessAir = "air less 40 %"
	moreAir = "air and 40 % more"
)

const practice = "common practice, no source"

// ruled says whether the water's force on a blade follows from coefficients that a form
// can replace: not for a measured table, nor for a blade that does not slip.
func ruled(b *blade.Blade) bool { return b.Law == blade.Plate || b.Law == blade.Crossflow }

func law(l blade.Law) func(*problem.Seat) {
	return func(s *problem.Seat) {
		if ruled(&s.Oar.Blade) {
			s.Oar.Blade.Law = l
		}
	}
}

func drag(k float64) func(*problem.Seat) {
	return func(s *problem.Seat) {
		if ruled(&s.Oar.Blade) {
			s.Oar.Blade.Drag = k
		}
	}
}

func addedMass(k float64) func(*problem.Seat) {
	return func(s *problem.Seat) { s.Oar.Blade.AddedMass = k }
}

func freeSpeed(v float64) func(*problem.Seat) {
	return func(s *problem.Seat) { s.Rower.FreeSpeed = v }
}

func travel(k float64) func(*problem.Seat) { // m^⅓
	return func(s *problem.Seat) { s.Rower.BodyTravel = k * math.Cbrt(s.Rower.Mass) }
}

func style(name string) func(*problem.Seat) {
	return func(s *problem.Seat) {
		if st, err := crew.Named(name); err == nil {
			s.Rower.Style = st
		}
	}
}

func air(by float64) func(*problem.Problem) {
	return func(p *problem.Problem) {
		times(&p.Hull.AirArea, by)
		times(&p.Hull.BodyArea, by)
		times(&p.Hull.Sheltered, by)
	}
}

// plainDefault is a default of a hull for its class.
func plainDefault(p *problem.Problem, name string) float64 {
	return defaults.Must("plain hull", name, p.Hull.Boat)
}

// classAsPower takes the class factor off the resistance and the same part off the
// powers: crew boats then go slower because less of their power arrives.
func classAsPower(p *problem.Problem) {
	f := p.Hull.ClassFactor
	p.Hull.ClassFactor = 1
	for i := range p.Seats {
		p.Seats[i].Rower.Power /= f
	}
	if p.Hold == problem.Power || p.Hold == problem.HandlePower {
		p.Target /= f
	}
}

func span(where, name, of string) defaults.Default {
	d, ok := defaults.Find(where, name, of)
	if !ok || !d.Spanned() {
		panic("forms: no span for " + where + "." + name)
	}
	return d
}

var dragSpan, addedSpan, alongSpan = span("blade", "drag", "scull hatchet"), span("blade", "added_mass", ""),
	span("blade", "along", "")

// table is every form, line by line.
var table = []Form{
	{Law, "force square to the blade (plate)", `law="plate"`,
		"a flat plate that turns feels its force square to itself", "Ortiz, Rival & Wood 2015",
		law(blade.Plate), nil},
	{Law, "force across the shaft alone (crossflow)", `law="crossflow"`,
		"the flow along a slender body pushes it nowhere", "Hoerner 1965", law(blade.Crossflow), nil},
	{Lift, "lift as measured in the flume", "lift=1.25",
		"blades held still in a flume lift more than half their drag", "Caplan & Gardner 2007",
		func(s *problem.Seat) {
			if ruled(&s.Oar.Blade) {
				s.Oar.Blade.Lift = 1.25
			}
		}, nil},
	{Along, "force along the shaft", "along=0.033",
		"it gives the loss that measured forces along the shaft were reported with", alongSpan.Source,
		func(s *problem.Seat) { s.Oar.Blade.Along = alongSpan.High }, nil},
	{AddedMass, "no water carried along", "added_mass=0",
		"the water that a blade carries is not measured", addedSpan.Source, addedMass(addedSpan.Low), nil},
	{AddedMass, "all of the deep water carried along", "added_mass=1",
		"the water that a blade carries is not measured", addedSpan.Source, addedMass(addedSpan.High), nil},
	{Drag, "a blade's drag without a surface", "drag=1.2",
		"plates far below a surface have it", dragSpan.Source, drag(dragSpan.Low), nil},
	{Drag, "a blade's drag at its highest", "drag=2.1",
		"the upper end of the flume's values", dragSpan.Source, drag(dragSpan.High), nil},
	{Entry, "entry without momentum", "the water taken on while a blade goes in costs nothing",
		"how much water an entering blade takes along is not measured", "a guess",
		func(s *problem.Seat) { s.Oar.Blade.LightEntry = true }, nil},
	{FreeSpeed, "hands that tire early", "free_speed=3.8 m/s",
		"the peak speed of hands on a braked machine", "Sprague 2007", freeSpeed(3.8), nil},
	{FreeSpeed, "hands that keep their pull", "free_speed=6.7 m/s",
		"twice the best speed on a machine with a flywheel", "Sprague 2007", freeSpeed(6.7), nil},
	{FreeSpeed, "a pull that no speed lessens", "free_speed=None",
		"a prescribed force, as many published models have it", practice, freeSpeed(math.Inf(1)), nil},
	{Travel, "a short way of the body", "body_travel 0.115 m^⅓ times mass^⅓",
		"what moving the body was measured to cost", "Hofmijster et al. 2018", travel(0.115), nil},
	{Travel, "a long way of the body", "body_travel 0.165 m^⅓ times mass^⅓",
		"it gives the ripple of speed that pairs were measured with", "Hill & Fahrig 2009", travel(0.165),
		nil},
	{Style, "a pull that peaks early", `style="early"`, "crews row it", practice, style("early"), nil},
	{Style, "an even pull", `style="even"`, "crews row it", practice, style("even"), nil},
	{Style, "a pull that peaks late", `style="late"`, "crews row it", practice, style("late"), nil},
	{Strips, "a blade of one piece", "strips=1",
		"the force where the blade's middle is, as many published models have it", practice,
		func(s *problem.Seat) { s.Oar.Blade.Strips = 1 }, nil},
	{Waves, "waves as a share of friction", "wave_factor of the defaults",
		"a share that tank tests were read to have", "Scragg & Nelson 1993, Tuck & Lazauskas 1996", nil,
		func(p *problem.Problem) { p.Hull.WaveFactor = plainDefault(p, "wave_factor") }},
	{Air, "air as one plain area", "air_area of the class",
		"bodies and oars together, from the air's share of the water's drag", practice, nil,
		func(p *problem.Problem) { p.Hull.AirArea = plainDefault(p, "air_area") }},
	{Air, lessAir, "areas in the air times 0.6", "crews and clothes differ, and shelter", practice, nil,
		air(0.6)},
	{Air, moreAir, "areas in the air times 1.4", "crews and clothes differ, and shelter", practice, nil,
		air(1.4)},
	{Transition, "a laminar start along the hull", "transition=1e6",
		"where the flow of a racing hull turns turbulent nobody has measured", practice, nil,
		func(p *problem.Problem) { p.Hull.Transition = 1e6 }},
	{Drift, "a surface that drifts with the wind", "drift=2 %",
		"2 to 3.5 % is reported for open water, less near a bank", practice, nil,
		func(p *problem.Problem) { p.Water.Drift = 0.02 }},
	{ClassFactor, "class factor taken off the power", "power over class_factor, class_factor=1",
		"what makes crew boats slower than theory may be lost by the crew, not by the hull", practice, nil,
		classAsPower},
	{Shaft, "a soft shaft", "stiffness=45 mm", "shafts bend, and a rigid one is a simplification", practice,
		func(s *problem.Seat) {
			if s.Oar.Blade.Law != blade.Perfect {
				s.Oar = s.Oar.WithStiffness(0.045)
			}
		}, nil},
	{Bury, "sweep blades that go in late", "bury=9 deg in sweep boats",
		"the slip at the catch that is published for sweep oars", practice,
		func(s *problem.Seat) {
			if s.Oar.Blade.Kind == blade.Sweep {
				s.Oar.Blade.Bury = 9 * math.Pi / 180
			}
		}, nil},
}
