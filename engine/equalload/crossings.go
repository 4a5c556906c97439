package equalload

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"thole/engine/num"
	"thole/engine/stroke"
)

// brackets gives every pair of neighbouring oars with a match between them, and
// every oar that matches as it is, paired with itself.
func (l *scan) brackets() [][2]tried {
	var pairs [][2]tried
	met := func(t tried) bool { return math.Abs(t.off) <= matchedWithin }
	for i, t := range l.tries {
		if met(t) {
			pairs = append(pairs, [2]tried{t, t})
			continue
		}
		if i == 0 || met(l.tries[i-1]) {
			continue
		}
		if p := l.tries[i-1]; (p.off > 0) != (t.off > 0) {
			pairs = append(pairs, [2]tried{p, t})
		}
	}
	return pairs
}

// crossings closes in on every match between two neighbouring oars.
func (l *scan) crossings() []tried {
	var answers []tried
	for _, pair := range l.brackets() {
		if pair[0].x == pair[1].x {
			answers = append(answers, pair[0])
			if twin, ok := l.twin(pair[0]); ok {
				answers = append(answers, twin)
			}
		} else if found, ok := l.between(pair[0], pair[1]); ok {
			answers = append(answers, found)
		}
	}
	return answers
}

// twin looks for a second match beside an oar that matches as it is: where the
// load is off the same way on both its neighbours, it crosses once more.
func (l *scan) twin(m tried) (tried, bool) {
	i := sort.Search(len(l.tries), func(i int) bool { return l.tries[i].x >= m.x })
	if i == 0 || i+1 >= len(l.tries) || l.tries[i-1].off*l.tries[i+1].off < 0 {
		return tried{}, false
	}
	for _, neighbour := range []tried{l.tries[i-1], l.tries[i+1]} {
		beside := l.at(m.x + float64(1e-3*(neighbour.x-m.x)))
		if beside.stroke != nil && beside.off*neighbour.off < 0 {
			return l.between(beside, neighbour)
		}
	}
	return tried{}, false
}

// between closes in on a match between two oars: the curve of x over the load,
// through the four oars nearest to the match, says where it is; where that
// leaves the bracket, halfway does.
func (l *scan) between(a, b tried) (tried, bool) {
	known := append([]tried(nil), l.tries...)
	for range 60 {
		if b.x-a.x < 1e-12 && a.x-b.x < 1e-12 {
			break
		}
		x := inverse(known)
		if !(x > min(a.x, b.x) && x < max(a.x, b.x)) {
			x = a.x + (b.x-a.x)/2
		}
		t := l.at(x)
		if t.stroke == nil {
			return t, false
		}
		if math.Abs(t.off) <= matchedWithin {
			return t, true
		}
		if (t.off > 0) == (a.off > 0) {
			a = t
		} else {
			b = t
		}
		known = append(known, t)
	}
	return a, math.Abs(a.off) <= 100*matchedWithin
}

// inverse gives the x at which the load is met, by Neville's scheme on x over
// off through the nearest four.
func inverse(known []tried) float64 {
	near := append([]tried(nil), known...)
	sort.SliceStable(near, func(i, j int) bool { return math.Abs(near[i].off) < math.Abs(near[j].off) })
	near = near[:min(4, len(near))]
	x := make([]float64, len(near))
	for i := range near {
		x[i] = near[i].x
	}
	for step := 1; step < len(near); step++ {
		for i := range len(near) - step {
			p, q := near[i].off, near[i+step].off
			x[i] = (float64(p*x[i+1]) - float64(q*x[i])) / (p - q)
		}
	}
	return x[0]
}

// turn looks for two matches close together, where the load comes nearest
// between two of the oars asked and turns back.
func (l *scan) turn() []tried {
	for i := 1; i+1 < len(l.tries); i++ {
		a, m, b := l.tries[i-1], l.tries[i], l.tries[i+1]
		side := math.Copysign(1, m.off)
		if math.Abs(m.off) > math.Abs(a.off) || math.Abs(m.off) > math.Abs(b.off) {
			continue
		}
		best := m
		num.Minimum(func(x float64) float64 {
			if side*best.off <= 0 {
				return 0
			}
			t := l.at(x)
			if t.stroke == nil {
				return math.Inf(1)
			}
			if side*t.off < side*best.off {
				best = t
			}
			return float64(side * t.off)
		}, a.x, b.x, 1e-4)
		l.add(best)
		if side*best.off > 0 {
			continue
		}
		var answers []tried
		for _, end := range []tried{a, b} {
			if found, ok := l.between(end, best); ok {
				answers = append(answers, found)
			}
		}
		return answers
	}
	return nil
}

// nothing says what the window reaches instead.
func (l *scan) nothing() error {
	q := l.q
	nearest, first, last := l.tries[0], l.tries[0], l.tries[len(l.tries)-1]
	for _, t := range l.tries {
		if math.Abs(t.off) < math.Abs(nearest.off) {
			nearest = t
		}
	}
	wanted := q.groups[l.group].wanted
	value := func(t tried) string { return q.Match.says(wanted * num.Exp(t.off)) }
	f := &stroke.Failure{Cause: stroke.OutOfReach,
		What: fmt.Sprintf("%sno %s from %.0f to %.0f cm gives a %s of %s", q.label(l.group), q.Adjust,
			100*l.low, 100*l.high, q.Match.words(), q.Match.says(wanted)),
		Why: fmt.Sprintf("it goes from %s (%s %.1f) to %s (%.1f); the nearest, %s at %.1f, misses by %.1f %%",
			value(first), q.Adjust, 100*first.x, value(last), 100*last.x, value(nearest), 100*nearest.x,
			100*math.Abs(num.Expm1(nearest.off))),
	}
	var edge *stroke.Failure
	if errors.As(l.fail, &edge) {
		f.Why += "; beyond, " + edge.What
	}
	f.Type = q.elsewhere()
	return f
}

// elsewhere names a way of asking that has an answer more often.
func (q *task) elsewhere() string {
	if q.Match != MatchDriveTime {
		return `match="drive_time"`
	}
	if q.Adjust == Inboard {
		return `adjust="outboard"`
	}
	return ""
}

// label names a group of seats at the head of a message; "" where there is one.
func (q *task) label(k int) string {
	if len(q.groups) == 1 {
		return ""
	}
	return fmt.Sprintf("seat %d: ", q.groups[k].seats[0]+1)
}
