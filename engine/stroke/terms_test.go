package stroke

import (
	"math"
	"testing"
)

// Each named contribution's force and its entry in the energy book are two texts of
// one thing: leave half of its force out of the motion while the book still enters
// all of its power, and the book misses by half of that term's own work. One stroke
// does, steady or not: the change of the hull's kinetic energy is put to the book.
// Half, since without all of its inertia an oar cannot be moved at all.
func TestEachTermCarriesItsShareOfTheBook(t *testing.T) {
	const left = 0.5
	for _, c := range openCases(t).Cases {
		p := c.Input.problem(t)
		s := mustRow(t, p, Settings{})
		for i := range terms {
			g := new(general)
			merged, _ := p.merged()
			if err := g.setUp(&merged); err != nil {
				t.Fatal(err)
			}
			for j := range g.moments {
				g.moments[j].effort = s.Seats[j].Effort
			}
			g.less[i] = left
			if err := g.run(s.StartSpeed, manner{rtol: 1e-9, filmed: true}); err != nil {
				t.Fatalf("%s without half of %q: %v", c.Input.Name, terms[i].name, err)
			}
			var sol Solution
			g.harvest(&sol)
			e := &sol.Energy
			v0, v1 := s.StartSpeed, g.ode.Y[stateV]
			miss := e.Work() - e.BladeLoss - e.WaterDrag - e.AirDrag - e.OarSwing - e.ShaftDamping - e.SpringLeft - g.mass*(v1*v1-v0*v0)/2
			want := left * g.workOf(i, e)
			// what the steps leave of the book, over all of it
			if tol := 1e-7 * e.Work(); math.Abs(miss-want) > tol {
				t.Errorf("%s without half of %q: the book misses %.8g J, half of the term is %.8g J", c.Input.Name, terms[i].name, miss, want)
			}
			if c.Input.Name == "1x_flexible_speed" && math.Abs(want) < 1e-3 {
				t.Errorf("%q does no work: the test shows nothing", terms[i].name)
			}
		}
	}
}

// workOf is what one term puts into the book (in positive, out negative), J.
func (g *general) workOf(i int, e *Energy) float64 {
	account := func(k int) float64 {
		sum := 0.0
		for j := range g.moments {
			sum += g.seats[j].count * g.ode.Y[g.moments[j].at+seatWork+k]
		}
		return sum
	}
	switch i {
	case termHandle:
		return e.Handle
	case termSwing:
		return -e.OarSwing
	case termShaft:
		return -e.ShaftDamping - e.SpringLeft
	case termBlade:
		return -account(bladeWork)
	case termAdded:
		return -account(addedWork)
	case termBody:
		return e.Body
	case termWater:
		return -e.WaterDrag
	case termAir:
		return -e.AirDrag
	}
	return math.NaN()
}
