package problemtest

import (
	"math"
	"testing"

	"thole/engine/stroke/problem"
)

// Compared is one number by which two solutions are compared.
type Compared struct {
	Name      string
	Tolerance float64 // relative
	Of        func(*problem.Solution) float64
}

// Tolerances is how far the fast route may lie from the general one at rtol
// 1e-10. The mean speed is what the fast route's grids are measured by: 1e-7, so
// that the two agree to 2e-7 at the general route's own default. The others follow
// the boat's or the oar's motion inside the stroke, where the fast route's wide steps
// miss by more than over the whole of it: 3e-6, a third of what a case is held to.
var Tolerances = []Compared{
	{"speed", 1e-7, func(s *problem.Solution) float64 { return s.Speed }},
	{"start speed", 3e-6, func(s *problem.Solution) float64 { return s.StartSpeed }},
	{"lowest speed", 3e-6, func(s *problem.Solution) float64 { return s.MinSpeed }},
	{"highest speed", 3e-6, func(s *problem.Solution) float64 { return s.MaxSpeed }},
	{"effort", 3e-6, func(s *problem.Solution) float64 { return s.Seats[0].Effort }},
	{"drive time", 3e-6, func(s *problem.Solution) float64 { return s.Seats[0].DriveTime }},
	{"handle work", 3e-6, func(s *problem.Solution) float64 { return s.Seats[0].HandleWork }},
	{"body work", 3e-6, func(s *problem.Solution) float64 { return s.Seats[0].BodyWork }},
	{"peak force", 3e-6, func(s *problem.Solution) float64 { return s.Seats[0].PeakForce }},
	{"early work", 3e-6, func(s *problem.Solution) float64 { return s.Seats[0].EarlyWork }},
	{"pin force", 3e-6, func(s *problem.Solution) float64 { return s.Seats[0].PeakPinForce }},
	{"slip", 3e-6, func(s *problem.Solution) float64 { return s.Seats[0].Slip }},
	{"travel", 3e-6, func(s *problem.Solution) float64 { return s.Seats[0].Travel }},
	// the energy book as shares of the work put in: air drag may be next to nothing
	{"blade loss", 1e-6, func(s *problem.Solution) float64 { return 1 + s.Energy.BladeLoss/s.Energy.Work() }},
	{"water drag", 1e-6, func(s *problem.Solution) float64 { return 1 + s.Energy.WaterDrag/s.Energy.Work() }},
	{"air drag", 1e-6, func(s *problem.Solution) float64 { return 1 + s.Energy.AirDrag/s.Energy.Work() }},
	{"push of the air on the oars", 1e-6, func(s *problem.Solution) float64 {
		return 1 +
			s.Energy.OarPush/s.Energy.Work()
	}},
	{"work of the hands against it", 1e-6, func(s *problem.Solution) float64 {
		return 1 +
			s.Energy.OarAir/s.Energy.Work()
	}},
	{"the same on the way back", 1e-6, func(s *problem.Solution) float64 {
		return 1 + s.Seats[0].BackWork/(s.Seats[0].HandleWork+s.Seats[0].BackWork)
	}},
	{"oar swing", 1e-6, func(s *problem.Solution) float64 { return 1 + s.Energy.OarSwing/s.Energy.Work() }},
	{"closure", 1e-6, func(s *problem.Solution) float64 { return 1 + s.Energy.Closure() }},
}

// Agree holds a fast stroke against the general one.
func Agree(t *testing.T, p problem.Problem, fast, general *problem.Solution, worst []float64) {
	t.Helper()
	for i, f := range Tolerances {
		a, b := f.Of(fast), f.Of(general)
		// slip and loss of a blade that does not slip are 0
		miss := math.Abs(a-b) / math.Max(math.Abs(b), 1e-3)
		worst[i] = max(worst[i], miss)
		if !(miss <= f.Tolerance) {
			t.Errorf("%s: %.10g fast, %.10g general (%.1e)\n%+v", f.Name, a, b, miss, p)
		}
	}
}
