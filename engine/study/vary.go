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

// stretch is how many points Vary asks at a time: what a point gave is held no longer than
// until its stretch is written down, and the cores wait for the last of two thousand only.
const stretch = 2048

// pointAt is combination i of the axes, the last axis running fastest.
func pointAt(axes []Axis, i int) Point {
	p := make(Point, len(axes))
	for k := len(axes) - 1; k >= 0; k-- {
		p[k] = axes[k].at(i % axes[k].len())
		i /= axes[k].len()
	}
	return p
}

// points are the combinations from one up to another.
func points(axes []Axis, from, to int) []Point {
	out := make([]Point, to-from)
	for i := range out {
		out[i] = pointAt(axes, from+i)
	}
	return out
}

func combinations(axes []Axis) int {
	n := 1
	for _, a := range axes {
		n *= a.len()
	}
	return n
}

// Grid gives every combination of the axes, the last axis running fastest.
func Grid(axes []Axis) []Point { return points(axes, 0, combinations(axes)) }

// Varied is what Vary gives. The table has a column for each axis, then "case" where the
// function gives several, then what it gives, then "reason", which says why a line is blank.
type Varied struct {
	Table  *table.Table
	Failed *Failed         // points without an answer; nil: none
	Alike  bool            // every line came out as the first, in all that the function gives
	Spans  map[string]Span // of every number that the function gives, kept or not
}

// Vary calls the function at every combination of the axes, a stretch of them at a time, and
// keeps of what it gives the names in of, in that order; nil: all. The order of lines is
// that of the axes, whatever the cores. When the context ends early the lines that are done are
// kept and the error is an *Unfinished.
func Vary(ctx context.Context, fn Batch, axes []Axis, of []string) (*Varied, error) {
	for i, a := range axes {
		if a.len() == 0 {
			return nil, fmt.Errorf("%s has no values", a.Name)
		}
		for _, b := range axes[:i] {
			if a.Name == b.Name {
				return nil, fmt.Errorf("%s is given twice", a.Name)
			}
		}
	}
	n := combinations(axes)
	b, fails, done := newLines(axes, of, n), failures{}, 0
	var ended error
	for from := 0; from < n && ended == nil; from += stretch {
		asked := points(axes, from, min(n, from+stretch))
		results := fn(ctx, asked)
		for i := range results {
			if r := &results[i]; r.Err == nil && len(r.Outcome) == 1 {
				r.Err = r.Outcome[0].Err // its only alternative failed: so did the point
			}
		}
		if ended = stopped(ctx, results); ended != nil && ended != ctx.Err() {
			return nil, ended
		}
		for i, r := range results {
			if ended != nil && unreached(ctx, r) {
				continue
			}
			b.add(asked[i], r)
			fails.add(r.Err)
			done++
		}
		if no := b.lacks(); no != nil && len(b.given) > 0 {
			return nil, no
		}
	}
	v := &Varied{Table: b.table(), Failed: fails.sum(), Alike: b.alike(), Spans: b.spans()}
	if ended != nil {
		return v, &Unfinished{Done: done, Of: n, Cause: ended}
	}
	return v, nil
}

// unreached says whether the context ended before a point was answered.
func unreached(ctx context.Context, r Result) bool {
	return r.Err != nil && (r.Err == ctx.Err() || r.Err == context.Cause(ctx))
}
