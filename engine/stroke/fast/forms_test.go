package fast

import (
	"testing"

	"thole/engine/forms"
	"thole/engine/stroke/problem"
	"thole/engine/stroke/problem/problemtest"
)

// What a route remembers of one form of the model it never lends to another: every form
// solved in a row, on one route, gives the bits of a route that has solved nothing else.
func TestFormsShareNoMemory(t *testing.T) {
	defer Forget()
	single := problemtest.Single(t)
	single.Seats[0].Oar.Length += 0.0023 // off the rounded grid, where warm starts are made
	solve := func(f *Route, p problem.Problem) (problem.Solution, bool) {
		var sol problem.Solution
		ok := f.Solve(&p, &problem.Settings{}, &sol)
		return sol, ok
	}
	var used Route
	Forget()
	asSet, _ := solve(&used, single)
	differ := 0
	for _, form := range forms.All() {
		p := form.Apply(single)
		got, ok := solve(&used, p)
		Forget()
		want, also := solve(new(Route), p)
		if ok != also || got.Speed != want.Speed {
			t.Errorf("%s: %.15g m/s after the others, %.15g by itself", form.Name, got.Speed, want.Speed)
		}
		if got.Speed != asSet.Speed {
			differ++
		}
		Forget()
		solve(&used, single) // the next one's neighbour
	}
	// those as set already, and those that act in wind, in sweep or in crew boats alone
	if differ < 20 {
		t.Errorf("only %d forms move the speed", differ)
	}
}
