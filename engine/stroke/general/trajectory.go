package general

import (
	"sort"

	"thole/engine/num"
)

// Trajectory keeps the steps of one stroke with their dense output, so that the state
// can be read at any time.
type Trajectory struct {
	n      int       // states
	Starts []float64 // s
	Steps  []float64 // s
	curves []num.Quartic
}

func (f *Trajectory) start(n int) {
	f.n, f.Starts, f.Steps, f.curves = n, f.Starts[:0], f.Steps[:0], f.curves[:0]
}

// add records the integrator's last step.
func (f *Trajectory) add(ode *num.Dopri5) {
	f.Starts = append(f.Starts, ode.T0)
	f.Steps = append(f.Steps, ode.H)
	at := len(f.curves)
	for range f.n {
		f.curves = append(f.curves, num.Quartic{})
	}
	ode.Quartics(f.curves[at:])
}

// state writes the state at the share u of step i to y.
func (f *Trajectory) state(i int, u float64, y []float64) {
	for j := range y {
		y[j] = f.curves[i*f.n+j].At(u)
	}
}

// Find gives the step in which time t lies, and the share of it gone.
func (f *Trajectory) Find(t float64) (i int, u float64) {
	i = sort.SearchFloat64s(f.Starts, t)
	if i == len(f.Starts) || f.Starts[i] > t {
		i--
	}
	i = max(i, 0)
	return i, min(1, max(0, (t-f.Starts[i])/f.Steps[i]))
}

// Value gives one state at the share u of step i.
func (f *Trajectory) Value(i, state int, u float64) float64 { return f.curves[i*f.n+state].At(u) }
