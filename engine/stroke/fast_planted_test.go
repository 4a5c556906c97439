package stroke

import (
	"math"
	"testing"

	"thole/engine/blade"
	"thole/engine/crew"
)

// planted is the drive of the fast route with an error in one contribution to the
// equations: share of it is left out, as motion.less does in the general route. The
// sums of the energy book stay as they are.
type planted struct {
	*fastDrive
	term  int
	share float64
}

// Slope solves the two equations of model.md section 6 again, with the planted
// error on the right-hand side or in the inertias.
func (d *planted) Slope(stage int, v, omega float64) (dv, dOmega float64) {
	d.fastDrive.Slope(stage, v, omega)
	n, r, s := &d.nodes[stage&15], &d.record[stage&15], d.seat
	load := s.water.Water(v, omega, n.sin, n.cos)
	mass := s.water.Mass * n.buried
	taken := mass*v*omega*n.sin + s.water.Mass*n.entry*omega*r.slip
	keep := [termCount]float64{1, 1, 1, 1, 1, 1, 1, 1}
	keep[d.term] -= d.share

	mass, taken = mass*keep[termAdded], taken*keep[termAdded]
	normal, along, moment := n.buried*load.Normal*keep[termBlade], n.buried*load.Along*keep[termBlade], n.buried*load.Moment*keep[termBlade]
	bodies := d.bodies * keep[termBody]
	arm := mass * s.centre
	swing := s.inertia*keep[termSwing] + arm*s.centre
	torque := keep[termHandle]*r.pull*s.lever/d.oars - moment - s.centre*taken
	coupling := bodies*n.slope - d.all*arm*n.cos
	boat := d.mass + d.all*mass*n.cos*n.cos
	push := d.all*((normal+taken)*n.cos+along*n.sin) - keep[termWater]*r.water - keep[termAir]*r.air - bodies*n.curve*omega*omega
	det := 1 / (swing*boat + arm*n.cos*coupling)
	dOmega = (torque*boat + arm*n.cos*push) * det
	dv = (swing*push - coupling*torque) * det
	r.dv, r.dOmega = dv, dOmega
	if omega == 0 {
		r.time = math.Sqrt(2 * s.arc / dOmega)
	}
	return dv * r.time, dOmega * r.time
}

// closeTolerance is how near the two routes must come when both are driven to
// their limits, the finest grid and a relative tolerance of 1e-12: they come to 1e-11,
// and fifty times that leaves room for another processor's rounding.
const closeTolerance = 5e-10

// finest solves a problem on the fast route's finest grid.
func finest(t *testing.T, p *Problem, plant func(*fastRoute) *planted) *Stroke {
	t.Helper()
	var f fastRoute
	if err := f.prepare(p); err != nil {
		t.Fatal(err)
	}
	if plant != nil {
		f.planted = plant(&f)
	}
	x, j := f.guess(), f.typical()
	level := gridCount - 1
	if !f.approach(level, &x, &j, 1e-6) {
		t.Fatal("no way in")
	}
	r, ok := f.settle(level, &x, &j, pair{}, 1e-12)
	if !ok {
		t.Fatalf("not settled: %v", r)
	}
	s := &Stroke{Problem: *p}
	book := f.book()
	f.fill(&s.Solution, &book, r.largest())
	return s
}

// drivenHard solves a problem by the general route, leaving out shares of its terms.
func drivenHard(t *testing.T, p *Problem, less [termCount]float64) *Stroke {
	t.Helper()
	g := new(general)
	g.less = less
	s := &Stroke{Problem: *p}
	if f := g.row(p, &Settings{Route: General, Rtol: 1e-12, Residual: 1e-11}, &s.Solution); f != nil {
		t.Fatal(f)
	}
	return s
}

// apart is the largest relative difference over all numbers of two strokes.
func apart(a, b *Stroke) (worst float64, name string) {
	for _, f := range fastTolerances {
		x, y := f.of(a), f.of(b)
		if miss := math.Abs(x-y) / math.Max(math.Abs(y), 1e-3); !(miss <= worst) {
			worst, name = miss, f.name
		}
	}
	return
}

// hardLook are problems in which every contribution weighs.
func hardLook(t *testing.T) map[string]Problem {
	out := map[string]Problem{}
	add := func(name string, change func(p *Problem, s *Seat)) {
		p := openCase(t, "1x_rigid_plate_power")
		change(&p, &p.Seats[0])
		out[name] = p
	}
	add("as it is", func(*Problem, *Seat) {})
	add("heavy oar, little added mass", func(_ *Problem, s *Seat) { s.Oar.SwingWeight, s.Oar.Blade.AddedMass = 6, 0.1 })
	add("headwind, held speed", func(p *Problem, s *Seat) { p.Wind, p.Hold, p.Target = 3, Speed, 4.2 })
	add("early blade, late style", func(_ *Problem, s *Seat) {
		s.Oar.Blade.Early = 0.2
		s.Rower.Style, _ = crew.Named("late")
	})
	add("perfect grip", func(_ *Problem, s *Seat) { s.Oar.Blade.Law = blade.Perfect })
	return out
}

// TestRoutesAgreeClosely drives both routes to their limits.
func TestRoutesAgreeClosely(t *testing.T) {
	for name, p := range hardLook(t) {
		worst, field := apart(finest(t, &p, nil), drivenHard(t, &p, [termCount]float64{}))
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
	fast, general := finest(t, &p, nil), drivenHard(t, &p, [termCount]float64{})
	if worst, field := apart(fast, general); worst > closeTolerance {
		t.Fatalf("%s differs by %.1e before anything is planted", field, worst)
	}
	for term := range terms {
		if term == termShaft {
			continue // no shaft here; the fast route has none
		}
		wrong := finest(t, &p, func(f *fastRoute) *planted { return &planted{&f.fastDrive, term, share} })
		worst, field := apart(wrong, general)
		t.Logf("%s, fast: %.1e (%s)", terms[term].name, worst, field)
		if worst <= closeTolerance {
			t.Errorf("an error of 1e-5 in %q of the fast route does not show", terms[term].name)
		}
		var less [termCount]float64
		less[term] = share
		worst, field = apart(fast, drivenHard(t, &p, less))
		t.Logf("%s, general: %.1e (%s)", terms[term].name, worst, field)
		if worst <= closeTolerance {
			t.Errorf("an error of 1e-5 in %q of the general route does not show", terms[term].name)
		}
	}
}
