package stroke

import (
	"math"
	"testing"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/defaults"
	"thole/engine/num"
	"thole/engine/stroke/problem/problemtest"
)

// Numbers that the model itself gives (derived): what a style, the
// added mass, an uncertain drag, a perfect grip are worth. They hold the model as a whole, under the
// plain law of waves and air and the class factors for which they were computed.

// derived is a boat of the best times' rigs as those numbers were computed.
func derived(t testing.TB, boat string, mass, power float64) Problem {
	p := raced(t, boat, mass, power)
	p.Hull = p.Hull.Plain()
	p.Hull.ClassFactor = map[string]float64{"1x": 1, "2-": 1.11, "4-": 1.20, "8+": 1.25}[boat]
	return p
}

// A style is worth under 0.6 % of speed at a held power, its sign depends on the rest:
// early −0.57 to −0.25, even +0.04 to +0.27, late −0.11 to +0.20 % over the boats and body
// motions it was computed for. With the defaults the boats here lie in those ranges or,
// for the eight, beside their ends by up to 0.03.
func TestStylesAreWorthLittle(t *testing.T) {
	for name, c := range map[string]struct{ low, high float64 }{"early": {-0.57, -0.25}, "even": {0.04, 0.27}, "late": {-0.11, 0.20}} {
		style, err := crew.Named(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, boat := range []string{"1x", "2-", "8+"} {
			p := derived(t, boat, 90, 450)
			usual := mustRow(t, p, Settings{}).Speed
			change := 100 * (mustRow(t, problemtest.With(p, func(s *Seat) { s.Rower.Style = style }), Settings{}).Speed/usual - 1)
			if change < c.low-0.03 || change > c.high+0.03 {
				t.Errorf("%s in the %s: %+.3f %%, %+.2f to %+.2f expected", name, boat, change, c.low, c.high)
			}
		}
	}
}

// The added mass between 0 and 1 moves speed by −0.16 to +0.28 % (derived).
func TestAddedMassMovesSpeedLittle(t *testing.T) {
	low, high := 0.0, 0.0
	for _, boat := range []string{"1x", "2-", "8+"} {
		p := derived(t, boat, 90, 450)
		speed := func(share float64) float64 {
			return mustRow(t, problemtest.With(p, func(s *Seat) { s.Oar.Blade.AddedMass = share }), Settings{}).Speed
		}
		low = math.Min(low, 100*(speed(0)/speed(0.5)-1))
		high = math.Max(high, 100*(speed(1)/speed(0.5)-1))
	}
	if math.Abs(low+0.16) > 0.005 || math.Abs(high-0.28) > 0.005 {
		t.Errorf("added mass 0 to 1 moves speed by %+.3f to %+.3f %%, −0.16 to +0.28 expected", low, high)
	}
}

// A ripple of coefficient of variation c costs 3c² of power (derived) where
// drag goes as V², so that its power V³ has the mean V̄³(1 + 3c²). Drag by the ITTC line
// goes as a lower power: n(n−1)/2 c² with n = 1 + d ln D/d ln V; the third moment of the
// ripple leaves the rest.
func TestRippleCostsThreeCSquared(t *testing.T) {
	p := derived(t, "1x", 90, 400)
	p.Rate = 32
	s := mustRow(t, p, Settings{})
	g, err := s.Follow()
	if err != nil {
		t.Fatal(err)
	}
	square := 0.0
	overDrive(g, math.Inf(1), func(weight float64) { square += weight * (g.V - s.Speed) * (g.V - s.Speed) })
	c2 := square / g.Period / s.Speed / s.Speed
	const h = 1e-4
	n := 1 + math.Log(g.Drag.Total(s.Speed*(1+h))/g.Drag.Total(s.Speed*(1-h)))/(2*h)
	if n < 2.8 || n > 3 {
		t.Errorf("drag power goes as V^%.3f", n)
	}
	Near(t, "power lost over n(n−1)/2 c²", (1/s.HullEfficiency()-1)/(n*(n-1)/2*c2), 1, 0.02)
}

// The perfect-grip oar of the same load (drive time at the same speed) against an ordinary
// one (computed): 21 to 31 cm shorter, mean handle force 19 to 23 %
// lower at that speed, 8 to 9 % more speed at the same effort, 7 to 9 % at the same power;
// it turns more slowly from 8° after the catch until 13 to 16° past the perpendicular and
// faster after. Boats of the equal-load table; one unit of the last digit is left to rounding.
func TestPerfectGripOfTheSameLoad(t *testing.T) {
	for _, c := range []struct {
		boat        string
		speed, rate float64
	}{{"1x", 4.8, 34}, {"2-", 5.1, 36}, {"8+", 5.9, 38}} {
		p := derived(t, c.boat, 90, 450)
		p.Rate, p.Hold, p.Target = c.rate, Speed, c.speed
		ordinary := mustRow(t, p, Settings{})
		grip := func(cut float64) Problem {
			return problemtest.With(p, func(s *Seat) { s.Oar.Blade.Law = blade.Perfect; s.Oar.Length -= cut })
		}
		cut, err := num.Root(func(cut float64) float64 {
			return mustRow(t, grip(cut), Settings{}).Seats[0].DriveTime - ordinary.Seats[0].DriveTime
		}, 0.05, 0.6, 1e-6)
		if err != nil {
			t.Fatal(err)
		}
		perfect := mustRow(t, grip(cut), Settings{})
		within(t, c.boat+" shorter by, cm", 100*cut, 21, 31, 0.5)
		within(t, c.boat+" mean force lower by, %", 100*(1-perfect.MeanForce(0)/ordinary.MeanForce(0)), 19, 23, 0.5)
		q := grip(cut)
		q.Hold, q.Target = Effort, ordinary.Seats[0].Effort
		within(t, c.boat+" speed at the same effort, %", 100*(mustRow(t, q, Settings{}).Speed/c.speed-1), 8, 9, 0.5)
		power, _ := FieldNamed("power")
		q.Hold, q.Target = Power, power.Of(ordinary)
		within(t, c.boat+" speed at the same power, %", 100*(mustRow(t, q, Settings{}).Speed/c.speed-1), 7, 9, 0.5)
		// where the two turn at the same rate
		slower := func(angle float64) float64 { return turning(t, perfect, angle) - turning(t, ordinary, angle) }
		cross, err := num.Root(slower, 0, 25, 1e-3)
		if err != nil {
			t.Fatal(err)
		}
		within(t, c.boat+" crossing, deg", cross, 13, 16, 0.5)
		catch := -num.Degrees(p.Seats[0].Catch)
		if slower(catch+8.5) >= 0 || slower(catch+2) <= 0 || slower(0) >= 0 || slower(25) <= 0 {
			t.Errorf("%s: the perfect grip does not turn more slowly from 8° after the catch and faster after the crossing", c.boat)
		}
	}
}

// turning is the handle's speed over its lever at an angle [deg], rad/s.
func turning(t *testing.T, s *Stroke, angle float64) float64 {
	tab, err := s.Trace([]float64{angle})
	if err != nil {
		t.Fatal(err)
	}
	return tab.Column("handle_speed").Nums[0] / s.Problem.Seats[0].Oar.Lever()
}

func within(t *testing.T, what string, x, low, high, slack float64) {
	t.Helper()
	if x < low-slack || x > high+slack {
		t.Errorf("%s: %.3f, %g to %g expected", what, x, low, high)
	}
}

// Where the pull starts (own): f_0 was set so that 30 % of the peak force is reached
// 2.8 to 3.5° and 60 to 90 ms after the turn, at low and at high rates. That coaches
// see 3 to 4° is common practice, no source.
func TestStartOfThePull(t *testing.T) {
	for _, rate := range []float64{24, 36} {
		s := atRate(t, "1x", rate)
		g, err := s.Follow()
		if err != nil {
			t.Fatal(err)
		}
		start := -g.Seats[0].Catch
		far, err := num.Root(func(a float64) float64 {
			at, _ := g.When(0, start+a)
			k, u := g.Seconds(0, at)
			g.At(k, u, g.ODE.Y0)
			return g.Moments[0].Pull - 0.3*s.Seats[0].PeakForce
		}, 0, num.Radians(20), 1e-10)
		if err != nil {
			t.Fatal(err)
		}
		at, _ := g.When(0, start+far)
		if d := num.Degrees(far); d < 2.8 || d > 3.5 || at < 0.060 || at > 0.090 {
			t.Errorf("at %g/min 30 %% of the peak comes %.2f° and %.0f ms after the turn", rate, d, 1000*at)
		}
	}
}

// The class factors follow their rule: with rowers of 90 kg at 470 W at the handle, rates and rigs as in rigs,
// each boat's time over the single's is that of the men's best times on record. Two decimals, and so all
// ratios within 0.13 % (own); 2+ and 4+ are taken from 2- and 4-. The fit is made anew here, so a change of the
// model that leaves the factors as they were fails. The times themselves lie over the list in still air;
// what of that is weather nobody knows, so nothing is checked by it.
func TestClassFactorsFollowTheirRule(t *testing.T) {
	time := func(boat string, factor float64) float64 {
		p := raced(t, boat, 90, 470)
		p.Hold, p.Target = HandlePower, 470
		if factor > 0 {
			p.Hull.ClassFactor = factor
		}
		return mustRow(t, p, Settings{}).Over(2000)
	}
	single := time("1x", 0) / rigs["1x"].record
	t.Logf("1x: %.2f %% over its best time", 100*(single-1))
	for boat, r := range rigs {
		factor, err := num.Root(func(k float64) float64 { return time(boat, k)/r.record - single }, 0.8, 1.6, 1e-6)
		if err != nil {
			t.Fatal(err)
		}
		set := defaults.Must("hull", "class_factor", boat)
		t.Logf("%s: fitted %.4f, set %.2f; the ratio to the single is off by %+.3f %%", boat, factor, set, 100*(time(boat, 0)/r.record/single-1))
		if math.Abs(set-factor) > 0.00501 {
			t.Errorf("%s: the class factor is %.3f, its rule gives %.4f", boat, set, factor)
		}
	}
	for coxed, as := range map[string]string{"2+": "2-", "4+": "4-"} {
		if defaults.Must("hull", "class_factor", coxed) != defaults.Must("hull", "class_factor", as) {
			t.Errorf("the class factor of the %s is not that of the %s", coxed, as)
		}
	}
}

// The shaft's stiffness and the boat's speed (own): soft against stiff moves speed by
// less than a tenth of a per cent; two middle rowers on one side turn no four, sides in
// turn do.
func TestShaftAndSeatOrderSizes(t *testing.T) {
	for _, boat := range []string{"1x", "8+"} {
		bent := func(mm float64) float64 {
			return mustRow(t, problemtest.With(derived(t, boat, 90, 450), func(s *Seat) { s.Oar = s.Oar.WithStiffness(mm / 1000) }), Settings{}).Speed
		}
		if d := 100 * (bent(55)/bent(30) - 1); math.Abs(d) > 0.1 {
			t.Errorf("%s: a soft shaft moves speed by %.3f %%", boat, d)
		}
	}
	p := derived(t, "4-", 90, 450)
	p.Rate = 36
	m, err := mustRow(t, p, Settings{}).YawMoment("psps", Places{})
	if err != nil || math.Abs(m-904) > 1 {
		t.Errorf("sides in turn: %.1f N·m, %v; 904 when it was first computed", m, err)
	}
}
