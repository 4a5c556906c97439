package stroke

import (
	"strings"
	"testing"

	"thole/engine/stroke/fast"
	"thole/engine/stroke/problem/problemtest"
)

// BenchmarkSteadyStroke rows the open cases 1x_rigid_plate_power and 1x_flexible_speed over 1,000
// outboards from 190 to 210 cm, on one core, each to a residual of 1e-9 and an
// accuracy of 1e-7 in speed (TestSweepAccuracy holds both). general: the general
// route. fast: the fast route, each point from nothing. sweep: the fast route as Row
// takes it, from warm starts, their cost included.
func BenchmarkSteadyStroke(b *testing.B) {
	for _, c := range []struct {
		name  string
		route Route
		cold  bool
	}{{"general", General, false}, {"fast", Fast, true}, {"sweep", Auto, false}, {"sweep in air and waves",
		Auto, false},
		{"bent, general", General, false}, {"bent, fast", Fast, true}, {"bent, sweep", Auto, false}} {
		b.Run(c.name, func(b *testing.B) {
			p := problemtest.OpenCase(b, "1x_rigid_plate_power")
			if strings.HasPrefix(c.name, "bent") {
				p = problemtest.OpenCase(b, "1x_flexible_speed")
			}
			if c.name == "sweep in air and waves" {
				p.Hull, p.Seats[0].Oar.Diameter, p.Seats[0].Rower.Squaring = raced(b, "1x", 90, 450).Hull,
					0.04, 0.2
			}
			solver := Solver{fast: fast.Route{Cold: c.cold}}
			n, evaluations := 0, 0
			b.ReportAllocs()
			for b.Loop() {
				if n%sweepPoints == 0 {
					fast.Forget() // each sweep pays for its warm starts
				}
				sweepPoint(&p, n%sweepPoints)
				s, err := solver.Solve(&p, Settings{Route: c.route})
				if err != nil {
					b.Fatal(err)
				}
				evaluations += s.Evaluations
				n++
			}
			if c.route != General {
				evaluations = solver.fast.Spent()
			}
			b.ReportMetric(float64(n)/b.Elapsed().Seconds(), "strokes/s")
			b.ReportMetric(float64(evaluations)/float64(n), "rhs/stroke")
		})
	}
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
