package stroke

import (
	"sort"

	"thole/engine/num"
)

// film keeps the steps of one stroke with their dense output, so that the state
// can be read at any time.
type film struct {
	n      int       // states
	starts []float64 // s
	steps  []float64 // s
	frames []num.Quartic
}

func (f *film) start(n int) {
	f.n, f.starts, f.steps, f.frames = n, f.starts[:0], f.steps[:0], f.frames[:0]
}

// add films the integrator's last step.
func (f *film) add(ode *num.Dopri5) {
	f.starts = append(f.starts, ode.T0)
	f.steps = append(f.steps, ode.H)
	at := len(f.frames)
	for range f.n {
		f.frames = append(f.frames, num.Quartic{})
	}
	ode.Quartics(f.frames[at:])
}

// state writes the state at the share u of step i to y.
func (f *film) state(i int, u float64, y []float64) {
	for j := range y {
		y[j] = f.frames[i*f.n+j].At(u)
	}
}

// find gives the step in which time t lies, and the share of it gone.
func (f *film) find(t float64) (i int, u float64) {
	i = sort.SearchFloat64s(f.starts, t)
	if i == len(f.starts) || f.starts[i] > t {
		i--
	}
	i = max(i, 0)
	return i, min(1, max(0, (t-f.starts[i])/f.steps[i]))
}

// value gives one state at the share u of step i.
func (f *film) value(i, state int, u float64) float64 { return f.frames[i*f.n+state].At(u) }
