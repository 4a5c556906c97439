package study

import (
	"math"
	"sort"
)

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
	return l.margin(t, best) >= 0
}

func (l *objective) value(height float64) float64 {
	if l.goal.Maximise {
		return height
	}
	return -height
}

// flat walks one input away from the best on both sides until the output is worse by more than is
// worthwhile, a limit is missed or the function fails.
func (l *objective) flat(s *sample, i int) (Flat, error) {
	ends := [2]float64{}
	for side, end := range []float64{0, 1} {
		at, err := l.flatUntil(s, i, end)
		if err != nil {
			return Flat{}, err
		}
		ends[side] = at
	}
	r := l.ranges[i]
	return Flat{Input: r.Name, Low: r.at(ends[0]), High: r.at(ends[1])}, nil
}

// flatUntil gives how far toward an end of its range an input may go. What was asked on the way brackets
// the place; the chord between the bracket's ends, and every third time its middle, closes it to a
// thousandth of the range, finer than anybody sets.
func (l *objective) flatUntil(s *sample, i int, end float64) (float64, error) {
	in, inMargin, out, outMargin := s.place[i], l.margin(s, s), math.NaN(), math.NaN()
	const close = 1e-3
	var looks [][]float64
	for _, share := range [3]float64{1. / 3, 2. / 3, 1} {
		looks = append(looks, with(s.place, i, in+(end-in)*share))
	}
	looks[2][i] = end
	if len(l.ranges) == 1 {
		looks = nil // the grid lies along the way
		for k := range l.steps + 1 {
			if x := math.Abs(end - 1 + float64(k)/float64(l.steps)); (x-in)*(end-in) > 0 {
				looks = append(looks, []float64{x})
			}
		}
		sort.Slice(looks, func(a, b int) bool { return math.Abs(looks[a][0]-in) < math.Abs(looks[b][0]-in) })
	}
	for _, look := range looks {
		t, err := l.ask([][]float64{look})
		if err != nil {
			return 0, err
		}
		if m := l.margin(t[0], s); m >= 0 {
			in, inMargin = look[i], m
		} else {
			out, outMargin = look[i], m
			break
		}
	}
	for round := 0; math.Abs(out-in) > close; round++ {
		share := 0.5
		if round%3 < 2 && outMargin > -10 {
			least := 0.9 * close / math.Abs(out-in)
			share = min(max(inMargin/(inMargin-outMargin), least), 1-least)
		}
		mid := in + (out-in)*share
		t, err := l.ask([][]float64{with(s.place, i, mid)})
		if err != nil {
			return 0, err
		}
		if m := l.margin(t[0], s); m >= 0 {
			in, inMargin = mid, m
		} else {
			out, outMargin = mid, m
		}
	}
	return in, nil
}

// margin is how far a sample is from being told apart from the best, or from missing a limit, each
// against its scale; below 0 it is, -1000 where the function failed.
func (l *objective) margin(t, best *sample) float64 {
	if t == nil {
		return -1000
	}
	m := (t.height - best.height + l.goal.Worthwhile*math.Abs(best.height)) / l.scale
	for k := range l.goal.Limits {
		m = min(m, metWithin-l.outside(t, k)/l.scales[k])
	}
	return m
}
