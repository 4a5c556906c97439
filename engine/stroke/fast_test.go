package stroke

import (
	"math"
	"testing"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/num"
	"thole/engine/stroke/fast"
	"thole/engine/stroke/problem/problemtest"
)

// TestFastAccuracy draws problems over all boats, blades, crews and holds, and holds
// every number of the fast route against the general one.
func TestFastAccuracy(t *testing.T) {
	r := problemtest.NewRolls(7)
	worst := make([]float64, len(problemtest.Tolerances))
	solved, handed := 0, 0
	for i := range 400 {
		p := problemtest.DrawProblem(r, problemtest.Width(i%2))
		if m, _ := p.Merged(); !fast.Applies(&m) {
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
		problemtest.Agree(t, p, &fast.Solution, &general.Solution, worst)
	}
	for i, f := range problemtest.Tolerances {
		t.Logf("%s %.1e", f.Name, worst[i])
	}
	t.Logf("%d fast, %d handed over", solved, handed)
	if handed > solved/20 {
		t.Errorf("%d of %d handed over", handed, solved+handed)
	}
}

// TestBentAccuracy does the same on shafts that bend, where the fast route steps by another method.
func TestBentAccuracy(t *testing.T) {
	r, early := problemtest.NewRolls(9), problemtest.NewRolls(10)
	worst := make([]float64, len(problemtest.Tolerances))
	solved, handed := [2]int{}, [2]int{}
	for i := range 160 {
		width := problemtest.Width(i % 2)
		p := problemtest.DrawProblem(r, width)
		p.Seats = p.Seats[:1]
		p.Seats[0].Count = p.Hull.Seats()
		o := &p.Seats[0].Oar
		if i%4 < 2 {
			o.Blade.Early = early.Between("early", -0.3, 0.3)
		}
		*o = o.WithStiffness(r.Between("stiffness", 0.02, 0.07))
		if !fast.Applies(&p) {
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
			handed[width]++
			continue
		}
		solved[width]++
		problemtest.Agree(t, p, &fast.Solution, &general.Solution, worst)
	}
	for i, f := range problemtest.Tolerances {
		t.Logf("%s %.1e", f.Name, worst[i])
	}
	t.Logf("fast in the trade's ranges and over all that is plausible: %d; handed over: %d", solved, handed)
	if handed[problemtest.UsualRange] > solved[problemtest.UsualRange]/20 {
		t.Errorf("%d of %d handed over in the trade's ranges", handed[0], solved[0]+handed[0])
	}
}

// TestFastCases holds the open cases the fast route takes, to 1e-6 of every number
// (the tolerances' reasons stand at TestOpenCases and fastTolerances).
func TestFastCases(t *testing.T) {
	for _, c := range problemtest.OpenCases(t).Cases {
		p := c.Input.Problem(t)
		if m, _ := p.Merged(); !fast.Applies(&m) {
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
		t.Logf("%s: worst %.1e, closure %.1e, %d right-hand sides", c.Input.Name, worst, s.Energy.Closure(),
			s.Evaluations)
	}
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
		{"bury and release over all the arc", func(s *Seat) {
			s.Oar.Blade.Bury,
				s.Oar.Blade.Release = num.Radians(40), num.Radians(40)
		}},
		{"measured style with a kink", func(s *Seat) {
			s.Rower.Style = crew.Measured([]crew.Point{{Along: 0, Force: 0.1}, {Along: 0.3, Force: 1},
				{Along: 0.31, Force: 0.5}, {Along: 1, Force: 0.1}})
		}},
		{"light oar", func(s *Seat) { s.Oar.SwingWeight = 0.1 }},
		{"light oar, no added mass", func(s *Seat) { s.Oar.SwingWeight, s.Oar.Blade.AddedMass = 0.1, 0 }},
		{"early 0.5", func(s *Seat) { s.Oar.Blade.Early = 0.5 }},
		{"hands that reach v_0", func(s *Seat) { s.Rower.FreeSpeed = 2 }},
		{"33 strips, crossflow", func(s *Seat) { s.Oar.Blade.Law, s.Oar.Blade.Strips = blade.Crossflow, 33 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := problemtest.OpenCase(t, "1x_rigid_plate_power")
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
			worst := make([]float64, len(problemtest.Tolerances))
			problemtest.Agree(t, p, &fast.Solution, &general.Solution, worst)
			t.Logf("speed %.1e, worst %.1e, %d right-hand sides (general %d)", worst[0], maxOf(worst),
				fast.Evaluations, general.Evaluations)
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
