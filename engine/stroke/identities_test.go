package stroke

import (
	"math"
	"testing"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/hull"
	"thole/engine/num"
	"thole/engine/oar"
	"thole/engine/stroke/general"
	"thole/engine/stroke/problem/problemtest"
	"thole/engine/stroke/replay"
)

// The identities any correct implementation satisfies: model 9, number by
// number. Number 6's second half and number 4's fixed-step check stand beside the
// fast route.

// mustRow solves by the general route or ends the test.
func mustRow(t testing.TB, p Problem, s Settings) *Stroke {
	t.Helper()
	s.Route = General
	out, err := Row(p, s)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func Near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if miss := math.Abs(got-want) / math.Abs(want); !(miss <= tol) {
		t.Errorf("%s: %.10g, expected %.10g: off by %.1e, more than %.0e", what, got, want, miss, tol)
	}
}

// Identity 1. The book and the impulse close to 1e-6: what is left is the step
// tolerance of 1e-8, summed over a few hundred steps. Equations 7.1 and 8.1.
func TestIdentity1EnergyAndImpulseClose(t *testing.T) {
	for _, c := range problemtest.OpenCases(t).Cases {
		p := c.Input.Problem(t)
		s := mustRow(t, p, Settings{})
		if e := math.Abs(s.Energy.Closure()); e > 1e-6 {
			t.Errorf("%s: the energy book misses %.1e", c.Input.Name, e)
		}
		g, err := s.Follow()
		if err != nil {
			t.Fatal(err)
		}
		push, drag := 0.0, 0.0
		overDrive(g, math.Inf(1), func(weight float64) {
			for i := range g.Moments {
				m := &g.Moments[i]
				if !m.Finished {
					push += weight * g.Seats[i].Count * g.Oars * ((m.Load.Normal+m.AddedForce)*m.Cos + m.Load.Along*m.Sin)
				}
			}
			drag += weight * (g.WaterDrag + g.AirDrag)
		})
		if e := math.Abs(push/drag - 1); e > 1e-6 {
			t.Errorf("%s: blades push %.8g N·s, drag takes %.8g: %.1e", c.Input.Name, push, drag, e)
		}
	}
}

// overDrive calls at every Gauss point of the trajectory up to time end, with its weight.
func overDrive(g *replay.Replay, end float64, do func(weight float64)) {
	for k := range g.Trajectory.Starts {
		if g.Trajectory.Starts[k] >= end {
			break
		}
		for i, x := range replay.GaussX {
			g.At(k, x, g.ODE.Y0)
			do(replay.GaussW[i] * g.Trajectory.Steps[k])
		}
	}
}

// Identity 2. A perfect grip runs on the tractrix: in the table to 1e-9 m (1e-7 cm),
// the accuracy of the trajectory behind it. Equations 2.1, 2.2 and 2.3.
func TestIdentity2PerfectGripRunsOnTheTractrix(t *testing.T) {
	s := mustRow(t, problemtest.OpenCases(t).Cases[3].Input.Problem(t), Settings{})
	seat := &s.Problem.Seats[0]
	l, c, f := seat.Oar.Centre(), seat.Catch, seat.Finish
	tractrix := func(theta float64) float64 { return l * (math.Asinh(math.Tan(theta)) - math.Sin(theta)) }
	for _, path := range []func(int, int) (interface{ column(string) []float64 }, error){
		func(seat, n int) (interface{ column(string) []float64 }, error) {
			return columns(s.BladePath(seat, Moments{Points: n}))
		},
		func(seat, n int) (interface{ column(string) []float64 }, error) {
			return columns(s.PerfectPath(seat, Moments{Points: n}))
		},
	} {
		tab, err := path(0, 25)
		if err != nil {
			t.Fatal(err)
		}
		x, y, angle := tab.column("centre_x"), tab.column("centre_y"), tab.column("angle")
		for i := range x {
			theta := num.Radians(angle[i])
			if e := math.Abs(x[i]/100 - x[0]/100 - (tractrix(theta) - tractrix(-c))); e > 1e-9 {
				t.Errorf("at %.1f deg the centre is %.1e m off the tractrix", angle[i], e)
			}
			if e := math.Abs(y[i]/100 - l*math.Cos(theta)); e > 1e-9 {
				t.Errorf("at %.1f deg the centre is %.1e m off its line", angle[i], e)
			}
		}
	}
	Near(t, "travel per drive", s.Seats[0].Travel, l*(math.Asinh(math.Tan(c))+math.Asinh(math.Tan(f))), 1e-8)
	if s.Energy.BladeLoss != 0 || s.Seats[0].Slip != 0 {
		t.Errorf("a perfect grip loses %g J and slips %g m", s.Energy.BladeLoss, s.Seats[0].Slip)
	}
}

// Identity 3. Stiffer and stiffer water converges to the perfect grip: one stroke from
// the perfect grip's own speed and effort, whose miss falls with the slip, as one over
// the root of the factor, down to a floor: its oars start from rest, the perfect grip's
// at ω_0, so the water jerks them up to it and the boat pays with the impulse
// 2 I ω_0 cos θ_c/L of its M V. The oars are light to keep that small. (Water a thousand
// times as stiff takes millions of right-hand sides a stroke: steady strokes of it would
// test nothing more.)
func TestIdentity3StiffWaterConvergesToPerfectGrip(t *testing.T) {
	p := problemtest.With(problemtest.Single(t), func(s *Seat) {
		s.Oar.SwingWeight = 0.4
		b := &s.Oar.Blade
		b.Strips, b.AddedMass, b.Bury, b.Release = 1, 0, 0, 0
	})
	perfect := mustRow(t, problemtest.With(p, func(s *Seat) { s.Oar.Blade.Law = blade.Perfect }), Settings{})
	before := math.Inf(1)
	for _, factor := range []float64{10, 100, 1000} {
		stiff := problemtest.With(p, func(s *Seat) { s.Oar.Blade.Grip = factor })
		g := new(general.Route)
		if err := g.SetUp(&stiff); err != nil {
			t.Fatal(err)
		}
		g.Moments[0].Effort = perfect.Seats[0].Effort
		if err := g.Run(perfect.StartSpeed, general.Mode{Rtol: 1e-5}); err != nil {
			t.Fatal(err)
		}
		miss := math.Abs(g.ODE.Y[general.StateX]/g.Period/perfect.Speed - 1)
		t.Logf("coefficients × %-5g miss the perfect grip's speed by %.1e, %d right-hand sides", factor, miss, g.ODE.Evals)
		if miss > 0.4*before {
			t.Errorf("× %g misses by %.1e after %.1e", factor, miss, before)
		}
		before = miss
	}
	o, c := &p.Seats[0].Oar, math.Cos(p.Seats[0].Catch)
	l := o.Centre()
	floor := 2 * o.SwingWeight * c / l * c / l / p.TotalMass()
	t.Logf("floor %.1e", floor)
	if before > 1.2*floor {
		t.Errorf("× 1000 still misses the perfect grip by %.1e, its floor is %.1e", before, floor)
	}
}

// Identity 4. Strips agree to 1e-6; so does a stroke at half the tolerance.
func TestIdentity4StripsAndTolerance(t *testing.T) {
	p := problemtest.Single(t)
	five := mustRow(t, p, Settings{})
	for _, strips := range []int{9, 17} {
		s := mustRow(t, problemtest.With(p, func(s *Seat) { s.Oar.Blade.Strips = strips }), Settings{})
		Near(t, "speed with more strips", s.Speed, five.Speed, 1e-6)
	}
	Near(t, "speed at half the tolerance", mustRow(t, p, Settings{Rtol: 5e-9}).Speed, five.Speed, 1e-6)
	Near(t, "speed at tolerance 1e-12", mustRow(t, p, Settings{Rtol: 1e-12}).Speed, five.Speed, 1e-7)
}

// Identity 5. A stiff shaft converges to the rigid oar, as its bend does (one over k);
// a rower without end of speed to the prescribed force, as one over v_0.
func TestIdentity5LimitsOfShaftAndRower(t *testing.T) {
	p := problemtest.Single(t)
	rigid := mustRow(t, p, Settings{})
	soft := math.Abs(mustRow(t, problemtest.With(p, func(s *Seat) { s.Oar = s.Oar.WithStiffness(0.040) }), Settings{}).Speed/rigid.Speed - 1)
	stiff := math.Abs(mustRow(t, problemtest.With(p, func(s *Seat) { s.Oar = s.Oar.WithStiffness(0.0004) }), Settings{}).Speed/rigid.Speed - 1)
	if stiff > 0.02*soft || stiff > 1e-5 {
		t.Errorf("a shaft a hundred times stiffer misses the rigid oar by %.1e, the soft one by %.1e", stiff, soft)
	}
	p.Hold, p.Target = Effort, 700
	prescribed := mustRow(t, problemtest.With(p, func(s *Seat) { s.Rower.FreeSpeed = math.Inf(1) }), Settings{})
	before := 0.0
	for i, v := range []float64{1e4, 1e5, 1e6} {
		miss := math.Abs(mustRow(t, problemtest.With(p, func(s *Seat) { s.Rower.FreeSpeed = v }), Settings{}).Speed/prescribed.Speed - 1)
		if i > 0 && math.Abs(miss/before-0.1) > 0.03 || i == 2 && miss > 1e-5 {
			t.Errorf("v_0 = %g misses the prescribed force by %.1e", v, miss)
		}
		before = miss
	}
}

// Identity 6, first half. Seats alike, each for itself, are one seat counted to 1e-9:
// the same sums in another order.
func TestIdentity6EightSeatsOrOneCountedEightTimes(t *testing.T) {
	p := eight(t)
	one := mustRow(t, p, Settings{})
	p.Seats = []Seat{p.Seats[0], p.Seats[0], p.Seats[0], p.Seats[0], p.Seats[0], p.Seats[0], p.Seats[0], p.Seats[0]}
	for i := range p.Seats {
		p.Seats[i].Count = 1
	}
	each := mustRow(t, p, Settings{SeatBySeat: true})
	for i := range Fields {
		f := &Fields[i]
		Near(t, f.Name, f.Of(each), f.Of(one), 1e-9)
	}
	merged := mustRow(t, p, Settings{})
	if merged.Speed != one.Speed || len(merged.Seats) != 8 {
		t.Errorf("merging by itself gives speed %v for %v and %d seats", merged.Speed, one.Speed, len(merged.Seats))
	}
}

// eight is an ordinary men's eight.
func eight(t testing.TB) Problem {
	h, err := hull.New("8+")
	if err != nil {
		t.Fatal(err)
	}
	b, err := blade.New("sweep hatchet")
	if err != nil {
		t.Fatal(err)
	}
	p := problemtest.Single(t)
	p.Hull, p.OarsPerRower, p.CoxMass, p.Rate, p.Target = h, 1, 55, 36, 430
	p.Seats = []Seat{{Count: 8, Rower: crew.New(90, 430), Oar: oar.New(3.76, 1.145, b), Catch: num.Radians(55), Finish: num.Radians(34)}}
	return p
}

// Identity 7. The parts: a bigger grip or area needs a shorter outboard for the same
// drive time; the plate's force is normal to it; water gives no energy to a blade that
// goes in.
func TestIdentity7GripIsRowedShorter(t *testing.T) {
	p := problemtest.Single(t)
	p.Hold, p.Target = Speed, 4.5
	base := mustRow(t, p, Settings{})
	for name, change := range map[string]func(b *blade.Blade){
		"grip": func(b *blade.Blade) { b.Grip = 1.1 },
		"area": func(b *blade.Blade) { b.Area *= 1.1 },
	} {
		at := func(cut float64) float64 {
			return mustRow(t, problemtest.With(p, func(s *Seat) { change(&s.Oar.Blade); s.Oar.Length -= cut }), Settings{}).Seats[0].DriveTime
		}
		if long, short := at(0), at(0.06); !(long > base.Seats[0].DriveTime && short < base.Seats[0].DriveTime) {
			t.Errorf("more %s: drive %.4f s as long, %.4f s 6 cm shorter, %.4f s before: it is not rowed shorter", name, long, short, base.Seats[0].DriveTime)
		}
	}
}

func TestIdentity7WaterGivesNoEnergyToABladeGoingIn(t *testing.T) {
	for _, bury := range []float64{3, 6, 15} {
		p := problemtest.With(problemtest.Single(t), func(s *Seat) { s.Oar.Blade.Bury = num.Radians(bury); s.Oar.Blade.AddedMass = 1.5 })
		g, err := mustRow(t, p, Settings{}).Follow()
		if err != nil {
			t.Fatal(err)
		}
		end, _ := g.When(0, -g.Seats[0].Catch+num.Radians(bury))
		work := 0.0
		overDrive(g, end, func(weight float64) { work += weight * g.Moments[0].Power[general.AddedWork] })
		if work < 0 {
			t.Errorf("going in over %g deg the water gives the blade %.3g J", bury, -work)
		}
	}
}

// A blade that goes in or comes out within a hair's breadth still rows: from a thousandth
// of a degree down to nothing that can be seen the speed stays, to 1e-5, where it is.
// An arc of exactly 0 is another blade, which takes on no water as it goes in.
func TestArcsOfAHairsBreadth(t *testing.T) {
	base := 0.0
	for _, deg := range []float64{1e-3, 1e-5, 1e-7, 1e-9, 1e-12} {
		s := mustRow(t, problemtest.With(problemtest.Single(t), func(s *Seat) { s.Oar.Blade.Bury, s.Oar.Blade.Release = num.Radians(deg), num.Radians(deg) }), Settings{})
		if base == 0 {
			base = s.Speed
		}
		Near(t, "speed", s.Speed, base, 1e-5)
		if e := math.Abs(s.Energy.Closure()); e > 1e-6 {
			t.Errorf("%g deg: the book misses %.1e", deg, e)
		}
	}
	none := mustRow(t, problemtest.With(problemtest.Single(t), func(s *Seat) { s.Oar.Blade.Bury, s.Oar.Blade.Release = 0, 0 }), Settings{})
	if none.Speed < base*(1+5e-4) {
		t.Errorf("a blade in the water from the start rows %.5f m/s, one that takes it on at once %.5f", none.Speed, base)
	}
}
