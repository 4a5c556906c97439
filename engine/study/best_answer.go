package study

import "math"

// atEnd is the share of a range within which the best stands at its end: a climb stops a
// little before it.
const atEnd = 1e-4

// answer says where the best lies and what stops it.
func (l *objective) answer(tops []*sample) (*Best, error) {
	s := tops[0]
	b := &Best{At: l.point(s.place), Outcome: s.outcome, Output: l.output, Value: l.value(s.height),
		Failed: l.failed, Grid: len(l.samples)}
	for i, x := range s.place {
		if x <= atEnd || x >= 1-atEnd {
			b.AtEdge = append(b.AtEdge, Edge{l.ranges[i].Name, x >= 1-atEnd})
		}
	}
	for k, limit := range l.goal.Limits {
		at := 1e-5 * l.scales[k]
		if math.Abs(s.limited[k]-limit.Low) < at {
			b.AtLimit = append(b.AtLimit, Limit{limit.Of, limit.Low, math.NaN()})
		}
		if math.Abs(s.limited[k]-limit.High) < at {
			b.AtLimit = append(b.AtLimit, Limit{limit.Of, math.NaN(), limit.High})
		}
	}
	for _, other := range tops[1:] {
		if l.meets(other) && distance(other.place, s.place) > 1e-3 {
			b.LocalOptima = append(b.LocalOptima, LocalOptimum{l.point(other.place), l.value(other.height)})
		}
	}
	for i := range l.ranges {
		f, err := l.flat(s, i)
		if err != nil {
			return nil, err
		}
		b.Flat = append(b.Flat, f)
	}
	l.widen(s, b.Flat)
	b.Level = true
	for _, t := range l.asked {
		b.Level = b.Level && t.height == s.height
	}
	b.Calls = l.calls
	return b, nil
}

// widen takes every point that was asked and is as good as the best into the
// flat region: where limits hold the best in a corner, no single input can move,
// but several together can.
func (l *objective) widen(best *sample, flat []Flat) {
	for _, t := range l.asked {
		if !l.asGood(t, best) {
			continue
		}
		for i, x := range l.point(t.place) {
			flat[i].Low, flat[i].High = min(flat[i].Low, x), max(flat[i].High, x)
		}
	}
}

// asGood says whether a sample cannot be told apart from the best.
func (l *objective) asGood(t, best *sample) bool {
	return t != nil && t.height >= best.height-l.goal.Worthwhile*math.Abs(best.height) && l.meets(t)
}

func (l *objective) value(height float64) float64 {
	if l.goal.Maximise {
		return height
	}
	return -height
}

// flatLooks is how many places are asked on each side of the best at first.
const flatLooks = 6

// flat walks one input away from the best on both sides until the output is
// worse by more than is worthwhile, a limit is missed or the function fails.
func (l *objective) flat(s *sample, i int) (Flat, error) {
	ends := [2]float64{}
	for side, end := range []float64{0, 1} {
		from := s.place[i]
		places := make([][]float64, flatLooks)
		for k := range places {
			places[k] = with(s.place, i, from+(end-from)*float64(k+1)/flatLooks)
		}
		places[flatLooks-1][i] = end
		if from == end {
			ends[side] = end
			continue
		}
		samples, err := l.ask(places)
		if err != nil {
			return Flat{}, err
		}
		in, out := from, math.NaN()
		for k, t := range samples {
			if !l.asGood(t, s) {
				out = places[k][i]
				break
			}
			in = places[k][i]
		}
		// a thousandth of the range is finer than anybody sets
		for !math.IsNaN(out) && math.Abs(out-in) > 1e-3 {
			mid := in + (out-in)/2
			t, err := l.ask([][]float64{with(s.place, i, mid)})
			if err != nil {
				return Flat{}, err
			}
			if l.asGood(t[0], s) {
				in = mid
			} else {
				out = mid
			}
		}
		ends[side] = in
	}
	r := l.ranges[i]
	return Flat{Input: r.Name, Low: r.at(ends[0]), High: r.at(ends[1])}, nil
}
