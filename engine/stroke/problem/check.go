package problem

import (
	"fmt"
	"math"

	"thole/engine/blade"
	"thole/engine/num"
)

// Check says what is asked that cannot be: a seat without an oar that can be rowed,
// numbers out of all reason. Windows of single parameters are the binding's; here
// stands what only the whole can tell, and what would break the equations.
func Check(p *Problem) *Failure {
	switch {
	case len(p.Seats) == 0:
		return bad("there is nobody in the boat", "a stroke needs rowers", "")
	case p.OarsPerRower != 1 && p.OarsPerRower != 2:
		return bad(fmt.Sprintf("%d oars to a rower", p.OarsPerRower), "a rower has one oar or two", "")
	case !(p.Rate > 0) || math.IsInf(p.Rate, 0):
		return bad(fmt.Sprintf("a rate of %.4g strokes/min", p.Rate),
			"a stroke takes time: the rate is above 0", "rate=30")
	case !(p.Water.Density > 0 && p.Water.Viscosity > 0):
		return bad("there is no water", "density and viscosity are above 0", "water()")
	case !(p.Hull.Waterline > 0 && p.Hull.Mass >= 0 && p.CoxMass >= 0 && p.Air.Density >= 0 &&
		p.Hull.ClassFactor > 0):
		return bad("the boat has a length or mass below 0",
			"length and drag factor are above 0, masses 0 or more", "")
	case !(p.Water.Depth >= 0 && p.Water.Drift >= 0 && p.Hull.Transition >= 0 && p.Hull.Sheltered >= 0) ||
		p.Hull.OarsInAir() && !(p.Hull.BodyArea >= 0):
		return bad("a depth, drift, transition or body's area below 0",
			"they are 0 or more; deep water has no depth", "water()")
	case math.IsNaN(p.Wind) || math.IsInf(p.Wind, 0):
		return bad("the wind has no speed", "wind is a number of m/s, a headwind above 0", "wind=0")
	case math.IsNaN(p.Target) && !p.OwnPower():
		return bad(fmt.Sprintf("hold=%q has no target", p.Hold), "only the rowers' own power needs none",
			fmt.Sprintf("hold=%q, target=%s", p.Hold, example(p.Hold)))
	case !math.IsNaN(p.Target) && !(p.Target > 0 && p.Target < 1e7):
		return bad(fmt.Sprintf("a target of %.4g", p.Target), "a crew is held at more than 0",
			"target="+example(p.Hold))
	}
	if f := checkDepth(p); f != nil {
		return f
	}
	for i := range p.Seats {
		if f := checkSeat(p, &p.Seats[i]); f != nil {
			if len(p.Seats) > 1 {
				f.What = fmt.Sprintf("seat %d: %s", i+1, f.What)
			}
			return f
		}
	}
	return nil
}

// checkDepth refuses water the boat does not float in.
func checkDepth(p *Problem) *Failure {
	if p.Water.Depth == 0 {
		return nil
	}
	draught := p.Hull.Draught(p.TotalMass(), p.Water)
	if p.Water.Depth > draught {
		return nil
	}
	return bad(fmt.Sprintf("water %.2f m deep under a boat that reaches %.2f m down", p.Water.Depth, draught),
		"the boat would stand on the ground; courses are 2 m deep or more", "water(depth=3.5)")
}

// checkSeat looks at one seat.
func checkSeat(p *Problem, s *Seat) *Failure {
	r, b := &s.Rower, &s.Oar.Blade
	if err := s.Oar.Check(); err != nil {
		return bad(err.Error(), "inboard, hands and blade have to fit on the oar", "")
	}
	const quarter = 89 * math.Pi / 180
	switch {
	case !(s.Catch < quarter && s.Finish < quarter && s.Catch > -s.Finish+0.02 && s.Catch >= 0 &&
		s.Finish >= 0):
		return bad(fmt.Sprintf("an arc from %.0f to %.0f deg", num.Degrees(s.Catch), num.Degrees(s.Finish)),
			"catch and finish are angles from the square, both written positive, below 89 deg",
			"catch=60, finish=40")
	case !(r.Mass > 0) || !(r.FreeSpeed > 0) || !(r.BodyTravel >= 0) || math.IsInf(r.BodyTravel, 0):
		return bad("a rower without mass or free speed", "mass and free speed are above 0", "")
	case !(r.Squaring >= 0 && r.Squaring <= 1):
		return bad(fmt.Sprintf("a blade squared for %.4g of the recovery", r.Squaring),
			"squaring is a share of the way back: 0.2 just before the catch, 0.5 from half slide, 1 never "+
				"feathered", "squaring=0.2")
	case !(r.Power > 0) && (p.OwnPower() || len(p.Seats) > 1):
		return bad("a rower without power", "power is above 0: efforts are shared in its proportion",
			"power=300")
	case b.Law == blade.Perfect && s.Oar.Flexible():
		return bad("a perfect grip on a flexible shaft",
			"without slip the shaft's spring and the boat would be one stiff piece", "stiffness=None")
	case b.Strips < 1 || b.Strips > blade.MaxStrips:
		return bad(fmt.Sprintf("a blade cut into %d strips", b.Strips),
			fmt.Sprintf("a blade is cut into 1 to %d strips", blade.MaxStrips), "strips=5")
	case b.Early != 0 && b.Law != blade.Plate:
		return bad(fmt.Sprintf("early on a blade of law %q", b.Law),
			"early shares the plate's lift between tip and neck; the other laws have no such lift",
			`law="plate"`)
	case b.Law == blade.Perfect:
		return checkStart(s)
	case !(b.Along >= 0):
		return bad("a blade with friction along itself below 0", "along is 0 or more", "along=0.01")
	case !(b.Area > 0 && b.Length > 0 && b.Grip > 0) || !(b.AddedMass >= 0 && b.Bury >= 0 && b.Release >= 0):
		return bad("a blade with an area, length, grip, added mass or arc below 0",
			"area, length and grip are above 0, the others 0 or more", "")
	case b.Law != blade.Table && (!(b.Drag > 0) || b.LiftOrTied() < 0):
		return bad("a blade without drag", "drag is above 0, lift 0 or more", "drag=2.07")
	}
	if b.Law == blade.Table && !risesTwice(b.Coefficients) {
		return bad("the blade's table does not rise",
			"law=\"table\" needs two rows or more of (angle, lift, drag), each angle above the one before",
			"")
	}
	return checkStart(s)
}

// risesTwice says whether a table has two rows or more and rises in the angle.
func risesTwice(rows []blade.Coefficient) bool {
	for i := 1; i < len(rows); i++ {
		if !(rows[i].Angle > rows[i-1].Angle) {
			return false
		}
	}
	return len(rows) > 1
}

// checkStart refuses a drive that never gets going: at the catch a blade that goes in
// over an arc is still out of the water, so the hands alone start the oar.
func checkStart(s *Seat) *Failure {
	shape, err := s.Rower.Style.Shape()
	if err != nil {
		return bad(err.Error(), "a style is rows of (share of the arc, force), shares rising from 0 to 1",
			`style="usual"`)
	}
	if shape.At(0) > 0 || s.Oar.Blade.Bury == 0 || s.Oar.Blade.Law == blade.Perfect {
		return nil
	}
	return &Failure{Cause: DriveStops, What: "the drive never starts: the style has no force at the catch",
		Why: "hands that turn round without force stay where they are; the usual styles start with 5 % of " +
			"the peak", Type: "a first row such as (0, 0.05)"}
}

func bad(what, why, typ string) *Failure {
	return &Failure{Cause: BadProblem, What: what, Why: why, Type: typ}
}

// example is a target a coach would know, for messages.
func example(h Hold) string {
	return [...]string{"400", "340", "1200", "700", "4.8"}[h]
}
