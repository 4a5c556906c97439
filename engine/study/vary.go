package study

import (
	"context"
	"fmt"

	"thole/engine/table"
)

// Axis is an input that Vary steps through: numbers, or texts and named things
// by their labels, in which case a Point holds the index.
type Axis struct {
	Name    string
	Unit    string
	Digits  int
	Numbers []float64
	Labels  []string // of texts and things; Numbers is then left out
}

func (a Axis) len() int {
	if a.Labels != nil {
		return len(a.Labels)
	}
	return len(a.Numbers)
}

func (a Axis) at(i int) float64 {
	if a.Labels != nil {
		return float64(i)
	}
	return a.Numbers[i]
}

// Grid gives every combination of the axes, the last axis running fastest.
func Grid(axes []Axis) []Point {
	points := []Point{{}}
	for _, a := range axes {
		longer := make([]Point, 0, len(points)*a.len())
		for _, p := range points {
			for i := range a.len() {
				longer = append(longer, append(p[:len(p):len(p)], a.at(i)))
			}
		}
		points = longer
	}
	return points
}

// Vary calls the function at every combination of the axes and gives a table: a
// column for each axis, then "case" where the function gives several, then
// what it gives, then "reason", which says why a line is blank. The order is
// that of the axes, whatever the cores. When the context ends early the lines
// that are done are kept and the error is an *Unfinished.
func Vary(ctx context.Context, fn Batch, axes []Axis) (*table.Table, *Failed, error) {
	for i, a := range axes {
		if a.len() == 0 {
			return nil, nil, fmt.Errorf("%s has no values", a.Name)
		}
		for _, b := range axes[:i] {
			if a.Name == b.Name {
				return nil, nil, fmt.Errorf("%s is given twice", a.Name)
			}
		}
	}
	points := Grid(axes)
	results := fn(ctx, points)
	for i := range results {
		if r := &results[i]; r.Err == nil && len(r.Outcome) == 1 {
			r.Err = r.Outcome[0].Err // its only alternative failed: so did the point
		}
	}
	err := stopped(ctx, results)
	if err != nil && err != ctx.Err() {
		return nil, nil, err
	}
	var unfinished error
	if err != nil {
		points, results = finished(ctx, points, results)
		unfinished = &Unfinished{Done: len(points), Of: len(Grid(axes)), Cause: err}
	}
	return varied(axes, points, results), countFailed(results), unfinished
}

// finished keeps the points that were answered before the context ended.
func finished(ctx context.Context, points []Point, results []Result) ([]Point, []Result) {
	var done []Point
	var kept []Result
	for i, r := range results {
		if r.Err != nil && (r.Err == ctx.Err() || r.Err == context.Cause(ctx)) {
			continue
		}
		done, kept = append(done, points[i]), append(kept, r)
	}
	return done, kept
}
