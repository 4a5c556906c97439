package study

import (
	"math"
)

// climb goes uphill from a sample to the top near it: at each step a quadratic
// through points about the sample stands for the output and for every limited
// output, the best of it inside a small box is asked, and the box grows or
// shrinks with how well the quadratics foretold it (a trust region: Conn, Gould
// & Toint 2000, ch. 6). inward looks for the limits only, not for height. A
// climb that comes upon a top already known ends there.
func (l *objective) climb(s *sample, inward bool, known []*sample) (*sample, error) {
	size := 0.25
	if l.steps > 0 {
		size = 1 / float64(l.steps)
	}
	penalty := 10.0 // for a missed limit, in its scale
	for range 60 {
		if size < smallest || inward && l.meets(s) {
			break
		}
		for _, top := range known {
			if !inward && size < 0.05 && distance(s.place, top.place) < 2*size {
				return top, nil
			}
		}
		m, err := l.quadratics(s, size)
		if err != nil {
			return nil, err
		}
		if m == nil {
			size /= 4 // a point about the sample failed: look closer by
			continue
		}
		m.inward = inward
		place, weight := m.top()
		penalty = max(penalty, 2*weight)
		next, err := l.ask([][]float64{place})
		if err != nil {
			return nil, err
		}
		foretold := m.merit(place, penalty) - m.merit(s.place, penalty)
		step := distance(place, s.place)
		if foretold <= 1e-9 {
			if l.meets(s) && (size <= sharp && !m.kinked() || size <= sharp/500) {
				break
			}
			size = min(size/8, max(size/64, sharp))
			continue
		}
		gained := math.Inf(-1)
		if next[0] != nil {
			gained = l.merit(next[0], penalty, inward) - l.merit(s, penalty, inward)
		}
		switch {
		case gained < 0.1*foretold:
			size /= 4
		case gained > 0.7*foretold && step > 0.9*size:
			size = min(2*size, 0.5)
		case gained > 0.7*foretold:
			size = max(2*step, size/16)
		}
		if gained > 0 {
			s = next[0]
		}
	}
	return s, nil
}

// sharp is a box in which a quadratic misses what is smooth by less than a stroke's own residual, so that a
// top found in it is the top, but where a limit has a kink; smallest is where a climb gives up.
const sharp, smallest = 4e-3, 1e-8

// merit is height less the penalty for missed limits, both in their scales.
func (l *objective) merit(s *sample, penalty float64, inward bool) float64 {
	w := -penalty * l.violation(s)
	if !inward {
		w += s.height / l.scale
	}
	return w
}
