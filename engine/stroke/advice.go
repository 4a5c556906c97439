package stroke

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
)

// neighbours are the problems near one that has no stroke, rowed to find out what to
// type instead.
type neighbours struct {
	problem  *Problem
	settings Settings
}

// complete ends a failure for the problem as the user asked it: which seat it was, and
// how to work out advice. where says which merged seat each of the problem's became.
func complete(f *Failure, p *Problem, settings Settings, where []int) {
	f.Advise = func() string { return (&neighbours{p, settings}).advice(f.Cause) }
	if f.Seat == 0 || len(where) < 2 || slices.Max(where) == 0 {
		return
	}
	f.What = fmt.Sprintf("seat %d: %s", slices.Index(where, f.Seat-1)+1, f.What)
}

// advice is what to type instead: the nearest problem that has a stroke; "" where
// nothing near helps.
func (f *neighbours) advice(cause Cause) string {
	if cause == OutOfReach {
		return cmp.Or(f.withinReach(), "a lower target, or a blade that holds more")
	}
	if cause != DriveTooLong {
		return ""
	}
	var ways []string
	if rate, drive, ok := f.slower(); ok {
		ways = append(ways, fmt.Sprintf("rate=%.4g (drive %.0f %%)", rate, drive))
	}
	if name, value, drive, ok := f.harder(); ok {
		ways = append(ways, fmt.Sprintf("%s=%.4g (%.0f %%)", name, value, drive))
	}
	return cmp.Or(strings.Join(ways, " or "), "a shorter outboard, a smaller arc or more power")
}

// nearest finds the first of n neighbours with a stroke, counted from the nearest. Once
// there is one, those further on count as having one too: the two nearest are rowed,
// then the furthest, then the rest by halves, so that a hopeless boat, whose strokes
// take longest to give up, is asked three times and not a hundred.
func nearest(n int, has func(i int) bool) (first int, ok bool) {
	for i := range min(2, n) {
		if has(i) {
			return i, true
		}
	}
	if n < 3 || !has(n-1) {
		return 0, false
	}
	return 2 + sort.Search(n-3, func(i int) bool { return has(2 + i) }), true
}

// slower finds the nearest lower rate with a stroke, in whole strokes.
func (f *neighbours) slower() (rate, drive float64, ok bool) {
	top := math.Ceil(f.problem.Rate) - 1
	low := math.Max(12, math.Floor(f.problem.Rate/2)+1)
	at := func(i int) bool {
		p := *f.problem
		p.Rate = top - float64(i)
		d, ok := f.drive(p)
		if ok {
			rate, drive = p.Rate, d // the last one found is the nearest
		}
		return ok
	}
	_, ok = nearest(int(top-low)+1, at)
	return rate, drive, ok
}

// steps are those in which a coach would change a target.
var steps = map[Hold]float64{Power: 10, HandlePower: 10, Effort: 50, Force: 20, Speed: 0.1}

// withinReach is the highest target that the same boat meets with an effort rowers
// have.
func (f *neighbours) withinReach() string {
	p := *f.problem
	if merged, _ := p.Merged(); p.Hold == Effort || p.OwnPower() && len(merged.Seats) > 1 {
		return "" // whose power it should be is not ours to say
	}
	p.Hold, p.Target = Effort, HighEffort
	s, err := Row(p, f.settings)
	if err != nil {
		return ""
	}
	field := map[Hold]string{Power: "power", HandlePower: "handle_power", Force: "peak_force",
		Speed: "speed"}[f.problem.Hold]
	reached, _ := FieldNamed(field)
	step, name := steps[f.problem.Hold], "target"
	if f.problem.OwnPower() {
		name = f.problem.Hold.String()
	}
	value := step * math.Floor(reached.Of(s)/step)
	if !(value > 0) || value >= f.problem.Target {
		return ""
	}
	return fmt.Sprintf("%s=%.4g (what an effort of %.0f N comes to), or a blade that holds more", name, value,
		HighEffort)
}

// harder finds the nearest higher target, or own power, with a stroke, in steps a
// coach would type.
func (f *neighbours) harder() (name string, value, drive float64, ok bool) {
	p := *f.problem
	name, value = "target", p.Target
	own := p.OwnPower()
	step := steps[p.Hold]
	if own {
		if merged, _ := p.Merged(); len(merged.Seats) > 1 {
			return "", 0, 0, false // whose power it should be is not ours to say
		}
		name, value = p.Hold.String(), p.Seats[0].Rower.Power
	}
	first := float64(step * (math.Floor(value/step+1e-9) + 1))
	n := int(math.Ceil((float64(2*value) + step - first) / step))
	_, ok = nearest(n, func(i int) bool {
		q, x := p, first+float64(step*float64(i))
		if own {
			q.Seats = append([]Seat(nil), p.Seats...)
			for i := range q.Seats {
				q.Seats[i].Rower.Power = x
			}
		} else {
			q.Target = x
		}
		d, ok := f.drive(q)
		if ok {
			value, drive = x, d // the last one found is the nearest
		}
		return ok
	})
	return name, value, drive, ok
}

// drive rows a neighbour and gives the longest drive as a percentage of the stroke.
func (f *neighbours) drive(p Problem) (percent float64, ok bool) {
	s, err := Row(p, f.settings)
	if err != nil {
		return 0, false
	}
	for i := range s.Seats {
		percent = math.Max(percent, 100*s.Seats[i].DriveTime/p.Period())
	}
	return percent, true
}
