package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sort"
)

// Limit bounds an output of the function. A NaN end is open.
type Limit struct {
	Of        string
	Low, High float64
}

// Goal says which output is wanted as high or as low as can be, within limits.
// Worthwhile is the part of the best value (0.003: 0.3 %) by which two
// answers must differ to be told apart; it draws the flat region.
type Goal struct {
	Of         string
	Maximise   bool
	Limits     []Limit
	Worthwhile float64 // 0: 0.005
}

// Best is the best point found.
type Best struct {
	At          Point
	Outcome     Outcome
	Output      Quantity
	Value       float64
	AtEdge      []Edge         // inputs that stand at an end of their range
	AtLimit     []Limit        // limits it is stopped by: the stopping end is a number, the other NaN
	Flat        []Flat         // one an input, in order
	LocalOptima []LocalOptimum // other tops, no better than this one
	Level       bool           // the output is the same at every point asked
	Failed      *Failed        // grid points that gave nothing, or nil
	Grid        int            // points of the grid it was checked with
	Calls       int            // points asked altogether
}

// Edge is an input that ended at an end of its range.
type Edge struct {
	Input string
	High  bool
}

// Flat is the span of one input over all that cannot be told apart from the
// best: with the others staying, and over every point that was asked on the way
// (the grid too) that keeps the limits and is worse by less than is worthwhile.
type Flat struct {
	Input     string
	Low, High float64
}

// Hill is a local best that is not the best.
type LocalOptimum struct {
	At    Point
	Value float64
}

// climbed is from how many local optima of the grid the search climbs on.
const climbed = 4

// FindBest gives the point of the ranges (one to several inputs) where the
// goal's output is best within the limits. A grid over the ranges is asked
// first, and from every local optimum of it that could lead to the best the search
// climbs on, so that a local optimum is not taken for the best; what is narrower than
// the grid stays unseen. When no point meets the limits the error is a *NothingMeets
// with the nearest miss.
func FindBest(ctx context.Context, fn Batch, ranges []Range, goal Goal) (*Best, error) {
	if err := goal.check(ranges); err != nil {
		return nil, err
	}
	if goal.Worthwhile == 0 {
		goal.Worthwhile = 0.005
	}
	l := &objective{asker: asker{ctx: ctx, fn: fn, of: goal.Of}, ranges: ranges, goal: goal}
	if err := l.survey(); err != nil {
		return nil, err
	}
	var tops []*sample
	for _, start := range l.localOptima() {
		top, err := l.climb(start, false, tops)
		if err != nil {
			return nil, err
		}
		if !l.meets(top) {
			// the climb ended outside the limits: first come inside
			if top, err = l.climb(top, true, nil); err != nil {
				return nil, err
			}
			if l.meets(top) {
				if top, err = l.climb(top, false, tops); err != nil {
					return nil, err
				}
			}
		}
		if top, err = l.snap(top); err != nil {
			return nil, err
		}
		tops = append(tops, top)
	}
	sort.SliceStable(tops, func(i, j int) bool { return l.better(tops[i], tops[j]) })
	if !l.meets(tops[0]) {
		return nil, l.nothingMeets(tops[0])
	}
	return l.answer(tops)
}

func (g Goal) check(ranges []Range) error {
	if err := checkRanges(ranges); err != nil {
		return err
	}
	if len(ranges) == 0 {
		return errors.New("there is nothing to choose: no range is given")
	}
	for _, limit := range g.Limits {
		if math.IsNaN(limit.Low) && math.IsNaN(limit.High) {
			return fmt.Errorf("the limit on %s bounds nothing", limit.Of)
		}
		if limit.Low > limit.High {
			return fmt.Errorf("the limit on %s goes from %g down to %g: ends are given low, high", limit.Of,
				limit.Low, limit.High)
		}
	}
	return nil
}
