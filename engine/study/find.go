package study

import (
	"context"
	"fmt"
	"math"

	"thole/engine/num"
)

// scanned is how many equal steps a range is looked through in. A function that
// crosses and comes back within two steps is seen by its turning (see dip).
const scanned = 16

// Found is where a function reaches a target.
type Found struct {
	Input   float64
	Outcome Outcome // all that the function gives there
	Calls   int     // points asked
}

// Jumps is a function that passes the target without taking its value.
type Jumps struct {
	Range  Range
	Output Quantity
	Target float64
	At     float64
	Below  float64 // the values on both sides
	Above  float64
}

func (e *Jumps) Error() string {
	return fmt.Sprintf("%s jumps over %g at %s %g", e.Output.Name, e.Target, e.Range.Name, e.At)
}

// Find gives the first place, from the low end of the range, where the output
// called of ("": the only number) crosses target. A target out of reach is a *NotReached, with the
// values at both ends and the reachable range.
func Find(ctx context.Context, fn Batch, in Range, of string, target float64) (*Found, error) {
	if err := checkRanges([]Range{in}); err != nil {
		return nil, err
	}
	if !finite(target) {
		return nil, fmt.Errorf("the target is no number")
	}
	s := &search{asker: asker{ctx: ctx, fn: fn, of: of}, in: in, target: target, seen: map[float64]Result{}}
	if err := s.scan(); err != nil {
		return nil, err
	}
	for i := range s.x {
		found, err := s.near(i)
		if err != nil || found != nil {
			return found, err
		}
	}
	return nil, s.notReached()
}

// search looks for one target over one range.
type search struct {
	asker
	in     Range
	target float64
	x, off []float64 // places in order and output - target there; NaN: failed
	seen   map[float64]Result
	failed error // of the search under way
}

// scan asks the whole range at once.
func (s *search) scan() error {
	points := make([]Point, scanned+1)
	for i := range points {
		s.x = append(s.x, s.in.at(float64(i)/scanned))
		points[i] = Point{s.x[i]}
	}
	results, values, err := s.all(points)
	if err != nil {
		return err
	}
	for i, v := range values {
		s.off = append(s.off, v-s.target)
		s.seen[s.x[i]] = results[i]
	}
	return nil
}

// at asks one more place. A failure ends the search under way: it answers 0,
// which any root or minimum takes for its end, and keeps the reason.
func (s *search) at(x float64) float64 {
	if s.failed != nil {
		return 0
	}
	r, v, err := s.one(Point{x})
	if err == nil {
		err = r.Err
	}
	if err != nil {
		s.failed = err
		return 0
	}
	s.seen[x] = r
	return v - s.target
}

// near looks for a crossing that begins at place i of the scan.
func (s *search) near(i int) (*Found, error) {
	x, off := s.x, s.off
	if math.IsNaN(off[i]) {
		// a failed place: the crossing may lie between it and a good neighbour above
		if i+1 < len(x) && finite(off[i+1]) {
			return s.toward(x[i+1], off[i+1], x[i])
		}
		return nil, nil
	}
	if off[i] == 0 {
		return s.found(x[i])
	}
	if i+1 == len(x) {
		return nil, nil
	}
	if math.IsNaN(off[i+1]) {
		return s.toward(x[i], off[i], x[i+1])
	}
	if off[i+1] != 0 && (off[i] > 0) != (off[i+1] > 0) {
		return s.between(x[i], x[i+1], off[i], off[i+1])
	}
	if i > 0 && s.dips(i) {
		return s.dip(x[i-1], x[i+1], off[i-1])
	}
	return nil, nil
}

// dips says whether the output turns toward the target about place i and away again.
func (s *search) dips(i int) bool {
	before, here, after := s.off[i-1], s.off[i], s.off[i+1]
	return finite(before) && before*here > 0 && here*after > 0 &&
		math.Abs(here) <= math.Abs(before) && math.Abs(here) <= math.Abs(after)
}

// between closes in on a change of sign.
func (s *search) between(a, b, offA, offB float64) (*Found, error) {
	s.failed = nil
	x, err := num.RootBetween(s.at, a, b, offA, offB, 1e-12*(s.in.High-s.in.Low))
	if s.failed != nil {
		return nil, s.failed
	}
	if err != nil {
		return nil, err
	}
	// a crossing that a smooth function makes leaves next to nothing; a jump
	// leaves a good part of the way from one side to the other
	left := math.Abs(s.value(x) - s.target)
	if left > 1e-3*math.Abs(offB-offA) {
		return nil, &Jumps{Range: s.in, Output: s.quantity(), Target: s.target, At: x, Below: offA + s.target,
			Above: offB + s.target}
	}
	return s.found(x)
}

// dip looks for the target between two places of the same side where the
// output turns toward it.
func (s *search) dip(a, b, offA float64) (*Found, error) {
	s.failed = nil
	side := math.Copysign(1, offA)
	crossed := math.NaN()
	num.Minimum(func(x float64) float64 {
		if !math.IsNaN(crossed) {
			return 0
		}
		off := side * s.at(x)
		if off <= 0 && s.failed == nil {
			crossed = x
		}
		return off
	}, a, b, 1e-9*(b-a))
	if s.failed != nil {
		return nil, s.failed
	}
	if math.IsNaN(crossed) {
		return nil, nil
	}
	return s.between(a, crossed, offA, s.value(crossed)-s.target)
}

// toward walks from a good place toward a failed one, halving the way, and
// looks for a crossing before the function fails.
func (s *search) toward(good, offGood, bad float64) (*Found, error) {
	for range 8 {
		mid := good + (bad-good)/2
		s.failed = nil
		off := s.at(mid)
		if s.ctx.Err() != nil {
			return nil, s.ctx.Err()
		}
		if s.failed != nil {
			bad = mid
			continue
		}
		if (off > 0) != (offGood > 0) || off == 0 {
			if good < mid {
				return s.between(good, mid, offGood, off)
			}
			return s.between(mid, good, off, offGood)
		}
		good, offGood = mid, off
	}
	return nil, nil
}

func (s *search) value(x float64) float64 {
	v, _ := s.seen[x].Outcome.Get(s.of)
	return v.Number
}

func (s *search) quantity() Quantity {
	for _, x := range s.x {
		if r := s.seen[x]; r.Err == nil {
			return quantity([]Result{r}, s.of)
		}
	}
	return quantity(nil, s.of)
}

func (s *search) found(x float64) (*Found, error) {
	return &Found{Input: x, Outcome: s.seen[x].Outcome, Calls: s.calls}, nil
}

// notReached says what can be reached instead.
func (s *search) notReached() error {
	e := &NotReached{Range: s.in, Output: s.quantity(), Target: s.target, Monotone: true,
		AtLow: s.off[0] + s.target, AtHigh: s.off[scanned] + s.target, Least: math.Inf(1), Most: math.Inf(-1)}
	var results []Result
	rises, falls := false, false
	last := math.NaN()
	for i, x := range s.x {
		results = append(results, s.seen[x])
		if math.IsNaN(s.off[i]) {
			continue
		}
		v := s.off[i] + s.target
		rises, falls = rises || v > last, falls || v < last
		last = v
		if v < e.Least {
			e.Least, e.LeastAt = v, x
		}
		if v > e.Most {
			e.Most, e.MostAt = v, x
		}
	}
	e.Monotone = !(rises && falls)
	e.Failed = countFailed(results)
	if e.Failed != nil && e.Failed.Count == len(results) {
		return e.Failed
	}
	return e
}
