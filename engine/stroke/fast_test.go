package stroke

import (
	"math"
	"math/rand"
	"testing"

	"thole/engine/blade"
	"thole/engine/crew"
)

// rolls is dice without shrinking, for tests that want many draws.
type rolls struct{ *rand.Rand }

func (r rolls) between(_ string, low, high float64) float64 { return low + (high-low)*r.Float64() }
func (r rolls) pick(_ string, n int) int                    { return r.Intn(n) }

func newRolls(seed int64) rolls { return rolls{rand.New(rand.NewSource(seed))} }

// fastTolerances is how far the fast route may lie from the general one at rtol
// 1e-10. The mean speed is what the fast route's grids are measured by: 1e-7, so
// that the two agree to 2e-7 at the general route's own default. The others follow
// the boat's or the oar's motion inside the stroke, where the fast route's wide steps
// miss by more than over the whole of it: 3e-6, a third of what a case is held to.
var fastTolerances = []struct {
	name      string
	tolerance float64
	of        func(*Stroke) float64
}{
	{"speed", 1e-7, func(s *Stroke) float64 { return s.Speed }},
	{"start speed", 3e-6, func(s *Stroke) float64 { return s.StartSpeed }},
	{"lowest speed", 3e-6, func(s *Stroke) float64 { return s.MinSpeed }},
	{"highest speed", 3e-6, func(s *Stroke) float64 { return s.MaxSpeed }},
	{"effort", 3e-6, func(s *Stroke) float64 { return s.Seats[0].Effort }},
	{"drive time", 3e-6, func(s *Stroke) float64 { return s.Seats[0].DriveTime }},
	{"handle work", 3e-6, func(s *Stroke) float64 { return s.Seats[0].HandleWork }},
	{"body work", 3e-6, func(s *Stroke) float64 { return s.Seats[0].BodyWork }},
	{"peak force", 3e-6, func(s *Stroke) float64 { return s.Seats[0].PeakForce }},
	{"early work", 3e-6, func(s *Stroke) float64 { return s.Seats[0].EarlyWork }},
	{"pin force", 3e-6, func(s *Stroke) float64 { return s.Seats[0].PeakPinForce }},
	{"slip", 3e-6, func(s *Stroke) float64 { return s.Seats[0].Slip }},
	{"travel", 3e-6, func(s *Stroke) float64 { return s.Seats[0].Travel }},
	// the energy book as shares of the work put in: air drag may be next to nothing
	{"blade loss", 1e-6, func(s *Stroke) float64 { return 1 + s.Energy.BladeLoss/s.Energy.Work() }},
	{"water drag", 1e-6, func(s *Stroke) float64 { return 1 + s.Energy.WaterDrag/s.Energy.Work() }},
	{"air drag", 1e-6, func(s *Stroke) float64 { return 1 + s.Energy.AirDrag/s.Energy.Work() }},
	{"oar swing", 1e-6, func(s *Stroke) float64 { return 1 + s.Energy.OarSwing/s.Energy.Work() }},
	{"closure", 1e-6, func(s *Stroke) float64 { return 1 + s.Energy.Closure() }},
}

// agree holds a fast stroke against the general one.
func agree(t *testing.T, p Problem, fast, general *Stroke, worst []float64) {
	t.Helper()
	for i, f := range fastTolerances {
		a, b := f.of(fast), f.of(general)
		// slip and loss of a blade that does not slip are 0
		miss := math.Abs(a-b) / math.Max(math.Abs(b), 1e-3)
		worst[i] = max(worst[i], miss)
		if !(miss <= f.tolerance) {
			t.Errorf("%s: %.10g fast, %.10g general (%.1e)\n%+v", f.name, a, b, miss, p)
		}
	}
}

// TestFastAccuracy draws problems over all boats, blades, crews and holds, and holds
// every number of the fast route against the general one.
func TestFastAccuracy(t *testing.T) {
	r := newRolls(7)
	worst := make([]float64, len(fastTolerances))
	solved, handed := 0, 0
	for i := range 400 {
		p := drawProblem(r, width(i%2))
		if m, _ := p.merged(); !fastApplies(&m) {
			continue
		}
		general, err := Row(p, Settings{Route: General, Rtol: 1e-10})
		if err != nil {
			if _, err := Row(p, Settings{Route: Fast}); err == nil {
				t.Errorf("fast answers what the general route refuses: %v", err)
			}
			continue
		}
		fast, err := Row(p, Settings{Route: Fast})
		if err != nil {
			handed++
			continue
		}
		solved++
		agree(t, p, fast, general, worst)
	}
	for i, f := range fastTolerances {
		t.Logf("%s %.1e", f.name, worst[i])
	}
	t.Logf("%d fast, %d handed over", solved, handed)
	if handed > solved/20 {
		t.Errorf("%d of %d handed over", handed, solved+handed)
	}
}

// TestAnchoredAccuracy does the same near anchors: draws moved onto the lattice and
// then off it again in one input or two, each of the rounded inputs in turn.
func TestAnchoredAccuracy(t *testing.T) {
	r := newRolls(8)
	worst := make([]float64, len(fastTolerances))
	anchored, cold := 0, 0
	for i := range 240 {
		p := drawProblem(r, width(i%2))
		m, _ := p.merged()
		if !fastApplies(&m) {
			continue
		}
		var f fastRoute
		f.round(&m)
		q := f.near
		q.Seats = []Seat{f.nearSeat[0]}
		q.Seats[0].Rower.Power = m.Seats[0].Rower.Power
		for range 1 + i%2 {
			at := inputs(&q, &q.Seats[0])[r.Intn(rounded)]
			*at *= 1 + 0.01*r.Float64()
		}
		general, err := Row(q, Settings{Route: General, Rtol: 1e-10})
		if err != nil {
			continue
		}
		fast, err := Row(q, Settings{Route: Fast})
		if err != nil {
			continue
		}
		if _, near := f.anchored(&q); near {
			anchored++
		} else {
			cold++
		}
		agree(t, q, fast, general, worst)
	}
	for i, f := range fastTolerances {
		t.Logf("%s %.1e", f.name, worst[i])
	}
	t.Logf("%d from anchors, %d from nothing", anchored, cold)
	if anchored < 50 {
		t.Errorf("only %d from anchors", anchored)
	}
}

// TestFastCases holds the open cases the fast route takes, to 1e-6 of every number
// (the tolerances' reasons stand at TestOpenCases and fastTolerances).
func TestFastCases(t *testing.T) {
	for _, c := range openCases(t).Cases {
		p := c.Input.problem(t)
		if m, _ := p.merged(); !fastApplies(&m) {
			continue
		}
		s, err := Row(p, Settings{Route: Fast})
		if err != nil {
			t.Fatal(c.Input.Name, err)
		}
		worst := 0.0
		for i := range Fields {
			f := &Fields[i]
			if want, ok := c.Expected[f.Name].(float64); ok {
				miss := math.Abs(f.Of(s)-want) / math.Max(math.Abs(want), 1e-3)
				worst = max(worst, miss)
				if !(miss <= 1e-6) {
					t.Errorf("%s %s: %.9g, expected %.9g (%.1e)", c.Input.Name, f.Name, f.Of(s), want, miss)
				}
			}
		}
		t.Logf("%s: worst %.1e, closure %.1e, %d right-hand sides", c.Input.Name, worst, s.Energy.Closure(), s.Evaluations)
	}
}

// openCase gives the open case of this name.
func openCase(t testing.TB, name string) Problem {
	for _, c := range openCases(t).Cases {
		if c.Input.Name == name {
			return c.Input.problem(t)
		}
	}
	t.Fatal("no case ", name)
	return Problem{}
}

// TestFastHardCases: what strains a grid laid out before. Each gives the general
// route's answer, or is handed over; the log says which.
func TestFastHardCases(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Seat)
	}{
		{"added_mass 0.02", func(s *Seat) { s.Oar.Blade.AddedMass = 0.02 }},
		{"added_mass 0", func(s *Seat) { s.Oar.Blade.AddedMass = 0 }},
		{"drag 4", func(s *Seat) { s.Oar.Blade.Drag = 4 }},
		{"drag 4, added_mass 0.02", func(s *Seat) { s.Oar.Blade.Drag, s.Oar.Blade.AddedMass = 4, 0.02 }},
		{"bury 0", func(s *Seat) { s.Oar.Blade.Bury = 0 }},
		{"bury and release 0", func(s *Seat) { s.Oar.Blade.Bury, s.Oar.Blade.Release = 0, 0 }},
		{"bury and release over all the arc", func(s *Seat) { s.Oar.Blade.Bury, s.Oar.Blade.Release = rad(40), rad(40) }},
		{"measured style with a kink", func(s *Seat) {
			s.Rower.Style = crew.Measured([]crew.Point{{Along: 0, Force: 0.1}, {Along: 0.3, Force: 1}, {Along: 0.31, Force: 0.5}, {Along: 1, Force: 0.1}})
		}},
		{"light oar", func(s *Seat) { s.Oar.SwingWeight = 0.1 }},
		{"light oar, no added mass", func(s *Seat) { s.Oar.SwingWeight, s.Oar.Blade.AddedMass = 0.1, 0 }},
		{"early 0.5", func(s *Seat) { s.Oar.Blade.Early = 0.5 }},
		{"hands that reach v_0", func(s *Seat) { s.Rower.FreeSpeed = 2 }},
		{"33 strips, crossflow", func(s *Seat) { s.Oar.Blade.Law, s.Oar.Blade.Strips = blade.Crossflow, 33 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := openCase(t, "1x_rigid_plate_power")
			c.change(&p.Seats[0])
			general, gerr := Row(p, Settings{Route: General, Rtol: 1e-10})
			fast, err := Row(p, Settings{Route: Fast})
			if err != nil {
				t.Log("handed over")
				auto, aerr := Row(p, Settings{})
				if (aerr == nil) != (gerr == nil) || aerr == nil && auto.Route != General {
					t.Errorf("handed over to nobody: %v, %v", aerr, gerr)
				}
				return
			}
			if gerr != nil {
				t.Fatalf("fast answers what the general route refuses: %v", gerr)
			}
			worst := make([]float64, len(fastTolerances))
			agree(t, p, fast, general, worst)
			t.Logf("speed %.1e, worst %.1e, %d right-hand sides (general %d)", worst[0], maxOf(worst), fast.Evaluations, general.Evaluations)
		})
	}
}

func maxOf(x []float64) float64 {
	m := 0.0
	for _, v := range x {
		m = max(m, v)
	}
	return m
}
