package stroke

import (
	"math"
	"sync"
	"testing"

	"thole/engine/num"
	"thole/engine/stroke/fast"
	"thole/engine/stroke/problem/problemtest"
)

// bits are all the numbers of a solution, as they lie in memory.
func bits(s *Solution) (b [32]uint64) {
	seat := &s.Seats[0]
	e := &s.Energy
	for i, x := range []float64{
		s.StartSpeed, s.Speed, s.MinSpeed, s.MaxSpeed, s.Residual, float64(s.Evaluations), float64(s.Route),
		e.Handle, e.Body, e.BladeLoss, e.WaterDrag, e.AirDrag, e.OarSwing, e.ShaftDamping, e.SpringLeft,
		seat.Effort, seat.DriveTime, seat.HandleWork, seat.BodyWork, seat.PeakForce, seat.EarlyWork,
		seat.PeakPinForce, seat.Slip, seat.Travel, float64(len(s.Seats)),
	} {
		b[i] = math.Float64bits(x)
	}
	return b
}

// rowAll rows the problems in this order, each worker taking the next, and gives
// their bits by problem.
func rowAll(problems []Problem, order []int, workers int) [][32]uint64 {
	out := make([][32]uint64, len(problems))
	next := make(chan int)
	var wait sync.WaitGroup
	for range workers {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for i := range next {
				s, err := Row(problems[i], Settings{})
				if err != nil {
					out[i][0] = 1
					continue
				}
				out[i] = bits(&s.Solution)
			}
		}()
	}
	for _, i := range order {
		next <- i
	}
	close(next)
	wait.Wait()
	return out
}

// TestPureStroke: same problem, same bits, whatever was solved before, in whatever
// order, on however many cores. 2,000 problems: sweeps whose points share warm starts, a quarter of them on shafts that bend,
// and draws that do not; in three orders; on 1, 2 and 8 workers.
func TestPureStroke(t *testing.T) {
	n := 2000
	if testing.Short() || raceDetector {
		n = 160
	}
	r := problemtest.NewRolls(5)
	var problems []Problem
	for range n / 8 {
		problems = append(problems, problemtest.DrawProblem(r, problemtest.UsualRange))
	}
	base := problemtest.OpenCase(t, "1x_rigid_plate_power")
	for i := len(problems); i < n; i++ {
		p := base
		p.Seats = []Seat{base.Seats[0]}
		switch s := &p.Seats[0]; i % 4 {
		case 0:
			p.Target = r.Between("", 300, 500)
		case 1:
			s.Catch = num.Radians(r.Between("", 58, 68))
		case 2:
			s.Oar.Blade.Area = r.Between("", 0.07, 0.09)
		case 3:
			s.Oar = s.Oar.WithStiffness(r.Between("", 0.03, 0.05))
			if i%8 == 3 {
				s.Oar.Blade.Early, s.Rower.Style = 0.1, problemtest.MeasuredStyle()
			}
		}
		p.Seats[0].Oar.Length = 2.78 + 0.2*float64(i)/float64(n)
		problems = append(problems, p)
	}

	forwards, backwards := make([]int, n), make([]int, n)
	for i := range n {
		forwards[i], backwards[i] = i, n-1-i
	}
	fast.Forget()
	want := rowAll(problems, forwards, 1)
	for _, c := range []struct {
		name    string
		order   []int
		workers int
		cold    bool
	}{
		{"again, all warm starts known", forwards, 1, false},
		{"backwards", backwards, 1, true},
		{"shuffled", r.Perm(n), 2, true},
		{"shuffled on eight", r.Perm(n), 8, true},
		{"backwards on eight, warm starts known", backwards, 8, false},
	} {
		if c.cold {
			fast.Forget()
		}
		got := rowAll(problems, c.order, c.workers)
		for i := range got {
			if got[i] != want[i] {
				t.Errorf("%s: problem %d differs in its bits", c.name, i)
			}
		}
	}
	fast := 0
	for i := range want {
		if want[i][6] == math.Float64bits(float64(Fast)) {
			fast++
		}
	}
	t.Logf("%d problems, %d by the fast route", n, fast)
	if fast < n*9/10 {
		t.Errorf("only %d of %d by the fast route", fast, n)
	}
}

// TestSolverPure: a Solver's memory changes no bit either.
func TestSolverPure(t *testing.T) {
	r := problemtest.NewRolls(6)
	var solver Solver
	for range 40 {
		p := problemtest.DrawProblem(r, problemtest.UsualRange)
		s, err := Row(p, Settings{})
		if err != nil {
			continue
		}
		sol, err := solver.Solve(&p, Settings{})
		if err != nil || bits(sol) != bits(&s.Solution) {
			t.Fatalf("a solver in use gives other bits: %v", err)
		}
	}
}

// TestNoAllocations: a warm solver allocates nothing.
func TestNoAllocations(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector allocates")
	}
	p := problemtest.OpenCase(t, "1x_rigid_plate_power")
	var solver Solver
	for _, c := range []struct {
		route Route
		bends float64
	}{{Auto, math.NaN()}, {General, math.NaN()}, {Auto, 0.035}} {
		k, route := 0, c.route
		p.Seats[0].Oar = p.Seats[0].Oar.WithStiffness(c.bends)
		sweep := func() {
			p.Seats[0].Oar.Length = 2.78 + 0.02*float64(k%10)
			k++
			if _, err := solver.Solve(&p, Settings{Route: route}); err != nil {
				t.Fatal(err)
			}
		}
		for range 40 {
			sweep()
		}
		if n := testing.AllocsPerRun(50, sweep); n != 0 {
			t.Errorf("route %v, shaft %g: %g allocations per stroke", route, c.bends, n)
		}
	}
}
