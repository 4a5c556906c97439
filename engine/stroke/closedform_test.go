package stroke

import (
	"math"
	"testing"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/fluid"
	"thole/engine/num"
	"thole/engine/oar"
	"thole/engine/stroke/general"
	"thole/engine/stroke/problem/problemtest"
)

// A closed form (derived): constant hull speed U, massless rigid oar, constant handle
// force F_h, crossflow law, ρ 1000. The oar is in balance all the way: the strips'
// moment equals the handle's, which gives ω at every angle; time and work follow by
// quadrature. One strip, so that the blade is a point.
type closedForm struct {
	name                string
	radius, catch       float64 // R m, φ_c deg
	finish, speed       float64 // φ_f deg, U m/s
	force, lever        float64 // F_h N, a m
	drag, area          float64 // C, A m²
	time, efficiency    float64
	plateTime, plateEff float64
}

var closedForms = []closedForm{
	{"scull", 1.80, 65, 43, 5.0, 300, 0.84, 2.0, 0.080, 0.627553, 0.755321, 0.71480, 0.84476},
	{"sweep", 2.45, 55, 34, 5.5, 500, 1.06, 2.0, 0.125, 0.621531, 0.785153, 0.68691, 0.85969},
}

// elements is the case's blade as one strip.
func (c *closedForm) elements(t *testing.T, law blade.Law) *blade.Elements {
	b := blade.Blade{Law: law, Area: c.area, Length: 0.5, Grip: 1, Drag: c.drag, Lift: math.NaN(), Strips: 1}
	e := new(blade.Elements)
	if err := e.Prepare(&b, fluid.Water{Density: 1000, Viscosity: 1e-6}, c.radius); err != nil {
		t.Fatal(err)
	}
	return e
}

// drive gives drive time and blade efficiency by the engine's blade and quadrature.
func (c *closedForm) drive(t *testing.T, law blade.Law) (time, efficiency float64) {
	e := c.elements(t, law)
	rate := func(theta float64) (omega, loss float64) {
		sin, cos := math.Sincos(theta)
		moment := func(omega float64) float64 {
			return e.Water(c.speed, omega, sin, cos).Moment - c.force*c.lever
		}
		omega, err := num.Root(moment, 0, 50, 1e-14)
		if err != nil {
			t.Fatal(err)
		}
		return omega, e.Water(c.speed, omega, sin, cos).Loss
	}
	lost := 0.0
	x, w := num.GaussLegendre(40)
	// two pieces: the plate's |s_t| has a kink where the oar is square
	for _, piece := range [2][2]float64{{-num.Radians(c.catch), 0}, {0, num.Radians(c.finish)}} {
		half := (piece[1] - piece[0]) / 2
		for i := range x {
			omega, loss := rate(piece[0] + half*(1+x[i]))
			time += w[i] * half / omega
			lost += w[i] * half * loss / omega
		}
	}
	return time, 1 - lost/(c.force*c.lever*(num.Radians(c.catch)+num.Radians(c.finish)))
}

// Identity 8. The closed form itself, to 1e-9 (quadrature), and its printed digits.
func TestIdentity8ClosedFormOfAMasslessOar(t *testing.T) {
	for _, c := range closedForms {
		s := math.Sqrt(2 * c.force * c.lever / (c.radius * 1000 * c.drag * c.area))
		u, q := c.speed, math.Sqrt(c.speed*c.speed-s*s)
		integral := func(x float64) float64 {
			p, m, tan := math.Sqrt(u+s), math.Sqrt(u-s), math.Tan(x/2)
			return math.Log((p+m*tan)/(p-m*tan)) / q
		}
		want := c.radius * (integral(num.Radians(c.catch)) + integral(num.Radians(c.finish)))
		eff := 1 - s*want/(c.radius*(num.Radians(c.catch)+num.Radians(c.finish)))
		time, efficiency := c.drive(t, blade.Crossflow)
		Near(t, c.name+" drive time", time, want, 1e-9)
		Near(t, c.name+" efficiency", efficiency, eff, 1e-9)
		Near(t, c.name+" printed drive time", want, c.time, 1e-6)
		Near(t, c.name+" printed efficiency", eff, c.efficiency, 1e-6)
	}
}

// The same drives under the plate law (derived, to five digits):
// the law matters more than the coefficient.
func TestPlateDrivesOfAMasslessOar(t *testing.T) {
	for _, c := range closedForms {
		time, efficiency := c.drive(t, blade.Plate)
		Near(t, c.name+" drive time", time, c.plateTime, 1e-5)
		Near(t, c.name+" efficiency", efficiency, c.plateEff, 1e-5)
	}
}

// The general route itself comes to the closed form: a hull too heavy to change its
// speed, a force without style or end of speed, an oar lighter and lighter. The miss is
// in proportion to the inertia, so two light oars give the massless one (Richardson) to
// 1e-6.
func TestIdentity8ByTheGeneralRoute(t *testing.T) {
	c := closedForms[0]
	drive := func(inertia float64) float64 {
		p := problemtest.Single(t)
		p.Hull.Mass, p.OarsPerRower, p.Rate = 1e15, 1, 30
		p.Hull.WettedArea = 1 // its drag must not matter, whatever it displaces
		p.Water.Density = 1000
		b := blade.Blade{Law: blade.Crossflow, Kind: blade.Scull, Area: c.area, Length: 0.5, Grip: 1, Drag: c.drag, Lift: math.NaN(), Strips: 1}
		o := oar.New(0.84+0.06-0.02+1.80+0.02+0.25, 0.84+0.06-0.02, b)
		o.SwingWeight = inertia
		Near(t, "L", o.Centre(), c.radius, 1e-12)
		Near(t, "L_in", o.Lever(), c.lever, 1e-12)
		p.Seats = []Seat{{Count: 1, Oar: o, Catch: num.Radians(c.catch), Finish: num.Radians(c.finish), Rower: crew.Rower{
			Mass: 80, Power: 300, FreeSpeed: math.Inf(1), Style: crew.Measured([]crew.Point{{Along: 0, Force: 1}, {Along: 1, Force: 1}})}}}
		g := new(general.Route)
		if err := g.SetUp(&p); err != nil {
			t.Fatal(err)
		}
		g.Moments[0].Effort = c.force
		if err := g.Run(c.speed, general.Mode{Rtol: 1e-9}); err != nil {
			t.Fatal(err)
		}
		return g.Moments[0].FinishTime
	}
	a, b := drive(4e-3), drive(2e-3)
	Near(t, "drive time", 2*b-a, c.time, 2e-6)
	if ratio := (a - c.time) / (b - c.time); math.Abs(ratio-2) > 0.05 {
		t.Errorf("the miss is not in proportion to the inertia: %.3f for twice of it", ratio)
	}
}

// A closed form (derived): a path without slip, R(asinh tan) and its kin.
func TestNoSlipPathNumbers(t *testing.T) {
	for _, c := range []struct{ r, catch, finish, travel, net, path float64 }{
		{1, 60, 60, 2.63392, 0.90186, 1.38629}, {1.80, 65, 43, 4.21073, 1.35178, 2.11346}, {2.45, 55, 34, 4.37544, 0.99849, 1.82122},
	} {
		// the perfect path's own points, by its table: X from the hull, the centre's x
		p := problemtest.With(problemtest.OpenCases(t).Cases[3].Input.Problem(t), func(s *Seat) {
			s.Oar.Length += c.r - s.Oar.Centre()
			s.Catch, s.Finish = num.Radians(c.catch), num.Radians(c.finish)
		})
		tab, err := mustRow(t, p, Settings{}).BladePath(0, Moments{Points: 4001})
		if err != nil {
			t.Fatal(err)
		}
		x, y := tab.Column("centre_x").Nums, tab.Column("centre_y").Nums
		n := len(x) - 1
		// half a unit of the last printed digit, in metres
		if net := (x[n] - x[0]) / 100; math.Abs(net-c.net) > 6e-6 {
			t.Errorf("R %g: the blade advances %.6f m, %.5f printed", c.r, net, c.net)
		}
		travel := (x[n]-x[0])/100 + c.r*(math.Sin(num.Radians(c.finish))+math.Sin(num.Radians(c.catch)))
		if math.Abs(travel-c.travel) > 6e-6 {
			t.Errorf("R %g: the hull travels %.6f m, %.5f printed", c.r, travel, c.travel)
		}
		length := 0.0
		for i := range n {
			length += math.Hypot(x[i+1]-x[i], y[i+1]-y[i]) / 100
		}
		if math.Abs(length-c.path) > 6e-6 { // chords of 4000 pieces miss 1e-7
			t.Errorf("R %g: the path is %.6f m long, %.5f printed", c.r, length, c.path)
		}
	}
}
