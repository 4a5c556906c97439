package study

import (
	"context"
	"errors"
	"math"
	"sort"

	"thole/engine/num"
)

// looks is how many equal steps each range is looked through in: the ends tell
// the swing, the places between them a turn or a crossing that the ends hide.
const looks = 6

// Swing is what one input does to the output, the others at their base.
type Swing struct {
	Range
	AtLow, AtHigh float64 // the output at the ends; NaN: none there, see Reason
	Swing         float64 // AtHigh - AtLow
	FlipsAt       float64 // where the output crosses 0, nearest to the base; NaN: nowhere
	Within        float64 // where inside the range the output goes clearly beyond both ends; NaN: nowhere
	Reason        error   // why an end is missing

	RowedLow, RowedHigh float64 // what came out under the input's name at the ends; NaN: as asked
}

// Swings is the answer of Sensitivity, largest first.
type Swings struct {
	Output Quantity
	Base   float64 // the output with every input at its base; NaN: none
	Inputs []Swing
	Calls  int
}

// Sensitivity moves each input from its low to its high end, the others
// standing at their base, and says what that does to the output called of ("":
// the only number).
// An input that has no answer at an end keeps its line, with the reason.
func Sensitivity(ctx context.Context, fn Batch, ranges []Range, of string) (*Swings, error) {
	if err := checkRanges(ranges); err != nil {
		return nil, err
	}
	if len(ranges) == 0 {
		return nil, errors.New("there is nothing to move: no range is given")
	}
	a := &asker{ctx: ctx, fn: fn, of: of}
	base := Bases(ranges)
	points := []Point{base}
	for i, r := range ranges {
		for k := range looks + 1 {
			points = append(points, with(base, i, r.at(float64(k)/looks)))
		}
	}
	results, values, err := a.all(points)
	if err != nil {
		return nil, err
	}
	if f := countFailed(results); f != nil && f.Count == len(results) {
		return nil, f
	}

	s := &Swings{Output: quantity(results, a.of), Base: values[0]}
	for i, r := range ranges {
		first := 1 + i*(looks+1)
		own := values[first : first+looks+1]
		w := Swing{Range: r, AtLow: own[0], AtHigh: own[looks], Swing: own[looks] - own[0],
			Within:    beyond(r, own),
			RowedLow:  results[first].Outcome.Otherwise(r.Name, r.Low),
			RowedHigh: results[first+looks].Outcome.Otherwise(r.Name, r.High)}
		for _, end := range []int{first, first + looks} {
			if results[end].Err != nil && w.Reason == nil {
				w.Reason = results[end].Err
			}
		}
		if w.FlipsAt, err = a.flip(base, i, r, own, values[0]); err != nil {
			return nil, err
		}
		s.Inputs = append(s.Inputs, w)
	}
	s.Calls = a.calls
	sort.SliceStable(s.Inputs, func(i, j int) bool {
		return math.Abs(s.Inputs[i].Swing) > math.Abs(s.Inputs[j].Swing)
	})
	return s, nil
}

// with is p with one input moved.
func with(p Point, i int, x float64) Point {
	q := append(Point(nil), p...)
	q[i] = x
	return q
}

// beyond gives the place where the output goes beyond both ends by more than a
// tenth of the swing, so that the swing alone would mislead; NaN where it does not.
func beyond(r Range, own []float64) float64 {
	low, high := min(own[0], own[looks]), max(own[0], own[looks])
	most, at := 0.0, math.NaN()
	for k, v := range own {
		if out := max(v-high, low-v); out > most {
			most, at = out, r.at(float64(k)/looks)
		}
	}
	if most > 0.1*(high-low) {
		return at
	}
	return math.NaN()
}

// flip finds where the output crosses 0, nearest to the input's base.
func (a *asker) flip(base Point, i int, r Range, own []float64, atBase float64) (float64, error) {
	type place struct{ x, v float64 }
	places := []place{{base[i], atBase}}
	for k, v := range own {
		places = append(places, place{r.at(float64(k) / looks), v})
	}
	sort.SliceStable(places, func(i, j int) bool { return places[i].x < places[j].x })

	nearest := math.NaN()
	for k := 1; k < len(places); k++ {
		p, q := places[k-1], places[k]
		crosses := p.v > 0 && q.v < 0 || p.v < 0 && q.v > 0
		if p.v == 0 || q.v == 0 || crosses {
			var failed error
			x, err := num.RootBetween(func(x float64) float64 {
				if failed != nil {
					return 0
				}
				res, v, err := a.one(with(base, i, x))
				if err == nil {
					err = res.Err
				}
				failed = err
				if failed != nil {
					return 0
				}
				return v
			}, p.x, q.x, p.v, q.v, 1e-9*(r.High-r.Low))
			if a.ctx.Err() != nil {
				return x, a.ctx.Err()
			}
			if err != nil || failed != nil {
				continue
			}
			if math.IsNaN(nearest) || math.Abs(x-base[i]) < math.Abs(nearest-base[i]) {
				nearest = x
			}
		}
	}
	return nearest, nil
}
