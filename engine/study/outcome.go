package study

import (
	"context"
	"errors"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
)

// Point holds the inputs of one call, in the order of the axes or ranges that
// were asked. An axis of texts or things counts by index: 0, 1, 2.
type Point []float64

// Quantity names a number that comes out: its unit in the trade's writing and
// the decimals shown for it and for a change of it (table.AutoDigits: four figures).
type Quantity struct {
	Name   string
	Unit   string
	Digits int
	Change int
}

// Value is one named number or text of an outcome.
type Value struct {
	Quantity
	Number float64 // NaN is a blank
	Text   string  // used where IsText is set
	IsText bool
}

// Case is one line of an outcome: what one alternative gave. Err says why an
// alternative gave nothing while the others did.
type Case struct {
	Name   string // "" where a function gives one thing only
	Values []Value
	Err    error
}

// Outcome is all that one call gave: usually one Case without a name.
type Outcome []Case

// measurable: a thousandth of a unit is below what anyone measures.
const measurable = 1e-3

// Otherwise is what came out under an input's name where it is not what was asked: an inboard of
// 89 where 90 was asked. NaN: it came out as asked, or nothing of that name did.
func (o Outcome) Otherwise(input string, asked float64) float64 {
	for i := range o {
		v, ok := o[i].Get(input)
		if ok && !v.IsText && math.Abs(v.Number-asked) > measurable {
			return v.Number
		}
	}
	return math.NaN()
}

// PutAskedBeside puts what was asked of an input, as "inboard_asked", beside what came out under its
// name, in every outcome, where in any of them they differ. It gives the inputs that do.
func PutAskedBeside(inputs []string, points []Point, results []Result) (other []string) {
	for k, name := range inputs {
		for i := range results {
			if !math.IsNaN(results[i].Outcome.Otherwise(name, points[i][k])) {
				other = append(other, name)
				break
			}
		}
		if !slices.Contains(other, name) {
			continue
		}
		for i := range results {
			results[i].Outcome = results[i].Outcome.withAsked(name, points[i][k])
		}
	}
	return other
}

// withAsked is the outcome with what was asked of an input in every case that came.
func (o Outcome) withAsked(input string, asked float64) Outcome {
	out := slices.Clone(o)
	for i := range out {
		if v, ok := out[i].Get(input); ok {
			v.Name, v.Number = input+Asked, asked
			out[i].Values = append(slices.Clip(out[i].Values), v)
		}
	}
	return out
}

// Asked ends the name of what was asked where something else came out.
const Asked = "_asked"

// And is the outcome with one more value in its first case.
func (o Outcome) And(v Value) Outcome {
	first := o[0]
	first.Values = append(first.Values[:len(first.Values):len(first.Values)], v)
	return append(Outcome{first}, o[1:]...)
}

// Without is the outcome less one value of its first case.
func (o Outcome) Without(name string) Outcome {
	if len(o) == 0 {
		return o
	}
	first := o[0]
	first.Values = slices.DeleteFunc(slices.Clone(first.Values), func(v Value) bool { return v.Name == name })
	return append(Outcome{first}, o[1:]...)
}

// Result is the answer to one Point. A failed point carries its reason in Err.
// Points that were not reached when the context ended carry the context's error.
type Result struct {
	Outcome Outcome
	Err     error
}

// Batch answers many points, in the order they were asked, on as many cores as
// it likes. It must be a function of each point alone.
type Batch func(ctx context.Context, points []Point) []Result

// Stop wraps an error that is the fault of the function, not of the point (a
// function that gives nothing, a misspelt name): the whole study ends with it
// instead of counting one more failed point.
type Stop struct{ Err error }

func (s *Stop) Error() string { return s.Err.Error() }
func (s *Stop) Unwrap() error { return s.Err }

// Parallel makes a Batch of a function of one point, on all cores.
func Parallel(fn func(ctx context.Context, p Point) (Outcome, error)) Batch {
	return func(ctx context.Context, points []Point) []Result {
		results := make([]Result, len(points))
		var next atomic.Int64
		var all sync.WaitGroup
		for range min(runtime.GOMAXPROCS(0), len(points)) {
			all.Go(func() {
				for {
					i := int(next.Add(1)) - 1
					if i >= len(points) {
						return
					}
					if err := ctx.Err(); err != nil {
						results[i].Err = err
						continue
					}
					results[i].Outcome, results[i].Err = fn(ctx, points[i])
				}
			})
		}
		all.Wait()
		return results
	}
}

// One makes the Outcome of a function that gives a single number.
func One(name, unit string, x float64) Outcome {
	return Outcome{{Values: []Value{{Quantity: Quantity{Name: name, Unit: unit, Digits: -1, Change: -1},
		Number: x}}}}
}

// Get finds a number of the first case by name.
func (o Outcome) Get(name string) (Value, bool) {
	if len(o) == 0 {
		return Value{}, false
	}
	return o[0].Get(name)
}

// Get finds a value by name.
func (c Case) Get(name string) (Value, bool) {
	for _, v := range c.Values {
		if v.Name == name {
			return v, true
		}
	}
	return Value{}, false
}

// finite says whether x is a number that can be reckoned with.
func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// stopped gives the error that ends a whole study, or nil: a Stop of the
// first such point in order, else the context's end.
func stopped(ctx context.Context, results []Result) error {
	for i := range results {
		var stop *Stop
		if errors.As(results[i].Err, &stop) {
			return stop.Err
		}
		for _, c := range results[i].Outcome {
			if errors.As(c.Err, &stop) {
				return stop.Err
			}
		}
	}
	return ctx.Err()
}
