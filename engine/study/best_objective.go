package study

import (
	"math"
	"sort"
)

// objective is the function over the ranges, each scaled to 0..1.
type objective struct {
	asker
	ranges  []Range
	goal    Goal
	steps   int       // of the grid along each input; 0: scattered points
	samples []*sample // of the grid
	asked   []*sample // all with an answer, the grid's too
	failed  *Failed
	scale   float64   // of the output over the grid
	scales  []float64 // of the limited outputs
	output  Quantity
}

// sample is one point asked: place in 0..1, the output turned so that more is
// better, and what each limited output is. nil stands for a failed one.
type sample struct {
	place   []float64
	height  float64
	limited []float64
	outcome Outcome
}

func (l *objective) point(place []float64) Point {
	p := make(Point, len(place))
	for i, r := range l.ranges {
		p[i] = r.at(place[i])
	}
	return p
}

// ask asks many places at once, those that have an answer not again; failed ones are nil.
func (l *objective) ask(places [][]float64) ([]*sample, error) {
	samples := make([]*sample, len(places))
	var fresh [][]float64
	var where []int
	for i, p := range places {
		if samples[i] = l.known(p); samples[i] == nil {
			fresh, where = append(fresh, p), append(where, i)
		}
	}
	answers, err := l.askFresh(fresh)
	for k, s := range answers {
		samples[where[k]] = s
	}
	return samples, err
}

// known gives the sample of a place that was asked before, or nil.
func (l *objective) known(place []float64) *sample {
	for _, s := range l.asked {
		if distance(s.place, place) < 1e-9 {
			return s
		}
	}
	return nil
}

func (l *objective) askFresh(places [][]float64) ([]*sample, error) {
	if len(places) == 0 {
		return nil, nil
	}
	points := make([]Point, len(places))
	for i, p := range places {
		points[i] = l.point(p)
	}
	results, values, err := l.all(points)
	if err != nil {
		return nil, err
	}
	samples := make([]*sample, len(places))
	for i := range results {
		s := &sample{place: places[i], height: values[i], outcome: results[i].Outcome}
		if !l.goal.Maximise {
			s.height = -s.height
		}
		for _, limit := range l.goal.Limits {
			v, err := read(&results[i], limit.Of)
			if err != nil {
				return nil, err
			}
			s.limited = append(s.limited, v)
		}
		if results[i].Err == nil {
			samples[i] = s
			l.asked = append(l.asked, s)
		}
	}
	if l.samples == nil {
		l.failed = countFailed(results)
		l.output = quantity(results, l.of)
	}
	return samples, nil
}

// survey asks the grid.
func (l *objective) survey() error {
	n := len(l.ranges)
	var places [][]float64
	switch n {
	case 1:
		l.steps = 16
	case 2:
		l.steps = 6
	case 3:
		l.steps = 3
	case 4:
		l.steps = 4
	default:
		places = cube(800, n, 1) // a grid of so many inputs would be too large or too coarse
	}
	if l.steps > 0 {
		axis := Axis{}
		for k := range l.steps + 1 {
			axis.Numbers = append(axis.Numbers, float64(k)/float64(l.steps))
		}
		axes := make([]Axis, n)
		for i := range axes {
			axes[i] = axis
		}
		for _, p := range Grid(axes) {
			places = append(places, p)
		}
	}
	samples, err := l.ask(places)
	if err != nil {
		return err
	}
	if l.failed != nil && l.failed.Count == len(samples) {
		return l.failed
	}
	l.samples = samples
	l.scale = l.scaleOf(func(s *sample) float64 { return s.height })
	for k := range l.goal.Limits {
		l.scales = append(l.scales, l.scaleOf(func(s *sample) float64 { return s.limited[k] }))
	}
	return nil
}

// spreadOf is how far an output goes over the grid: the scale of its changes.
func (l *objective) scaleOf(of func(*sample) float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range l.samples {
		if s != nil {
			low, high = min(low, of(s)), max(high, of(s))
		}
	}
	if high > low {
		return high - low
	}
	return max(math.Abs(high), 1)
}

// outside says by how much a limit is missed, in the units of its output; below 0, how far it is from it.
func (l *objective) outside(s *sample, k int) float64 {
	limit, out := l.goal.Limits[k], math.Inf(-1)
	if !math.IsNaN(limit.Low) {
		out = max(out, limit.Low-s.limited[k])
	}
	if !math.IsNaN(limit.High) {
		out = max(out, s.limited[k]-limit.High)
	}
	return out
}

// violation adds up what is missed of all limits, each in the scale of its output.
func (l *objective) violation(s *sample) float64 {
	total := 0.0
	for k := range l.goal.Limits {
		total += max(0, l.outside(s, k)) / l.scales[k]
	}
	return total
}

// metWithin: strokes are solved to 1e-9, and what a limit bounds is of the size
// of its scale over the ranges, so a tenth of a millionth of it is the limit.
const metWithin = 1e-7

func (l *objective) meets(s *sample) bool { return l.violation(s) <= metWithin }

// better orders samples: within the limits by height, outside by how far.
func (l *objective) better(a, b *sample) bool {
	if b == nil || a == nil {
		return a != nil
	}
	switch in, other := l.meets(a), l.meets(b); {
	case in && other:
		return a.height > b.height
	case in != other:
		return in
	}
	return l.violation(a) < l.violation(b)
}

// localOptima gives the samples of the grid that no neighbour betters, best first.
func (l *objective) localOptima() []*sample {
	var tops []*sample
	for i, s := range l.samples {
		if s != nil && (l.steps == 0 || l.isLocalOptimum(i)) {
			tops = append(tops, s)
		}
	}
	sort.SliceStable(tops, func(i, j int) bool { return l.better(tops[i], tops[j]) })
	if l.steps > 0 {
		return tops[:min(climbed, len(tops))]
	}
	// scattered points have no neighbours: the best ones that lie apart
	var apart []*sample
	for _, s := range tops {
		near := false
		for _, t := range apart {
			near = near || distance(s.place, t.place) < 0.3
		}
		if !near {
			apart = append(apart, s)
		}
		if len(apart) == climbed {
			break
		}
	}
	return apart
}

// isLocalOptimum compares a grid point with all that touch it, diagonals too; of equal
// neighbours the first counts, so that a plain is climbed once.
func (l *objective) isLocalOptimum(i int) bool {
	n, side := len(l.ranges), l.steps+1
	neighbours := 1
	for range n {
		neighbours *= 3
	}
	for code := range neighbours {
		at, c, rest, stride, inside := 0, code, i, 1, true
		for range n {
			d := rest%side + c%3 - 1
			inside = inside && d >= 0 && d < side
			at += d * stride
			stride, c, rest = stride*side, c/3, rest/side
		}
		if !inside || at == i || l.samples[at] == nil {
			continue
		}
		other := l.samples[at]
		if l.better(other, l.samples[i]) || at < i && !l.better(l.samples[i], other) {
			return false
		}
	}
	return true
}

func distance(a, b []float64) float64 {
	d := 0.0
	for i := range a {
		d = max(d, math.Abs(a[i]-b[i]))
	}
	return d
}

// snap takes a top that lies a hair inside an end of a range to that end: strokes
// are solved to 1e-9, which is enough to make a hair of difference.
func (l *objective) snap(s *sample) (*sample, error) {
	const hair = 1e-4
	place := append([]float64(nil), s.place...)
	moved := false
	for i, x := range place {
		if end := math.Round(x); x != end && math.Abs(x-end) < hair {
			place[i], moved = end, true
		}
	}
	if !moved {
		return s, nil
	}
	t, err := l.ask([][]float64{place})
	if err != nil {
		return nil, err
	}
	if t[0] != nil && l.meets(t[0]) && t[0].height >= s.height-1e-6*l.scale {
		return t[0], nil
	}
	return s, nil
}

func (l *objective) nothingMeets(s *sample) error {
	e := &NothingMeets{Ranges: l.ranges, At: l.point(s.place), Failed: l.failed}
	for k, limit := range l.goal.Limits {
		if by := l.outside(s, k); by > metWithin*l.scales[k] {
			e.Misses = append(e.Misses, Miss{Limit: limit, Value: s.limited[k], By: by})
		}
	}
	return e
}
