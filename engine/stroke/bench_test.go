package stroke

import (
	"testing"

	"thole/engine/blade"
	"thole/engine/stroke/fast"
	"thole/engine/stroke/problem/problemtest"
)

// BenchmarkSteadyStroke rows the open cases 1x_rigid_plate_power and 1x_flexible_speed over 1,000
// outboards from 190 to 210 cm, on one core, each to a residual of 1e-9 and an
// accuracy of 1e-7 in speed (TestSweepAccuracy holds both). general: the general
// route. fast: the fast route, each point from nothing. sweep: the fast route as Row
// takes it, from warm starts, their cost included.
func BenchmarkSteadyStroke(b *testing.B) {
	bend := func(p *Problem) { *p = problemtest.OpenCase(b, "1x_flexible_speed") }
	measure := func(p *Problem) { p.Seats[0].Rower.Style = problemtest.MeasuredStyle() }
	for _, c := range []struct {
		name   string
		route  Route
		cold   bool
		change func(p *Problem)
	}{
		{"general", General, false, nil},
		{"fast", Fast, true, nil},
		{"sweep", Auto, false, nil},
		{"sweep in air and waves", Auto, false, func(p *Problem) {
			p.Hull, p.Seats[0].Oar.Diameter, p.Seats[0].Rower.Squaring = raced(b, "1x", 90, 450).Hull, 0.04, 0.2
		}},
		{"measured, fast", Fast, true, measure},
		{"measured, sweep", Auto, false, measure},
		{"bent, general", General, false, bend},
		{"bent, fast", Fast, true, bend},
		{"bent, sweep", Auto, false, bend},
		{"bent and early, sweep", Auto, false, func(p *Problem) { bend(p); p.Seats[0].Oar.Blade.Early = 0.1 }},
		{"bent and crossflow, sweep", Auto, false, func(p *Problem) {
			bend(p)
			p.Seats[0].Oar.Blade.Law = blade.Crossflow
		}},
		{"bent and measured, sweep", Auto, false, func(p *Problem) { bend(p); measure(p) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			p := problemtest.OpenCase(b, "1x_rigid_plate_power")
			if c.change != nil {
				c.change(&p)
			}
			benchSweep(b, p, c.route, c.cold)
		})
	}
}

// benchSweep rows the sweep of a problem.
func benchSweep(b *testing.B, p Problem, route Route, cold bool) {
	solver := Solver{fast: fast.Route{Cold: cold}}
	n, evaluations := 0, 0
	b.ReportAllocs()
	for b.Loop() {
		if n%sweepPoints == 0 {
			fast.Forget() // each sweep pays for its warm starts
		}
		sweepPoint(&p, n%sweepPoints)
		s, err := solver.Solve(&p, Settings{Route: route})
		if err != nil {
			b.Fatal(err)
		}
		evaluations += s.Evaluations
		n++
	}
	if route != General {
		evaluations = solver.fast.Spent()
	}
	b.ReportMetric(float64(n)/b.Elapsed().Seconds(), "strokes/s")
	b.ReportMetric(float64(evaluations)/float64(n), "rhs/stroke")
}

const sweepPoints = 1000

// sweepPoint sets the outboard of point i of the sweep, 190 to 210 cm, inboard kept.
func sweepPoint(p *Problem, i int) {
	p.Seats[0].Oar.Length = p.Seats[0].Oar.Inboard + 1.90 + 0.20*float64(i)/(sweepPoints-1)
}

// TestSweepAccuracy holds what the benchmark claims, at every fortieth of its
// points: residual 1e-9, and a mean speed within 1e-7 of the general route at a
// tolerance of 1e-12, for all three routes.
func TestSweepAccuracy(t *testing.T) {
	for _, name := range []string{"1x_rigid_plate_power", "1x_flexible_speed"} {
		t.Run(name, func(t *testing.T) { sweepAccuracy(t, problemtest.OpenCase(t, name)) })
		t.Run(name+", measured and early", func(t *testing.T) {
			p := problemtest.OpenCase(t, name)
			p.Seats[0].Rower.Style, p.Seats[0].Oar.Blade.Early = problemtest.MeasuredStyle(), 0.1
			sweepAccuracy(t, p)
		})
	}
}

func sweepAccuracy(t *testing.T, p Problem) {
	var exact Solver
	routes := []struct {
		name     string
		solver   Solver
		settings Settings
		worst    float64
	}{
		{name: "general", settings: Settings{Route: General}},
		{name: "fast", solver: Solver{fast: fast.Route{Cold: true}}, settings: Settings{Route: Fast}},
		{name: "sweep"},
	}
	for i := 0; i < sweepPoints; i += 40 {
		sweepPoint(&p, i)
		want, err := exact.Solve(&p, Settings{Route: General, Rtol: 1e-12, Residual: 1e-11})
		if err != nil {
			t.Fatal(err)
		}
		for k := range routes {
			r := &routes[k]
			got, err := r.solver.Solve(&p, r.settings)
			if err != nil {
				t.Fatal(r.name, err)
			}
			miss := got.Speed/want.Speed - 1
			r.worst = max(r.worst, miss, -miss)
			if got.Residual > 1e-9 {
				t.Errorf("%s, point %d: residual %.1e", r.name, i, got.Residual)
			}
			if !(miss < 1e-7 && miss > -1e-7) {
				t.Errorf("%s, point %d: speed off by %.1e", r.name, i, miss)
			}
		}
	}
	for _, r := range routes {
		t.Logf("%s: worst %.1e", r.name, r.worst)
	}
}
