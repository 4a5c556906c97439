package fast

import (
	"math"
	"testing"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/stroke/general"
	"thole/engine/stroke/problem"
	"thole/engine/stroke/problem/problemtest"
)

// planted is the drive of the fast route with an error in one contribution to the
// equations: share of it is left out, as motion.less does in the general route. The
// sums of the energy book stay as they are.
type planted struct {
	*drive
	term  int
	share float64
}

// Slope solves the two equations of model 6 again, with the planted
// error on the right-hand side or in the inertias.
func (d *planted) Slope(stage int, v, omega float64) (dv, dOmega float64) {
	d.drive.Slope(stage, v, omega)
	n, r, s := &d.nodes[stage&15], &d.record[stage&15], d.seat
	load := s.Water.Water(v, omega, n.sin, n.cos)
	mass := s.Water.Mass * n.buried
	taken := mass*v*omega*n.sin + s.Water.Mass*n.entry*omega*r.slip
	var keep [general.TermCount]float64
	for i := range keep {
		keep[i] = 1
	}
	keep[d.term] -= d.share

	mass, taken = mass*keep[general.TermAdded], taken*keep[general.TermAdded]
	normal, along, moment := n.buried*load.Normal*keep[general.TermBlade], n.buried*load.Along*
		keep[general.TermBlade], n.buried*load.Moment*keep[general.TermBlade]
	bodies := d.bodies * keep[general.TermBody]
	arm := mass * s.Centre
	swing := s.Inertia*keep[general.TermSwing] + arm*s.Centre
	torque := keep[general.TermHandle]*r.pull*s.Lever/d.Oars - moment - s.Centre*taken
	coupling := bodies*n.slope - d.all*arm*n.cos
	boat := d.Mass + d.all*mass*n.cos*n.cos
	push := d.all*((normal+taken)*n.cos+along*n.sin) - keep[general.TermWater]*r.water -
		keep[general.TermAir]*
			r.air - bodies*n.curve*omega*omega
	if d.InAir {
		torque += keep[general.TermOarAir] * r.turn
		push -= keep[general.TermOarAir] * d.all * r.push
	}
	det := 1 / (swing*boat + arm*n.cos*coupling)
	dOmega = (torque*boat + arm*n.cos*push) * det
	dv = (swing*push - coupling*torque) * det
	r.dv, r.dOmega = dv, dOmega
	if omega == 0 {
		r.time = math.Sqrt(2 * s.Arc / dOmega)
	}
	return dv * r.time, dOmega * r.time
}

// termNames name the contributions in messages.
var termNames = [general.TermCount]string{"handle", "oar swing", "shaft", "blade", "added mass", "body",
	"water drag", "air drag", "air on the oars"}

// closeTolerance is how near the two routes must come when both are driven to
// their limits, the finest grid and a relative tolerance of 1e-12: they come to 1e-11,
// and fifty times that leaves room for another processor's rounding.
const closeTolerance = 5e-10

// finest solves a problem on the fast route's finest grid.
func finest(t *testing.T, p *problem.Problem, plant func(*Route) *planted) *problem.Solution {
	t.Helper()
	f := new(Route)
	if plant != nil {
		f.planted = plant(f)
	}
	return finestOf(t, f, p, 1e-12)
}

// finestOf does it in a route that is ready, to residuals within enough.
func finestOf(t *testing.T, f *Route, p *problem.Problem, enough float64) *problem.Solution {
	t.Helper()
	if err := f.prepare(p); err != nil {
		t.Fatal(err)
	}
	x, j := f.guess(), f.typical()
	level := gridCount - 1
	if _, ok := f.approach(level, &x, &j, 1e-6); !ok {
		t.Fatal("no way in")
	}
	f.findLag()
	r, ok := f.settle(level, &x, &j, pair{}, enough)
	if !ok {
		t.Fatalf("not settled: %v", r)
	}
	s := new(problem.Solution)
	book := f.book()
	f.fill(s, &book, r.largest())
	return s
}

// drivenHard solves a problem by the general route, leaving out shares of its terms.
func drivenHard(t *testing.T, p *problem.Problem, less [general.TermCount]float64) *problem.Solution {
	t.Helper()
	g := new(general.Route)
	g.Less = less
	s := new(problem.Solution)
	if f := g.Row(p, &problem.Settings{Route: problem.General, Rtol: 1e-12, Residual: 1e-11}, s); f != nil {
		t.Fatal(f)
	}
	return s
}

// apart is the largest relative difference over all numbers of two strokes.
func apart(a, b *problem.Solution) (worst float64, name string) {
	for _, f := range problemtest.Tolerances {
		x, y := f.Of(a), f.Of(b)
		if miss := math.Abs(x-y) / math.Max(math.Abs(y), 1e-3); !(miss <= worst) {
			worst, name = miss, f.Name
		}
	}
	return
}

// hardLook are problems in which every contribution weighs.
func hardLook(t *testing.T) map[string]problem.Problem {
	out := map[string]problem.Problem{}
	add := func(name string, change func(p *problem.Problem, s *problem.Seat)) {
		p := problemtest.OpenCase(t, "1x_rigid_plate_power")
		change(&p, &p.Seats[0])
		out[name] = p
	}
	add("as it is", func(*problem.Problem, *problem.Seat) {})
	add("heavy oar, little added mass", func(_ *problem.Problem, s *problem.Seat) {
		s.Oar.SwingWeight, s.Oar.Blade.AddedMass = 6, 0.1
	})
	add("headwind, held speed", func(p *problem.Problem, s *problem.Seat) {
		p.Wind, p.Hold, p.Target = 3, problem.Speed, 4.2
	})
	add("early blade, late style", func(_ *problem.Problem, s *problem.Seat) {
		s.Oar.Blade.Early = 0.2
		s.Rower.Style, _ = crew.Named("late")
	})
	add("oars in the air, waves in shallow water, friction along", func(p *problem.Problem, s *problem.Seat) {
		p.Hull.AirArea, p.Hull.WaveFactor, p.Hull.Transition = math.NaN(), math.NaN(), 1e6
		p.Hull.BodyArea, p.Water.Depth, p.Wind = 0.5, 3, 2
		s.Oar.Diameter, s.Oar.Blade.Along, s.Rower.Squaring = 0.04, 0.03, 0.35
	})
	add("perfect grip in the air", func(p *problem.Problem, s *problem.Seat) {
		p.Hull.AirArea, p.Hull.BodyArea = math.NaN(), 0.5
		s.Oar.Diameter, s.Oar.Blade.Law, s.Oar.Blade.Area, s.Rower.Squaring = 0.04, blade.Perfect, 0.08, 1
	})
	add("perfect grip", func(_ *problem.Problem, s *problem.Seat) { s.Oar.Blade.Law = blade.Perfect })
	return out
}

// TestRoutesAgreeClosely drives both routes to their limits. Equation 13.2.
func TestRoutesAgreeClosely(t *testing.T) {
	for name, p := range hardLook(t) {
		worst, field := apart(finest(t, &p, nil), drivenHard(t, &p, [general.TermCount]float64{}))
		t.Logf("%s: %.1e (%s)", name, worst, field)
		if worst > closeTolerance {
			t.Errorf("%s: %s differs by %.1e", name, field, worst)
		}
	}
}

// TestPlantedErrorShows leaves a hundred-thousandth of one contribution out of one
// route, then of the other: each time the comparison above must fail.
func TestPlantedErrorShows(t *testing.T) {
	const share = 1e-5
	p := hardLook(t)["heavy oar, little added mass"]
	p.Wind = 3
	p.Hull.AirArea, p.Hull.BodyArea = math.NaN(), 0.5
	p.Seats[0].Oar.Diameter, p.Seats[0].Rower.Squaring = 0.04, 0.2
	quick, slow := finest(t, &p, nil), drivenHard(t, &p, [general.TermCount]float64{})
	if worst, field := apart(quick, slow); worst > closeTolerance {
		t.Fatalf("%s differs by %.1e before anything is planted", field, worst)
	}
	for term, name := range termNames {
		if term == general.TermShaft {
			continue // no shaft here: TestBentPlantedErrorShows
		}
		wrong := finest(t, &p, func(f *Route) *planted { return &planted{&f.drive, term, share} })
		worst, field := apart(wrong, slow)
		t.Logf("%s, fast: %.1e (%s)", name, worst, field)
		if worst <= closeTolerance {
			t.Errorf("an error of 1e-5 in %q of the fast route does not show", name)
		}
		var less [general.TermCount]float64
		less[term] = share
		worst, field = apart(quick, drivenHard(t, &p, less))
		t.Logf("%s, general: %.1e (%s)", name, worst, field)
		if worst <= closeTolerance {
			t.Errorf("an error of 1e-5 in %q of the general route does not show", name)
		}
	}
}

// TestPlantedErrorOnTheWayBackShows plants a hundred-thousandth in the air on the oars, forward and
// back, by the air's density in a boat without a body: what the drive's plant above does not reach.
func TestPlantedErrorOnTheWayBackShows(t *testing.T) {
	p := hardLook(t)["oars in the air, waves in shallow water, friction along"]
	p.Hull.BodyArea, p.Hull.WaveFactor = 0, 0.065 // a formula: the table of waves has kinks of 1e-8
	quick, slow := finest(t, &p, nil), drivenHard(t, &p, [general.TermCount]float64{})
	if worst, field := apart(quick, slow); worst > closeTolerance {
		t.Fatalf("%s differs by %.1e before anything is planted", field, worst)
	}
	p.Air.Density *= 1 - 1e-5
	for route, s := range map[string]*problem.Solution{"fast": finest(t, &p, nil), "general": drivenHard(t,
		&p, [general.TermCount]float64{})} {
		other := map[string]*problem.Solution{"fast": slow, "general": quick}[route]
		if worst, _ := apart(s, other); worst <= 100*closeTolerance {
			t.Errorf("an error of 1e-5 in the air on the oars of the %s route does not show", route)
		}
	}
}
