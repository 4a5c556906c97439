package fast

import (
	"testing"

	"thole/engine/stroke/general"
	"thole/engine/stroke/problem"
	"thole/engine/stroke/problem/problemtest"
)

// TestWarmStartAccuracy does the same near warm starts: draws moved onto the rounded grid and
// then off it again in one input or two, each of the rounded inputs in turn.
func TestWarmStartAccuracy(t *testing.T) {
	r := problemtest.NewRolls(8)
	worst := make([]float64, len(problemtest.Tolerances))
	warm, cold := 0, 0
	for i := range 240 {
		p := problemtest.DrawProblem(r, problemtest.Width(i%2))
		m, _ := p.Merged()
		if !Applies(&m) {
			continue
		}
		var f Route
		f.round(&m)
		q := f.near
		q.Seats = []problem.Seat{f.nearSeat[0]}
		q.Seats[0].Rower.Power = m.Seats[0].Rower.Power
		for range 1 + i%2 {
			at := inputs(&q, &q.Seats[0])[r.Intn(rounded)]
			*at *= 1 + 0.01*r.Float64()
		}
		var slow, quick problem.Solution
		if problem.Check(&q) != nil || new(general.Route).Row(&q, &problem.Settings{Rtol: 1e-10},
			&slow) != nil || problem.Refuse(&q, &slow) != nil {
			continue
		}
		if !new(Route).Solve(&q, &problem.Settings{}, &quick) || problem.Refuse(&q, &quick) != nil {
			continue
		}
		if _, near := f.warmStartFor(&q); near {
			warm++
		} else {
			cold++
		}
		problemtest.Agree(t, q, &quick, &slow, worst)
	}
	for i, f := range problemtest.Tolerances {
		t.Logf("%s %.1e", f.Name, worst[i])
	}
	t.Logf("%d from warm starts, %d from nothing", warm, cold)
	if warm < 50 {
		t.Errorf("only %d from warm starts", warm)
	}
}
