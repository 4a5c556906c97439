package fast

import (
	"fmt"
	"math"
	"testing"

	"thole/engine/stroke/problem"
	"thole/engine/stroke/problem/problemtest"
)

var tuneProblems []problem.Problem

func tuning(n int, w problemtest.Width) []problem.Problem {
	r := problemtest.NewRolls(9)
	var out []problem.Problem
	for len(out) < n {
		p := problemtest.DrawProblem(r, w)
		p.Seats = p.Seats[:1]
		p.Seats[0].Count = p.Hull.Seats()
		o := &p.Seats[0].Oar
		o.Blade.Early = 0
		*o = o.WithStiffness(r.Between("stiffness", 0.02, 0.07))
		if Applies(&p) {
			out = append(out, p)
		}
	}
	return out
}

func TestTune(t *testing.T) {
	for _, w := range []problemtest.Width{problemtest.UsualRange, problemtest.WideRange} {
		ps := append(tuning(60, w), problemtest.OpenCase(t, "1x_flexible_speed"))
		var exact []float64
		for i := range ps {
			f := new(Route)
			exact = append(exact, math.NaN())
			if f.prepare(&ps[i]) != nil {
				continue
			}
			x, j := f.guess(), f.typical()
			if !f.approach(4, &x, &j, 1e-6) {
				continue
			}
			f.settle(4, &x, &j, pair{}, 1e-11)
			exact[i] = x[1]
		}
		for level := range 2 {
			var misses, ests []float64
			steps, no := 0, 0
			for i := range ps {
				f := new(Route)
				if f.prepare(&ps[i]) != nil || math.IsNaN(exact[i]) {
					continue
				}
				x, j := f.guess(), f.typical()
				if !f.approach(level, &x, &j, 1e-6) {
					no++
					continue
				}
				if _, ok := f.settle(level, &x, &j, pair{}, 1e-11); !ok {
					no++
					continue
				}
				steps += len(f.grid.width)
				speed := x[1]
				misses = append(misses, math.Abs(speed-exact[i])/3)
				ests = append(ests, f.estimate())
				if i == 60 {
					fmt.Printf("open: %d steps %.1e %.1e\n", len(f.grid.width), math.Abs(speed-exact[i])/3, f.estimate())
				}
			}
			fmt.Printf("w%d level %d steps %.1f no %d miss %s est %s\n", w, level, float64(steps)/float64(len(misses)), no, quantiles(misses), quantiles(ests))
		}
	}
}
func quantiles(x []float64) string {
	x = append([]float64(nil), x...)
	for i := range x {
		for j := i; j > 0 && x[j] < x[j-1]; j-- {
			x[j], x[j-1] = x[j-1], x[j]
		}
	}
	n := len(x) - 1
	return fmt.Sprintf("median %.1e 75%% %.1e 90%% %.1e max %.1e", x[n/2], x[n*3/4], x[n*9/10], x[n])
}
