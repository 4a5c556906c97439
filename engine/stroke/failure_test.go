package stroke

import (
	"errors"
	"math"
	"strings"
	"testing"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/num"
	"thole/engine/stroke/general"
	"thole/engine/stroke/problem/problemtest"
)

// fails rows a problem that has no stroke and gives its failure.
func fails(t *testing.T, p Problem, route Route) *Failure {
	t.Helper()
	s, err := Row(p, Settings{Route: route})
	var f *Failure
	if !errors.As(err, &f) {
		t.Fatalf("it rows at %v: %v", s.Speed, err)
	}
	return f
}

// Every failure says its cause in a coach's words, by the general route and by whatever
// Row takes by itself.
func TestFailuresSayTheirCause(t *testing.T) {
	noStart := crew.Measured([]crew.Point{{Along: 0, Force: 0}, {Along: 0.4, Force: 1}, {Along: 1, Force: 0.1}})
	for _, c := range []struct {
		name   string
		change func(p *Problem)
		cause  Cause
		words  []string // of What and Why together
	}{
		{"too little power", func(p *Problem) { p.Rate, p.Target = 38, 180 }, DriveTooLong, []string{"the drive would take 1.36 s of a 1.58 s stroke", "86 %", "a fifth, 0.32 s"}},
		{"far too little power", func(p *Problem) { p.Rate, p.Target = 38, 60 }, DriveTooLong, []string{"the drive would take more than", "60 W are too little power for rate 38 and this arc"}},
		{"too slow", func(p *Problem) { p.Hold, p.Target, p.Rate = Speed, 2, 38 }, DriveTooLong, []string{"2 m/s are too slow for rate 38"}},
		{"too weak a pull", func(p *Problem) { p.Hold, p.Target = Force, 60 }, DriveTooLong, []string{"60 N are too little"}},
		{"too fast", func(p *Problem) { p.Hold, p.Target = Speed, 12 }, OutOfReach, []string{"speed of 12.00 m/s is not reached", "it comes to"}},
		{"a storm", func(p *Problem) { p.Wind, p.Hold, p.Target, p.Rate = 20, Effort, 1200, 14 }, OutOfReach, []string{"come to a stop", "headwind of 20 m/s"}},
		{"nobody", func(p *Problem) { p.Seats = nil }, BadProblem, []string{"nobody in the boat"}},
		{"no target", func(p *Problem) { p.Hold, p.Target = Speed, math.NaN() }, BadProblem, []string{`hold="speed" has no target`}},
		{"a negative target", func(p *Problem) { p.Target = -5 }, BadProblem, []string{"target of -5"}},
		{"an inboard longer than the oar", func(p *Problem) { p.Seats[0].Oar.Inboard = 3 }, BadProblem, []string{"inboard of 300.0 cm is longer than the oar, 288.0 cm"}},
		{"a perfect grip that bends", func(p *Problem) {
			p.Seats[0].Oar = p.Seats[0].Oar.WithStiffness(0.04)
			p.Seats[0].Oar.Blade.Law = blade.Perfect
		}, BadProblem, []string{"perfect grip on a flexible shaft"}},
		{"early in another law", func(p *Problem) { p.Seats[0].Oar.Blade.Law, p.Seats[0].Oar.Blade.Early = blade.Crossflow, 0.2 }, BadProblem, []string{`early on a blade of law "crossflow"`}},
		{"early on a perfect grip", func(p *Problem) { p.Seats[0].Oar.Blade.Law, p.Seats[0].Oar.Blade.Early = blade.Perfect, 0.2 }, BadProblem, []string{`early on a blade of law "perfect"`}},
		{"a style without force", func(p *Problem) {
			p.Seats[0].Rower.Style = crew.Measured([]crew.Point{{Along: 0, Force: 0}, {Along: 1, Force: 0}})
		}, BadProblem, []string{"needs a force above 0"}},
		{"a style without start", func(p *Problem) { p.Seats[0].Rower.Style = noStart }, DriveStops, []string{"the drive never starts", "no force at the catch"}},
		{"34 strips", func(p *Problem) { p.Seats[0].Oar.Blade.Strips = 34 }, BadProblem, []string{"1 to 33 strips"}},
		{"a table of one row", func(p *Problem) {
			p.Seats[0].Oar.Blade.Law = blade.Table
			p.Seats[0].Oar.Blade.Coefficients = []blade.Coefficient{{Angle: 0, Lift: 1, Drag: 1}}
		}, BadProblem, []string{"the blade's table does not rise"}},
		{"no arc", func(p *Problem) { p.Seats[0].Catch, p.Seats[0].Finish = math.NaN(), 0.5 }, BadProblem, []string{"an arc"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, route := range []Route{General, Auto} {
				p := problemtest.With(problemtest.Single(t), func(*Seat) {})
				c.change(&p)
				f := fails(t, p, route)
				if f.Cause != c.cause {
					t.Errorf("cause %d, expected %d: %s; %s", f.Cause, c.cause, f.What, f.Why)
				}
				for _, words := range c.words {
					if !strings.Contains(f.What+"; "+f.Why, words) {
						t.Errorf("%q is not in %q, %q", words, f.What, f.Why)
					}
				}
				if f.What == "" || f.Why == "" {
					t.Errorf("What %q, Why %q", f.What, f.Why)
				}
			}
		})
	}
}

// What the advice says to type is a stroke, and the step before it is not.
func TestAdviceIsTheNearestThatRows(t *testing.T) {
	p := problemtest.Single(t)
	p.Rate, p.Target = 38, 180
	f := fails(t, p, General)
	if got := f.Advice(); got != "rate=36 (drive 78 %) or target=200 (80 %)" {
		t.Errorf("advice %q", got)
	}
	for _, c := range []struct {
		rate, target float64
		rows         bool
	}{{36, 180, true}, {37, 180, false}, {38, 200, true}, {38, 190, false}} {
		p.Rate, p.Target = c.rate, c.target
		if _, err := Row(p, Settings{}); (err == nil) != c.rows {
			t.Errorf("rate %g, target %g: %v", c.rate, c.target, err)
		}
	}
}

// Of unlike rowers the failure names the seat: one whose drive is too long, one too weak
// for the others' boat.
func TestFailureNamesTheSeat(t *testing.T) {
	p := unlike(t)
	p.Hold, p.Target = Power, math.NaN()
	p.Seats[1].Rower.Power = 60
	if f := fails(t, p, Auto); f.Cause != OutOfReach || f.What != "seat 2: 60 W cannot be rowed in this boat at rate 36" {
		t.Errorf("%v: %s", f.Cause, f.What)
	}
	p = unlike(t)
	p.Rate, p.Target = 44, 230
	p.Seats[2].Catch, p.Seats[3].Catch = num.Radians(66), num.Radians(66)
	if f := fails(t, p, Auto); f.Cause != DriveTooLong || !strings.HasPrefix(f.What, "seat 3: the drive would take ") {
		t.Errorf("%v: %s", f.Cause, f.What)
	}
}

// Cautions of model 7, each at its own number and not below it.
func TestCautions(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(p *Problem)
		words  string
	}{
		{"peak force", func(p *Problem) { p.Hold, p.Target = Force, 1400 }, "peaks at 1400 N"},
		{"effort", func(p *Problem) { p.Hold, p.Target = Effort, 2600 }, "effort of 2600 N"},
		{"free speed", func(p *Problem) { p.Hold, p.Target, p.Seats[0].Rower.FreeSpeed = Speed, 4.4, 2.1 }, "faster than the rower's free speed"},
		{"blade efficiency", func(p *Problem) { p.Seats[0].Oar.Blade.Area *= 0.3 }, "blade efficiency of 0.58"},
	} {
		p := problemtest.With(problemtest.Single(t), func(*Seat) {})
		c.change(&p)
		s := mustRow(t, p, Settings{})
		if !strings.Contains(strings.Join(s.Cautions, "; "), c.words) {
			t.Errorf("%s: cautions %q", c.name, s.Cautions)
		}
	}
	if s := mustRow(t, problemtest.Single(t), Settings{}); len(s.Cautions) > 0 {
		t.Errorf("an ordinary stroke carries %q", s.Cautions)
	}
	p := problemtest.OpenCases(t).Cases[3].Input.Problem(t)
	if s := mustRow(t, p, Settings{}); len(s.Cautions) > 0 {
		t.Errorf("a perfect grip carries %q", s.Cautions)
	}
}

// The general route is a function of the problem to the last bit: whatever its workspace
// solved before, problems that succeed and problems that fail.
func TestGeneralRouteIsPure(t *testing.T) {
	var problems []Problem
	for _, c := range problemtest.OpenCases(t).Cases {
		problems = append(problems, c.Input.Problem(t))
	}
	problems = append(problems, unlike(t), eight(t))
	fresh := make([]Solution, len(problems))
	for i := range problems {
		m, _ := problems[i].Merged()
		if f := new(general.Route).Row(&m, &Settings{}, &fresh[i]); f != nil {
			t.Fatal(f)
		}
	}
	g := new(general.Route)
	bad := problemtest.Single(t)
	bad.Rate, bad.Target = 38, 100
	for _, order := range [][]int{{0, 1, 2, 3, 4, 5, 6, 7}, {7, 6, 5, 4, 3, 2, 1, 0}, {3, 7, 0, 6, 1, 5, 2, 4}} {
		var sol Solution
		if g.Row(&bad, &Settings{}, &sol) == nil {
			t.Fatal("100 W at 38 rows")
		}
		for _, i := range order {
			m, _ := problems[i].Merged()
			if f := g.Row(&m, &Settings{}, &sol); f != nil {
				t.Fatal(f)
			}
			a, b := fresh[i], sol
			for k := range a.Seats {
				if a.Seats[k] != b.Seats[k] {
					t.Errorf("problem %d, seat %d: %+v, fresh %+v", i, k, b.Seats[k], a.Seats[k])
				}
			}
			a.Seats, b.Seats = nil, nil
			if a.Speed != b.Speed || a.StartSpeed != b.StartSpeed || a.Energy != b.Energy || a.MinSpeed != b.MinSpeed || a.Evaluations != b.Evaluations {
				t.Errorf("problem %d differs: %+v, fresh %+v", i, b, a)
			}
		}
	}
}
