package stroke

import (
	"math"
	"testing"

	"thole/engine/num"
	"thole/engine/stroke/general"
	"thole/engine/stroke/problem/problemtest"
)

// fixedStep rows one stroke of p from the catch by the classic fourth-order method
// of Runge and Kutta in equal steps of time, the plainest integrator there is. A
// step that a finish falls into is cut there: its length is sought until the oar stands
// at the finish. It shares the right-hand side with the general route, nothing else.
type fixedStep struct {
	g         *general.Route
	t         float64
	y, k      []float64
	at, start []float64
	sum       []float64
}

func (f *fixedStep) step(h float64) {
	copy(f.start, f.y)
	clear(f.sum)
	for _, s := range [4]struct{ reach, weight float64 }{{0, 1. / 6}, {0.5, 1. / 3}, {0.5, 1. / 3},
		{1, 1. / 6}} {
		for i := range f.y {
			f.at[i] = f.start[i] + s.reach*h*f.k[i]
		}
		f.g.Slopes(f.t+s.reach*h, f.at, f.k)
		for i := range f.y {
			f.sum[i] += s.weight * f.k[i]
		}
	}
	for i := range f.y {
		f.y[i] = f.start[i] + h*f.sum[i]
	}
}

// row gives V at the end of the stroke and the way gone.
func (f *fixedStep) row(t *testing.T, p *Problem, v0, effort, h float64) (v, way float64) {
	g := new(general.Route)
	if err := g.SetUp(p); err != nil {
		t.Fatal(err)
	}
	f.g = g
	n := len(g.ODE.Y)
	f.y, f.k, f.at, f.start, f.sum = make([]float64, n), make([]float64, n), make([]float64, n),
		make([]float64, n), make([]float64, n)
	f.y[general.StateV] = v0
	m := &g.Moments[0]
	m.Effort = effort
	f.y[m.First+general.SeatTheta] = -g.Seats[0].Catch
	f.t = 0
	for f.t < g.Period-1e-12 {
		take := math.Min(h, g.Period-f.t)
		before := append([]float64(nil), f.y...)
		over := func(part float64) float64 {
			copy(f.y, before)
			f.step(part)
			return f.y[m.First+general.SeatTheta] - g.Seats[0].Finish
		}
		if !m.Finished && over(take) >= 0 {
			part, err := num.Root(over, 0, take, 1e-15)
			if err != nil {
				t.Fatal(err)
			}
			over(part)
			f.t += part
			m.Finished, m.FinishTime = true, f.t
			continue
		}
		if m.Finished {
			f.step(take)
		}
		f.t += take
	}
	return f.y[general.StateV], f.y[general.StateX]
}

// Identity 4: a fixed-step fourth-order method at 0.25 ms agrees to 1e-6 with the
// stroke of either route: rowed from its V(0) with its effort it comes back to V(0),
// at the same mean speed.
func TestIdentity4FixedSteps(t *testing.T) {
	for _, name := range []string{"1x_rigid_plate_power", "2x_crossflow_handle_power"} {
		p := problemtest.OpenCase(t, name)
		merged, _ := p.Merged()
		for _, route := range []Route{General, Fast} {
			s := mustRow(t, p, Settings{Route: route})
			var f fixedStep
			v, way := f.row(t, &merged, s.StartSpeed, s.Seats[0].Effort, 0.25e-3)
			speed := way / p.Period()
			t.Logf("%s, %v: V(T)/V(0) − 1 = %.1e, speed %.1e", name, route, v/s.StartSpeed-1, speed/s.Speed-1)
			if math.Abs(v/s.StartSpeed-1) > 1e-6 || math.Abs(speed/s.Speed-1) > 1e-6 {
				t.Errorf("%s, %v: fixed steps give V(T) %.9g from %.9g, speed %.9g against %.9g", name, route,
					v, s.StartSpeed, speed, s.Speed)
			}
		}
	}
}
