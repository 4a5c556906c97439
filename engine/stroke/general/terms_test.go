package general

import (
	"math"
	"testing"

	"thole/engine/stroke/problem"
	"thole/engine/stroke/problem/problemtest"
)

// Each named contribution's force and its entry in the energy book are two texts of
// one thing: leave half of its force out of the motion while the book still enters
// all of its power, and the book misses by half of that term's own work. One stroke
// does, steady or not: the change of the hull's kinetic energy is put to the book.
// Half, since without all of its inertia an oar cannot be moved at all.
// Equations 3.7, 4.5, 5.1, 6.1 and 6.2.
func TestEachTermCarriesItsShareOfTheBook(t *testing.T) {
	const left = 0.5
	for _, c := range problemtest.OpenCases(t).Cases {
		p := c.Input.Problem(t)
		merged, _ := p.Merged()
		var s problem.Solution
		if f := new(Route).Row(&merged, &problem.Settings{}, &s); f != nil {
			t.Fatal(f)
		}
		for i := range terms {
			g := new(Route)
			if err := g.SetUp(&merged); err != nil {
				t.Fatal(err)
			}
			for j := range g.Moments {
				g.Moments[j].Effort = s.Seats[j].Effort
			}
			g.Less[i] = left
			if err := g.Run(s.StartSpeed, Mode{Rtol: 1e-9, Recorded: true}); err != nil {
				t.Fatalf("%s without half of %q: %v", c.Input.Name, terms[i].name, err)
			}
			var sol problem.Solution
			g.results(&sol)
			e := &sol.Energy
			v0, v1 := s.StartSpeed, g.ODE.Y[StateV]
			miss := e.Work() - e.BladeLoss - e.WaterDrag - e.AirDrag - e.OarSwing - e.ShaftDamping -
				e.SpringLeft - g.Mass*(v1*v1-v0*v0)/2
			want := left * g.workOf(i, e)
			// what the steps leave of the book, over all of it
			if tol := 1e-7 * e.Work(); math.Abs(miss-want) > tol {
				t.Errorf("%s without half of %q: the book misses %.8g J, half of the term is %.8g J",
					c.Input.Name, terms[i].name, miss, want)
			}
			if c.Input.Name == "1x_flexible_speed" && math.Abs(want) < 1e-3 {
				t.Errorf("%q does no work: the test shows nothing", terms[i].name)
			}
		}
	}
}

// workOf is what one term puts into the book (in positive, out negative), J.
func (g *Route) workOf(i int, e *problem.Energy) float64 {
	account := func(k int) float64 {
		sum := 0.0
		for j := range g.Moments {
			sum += g.Seats[j].Count * g.ODE.Y[g.Moments[j].First+seatWork+k]
		}
		return sum
	}
	switch i {
	case TermHandle:
		return e.Handle
	case TermSwing:
		return -e.OarSwing
	case TermShaft:
		return -e.ShaftDamping - e.SpringLeft
	case TermBlade:
		return -account(bladeWork)
	case TermAdded:
		return -account(AddedWork)
	case TermBody:
		return e.Body
	case TermWater:
		return -e.WaterDrag
	case TermAir:
		return -e.AirDrag
	}
	return math.NaN()
}
