package problemtest

import (
	"math"
	"testing"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/fluid"
	"thole/engine/hull"
	"thole/engine/oar"
	"thole/engine/stroke/problem"
)

// Loaded is a boat on which equal loads are asked, under the plain law and the class factors for which
// their sizes were computed.
func Loaded(t testing.TB, boat, shape string, length, inboard, speed, rate, catch,
	finish float64) problem.Problem {
	t.Helper()
	h, err := hull.New(boat)
	if err != nil {
		t.Fatal(err)
	}
	b, err := blade.New(shape)
	if err != nil {
		t.Fatal(err)
	}
	h = h.Plain()
	if k, ok := map[string]float64{"1x": 1, "2-": 1.11, "8+": 1.25}[boat]; ok {
		h.ClassFactor = k
	}
	const deg = math.Pi / 180
	p := problem.Problem{Hull: h, OarsPerRower: h.OarsPerRower(), Rate: rate, Water: fluid.FreshWater(15),
		Air:  fluid.StandardAir(),
		Hold: problem.Speed, Target: speed, Seats: []problem.Seat{{Count: h.Seats(), Rower: crew.New(90, 450),
			Oar: oar.New(length, inboard, b), Catch: catch * deg, Finish: finish * deg}}}
	if h.Coxed() {
		p.CoxMass = 55
	}
	return p
}

// FactsSingle is the single of those boats.
func FactsSingle(t testing.TB) problem.Problem {
	return Loaded(t, "1x", "scull hatchet", 2.88, 0.88, 4.8, 34, 65, 43)
}

// MeasuredStyle is a force curve as a gauge might give it.
func MeasuredStyle() crew.Style {
	return crew.Measured([]crew.Point{{Along: 0, Force: 0.15}, {Along: 0.2, Force: 0.7},
		{Along: 0.4, Force: 1}, {Along: 0.7, Force: 0.75}, {Along: 1, Force: 0.1}})
}
