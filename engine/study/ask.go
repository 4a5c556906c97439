package study

import (
	"context"
	"errors"
	"math"
)

// asker puts points to a function and reads one output, "" for the only
// number there is; it counts the calls.
type asker struct {
	ctx   context.Context
	fn    Batch
	of    string
	calls int
}

// all asks many points at once; a point without the output gives NaN. The
// first error of the function itself, or the context's end, is the study's.
func (a *asker) all(points []Point) ([]Result, []float64, error) {
	a.calls += len(points)
	results := a.fn(a.ctx, points)
	if err := stopped(a.ctx, results); err != nil {
		return nil, nil, err
	}
	if a.of == "" {
		a.of = onlyNumber(results)
	}
	values := make([]float64, len(results))
	for i := range results {
		v, err := read(&results[i], a.of)
		if err != nil {
			return nil, nil, err
		}
		values[i] = v
	}
	return results, values, nil
}

// one asks a single point.
func (a *asker) one(p Point) (Result, float64, error) {
	results, values, err := a.all([]Point{p})
	if err != nil {
		return Result{}, math.NaN(), err
	}
	return results[0], values[0], nil
}

// read gives the output called of. A failed point, or one whose output is
// blank, is NaN with a reason in r.Err; a function that never gives it is an error.
func read(r *Result, of string) (float64, error) {
	if r.Err != nil {
		return math.NaN(), nil
	}
	if len(r.Outcome) != 1 {
		e := &SeveralCases{}
		for _, c := range r.Outcome {
			e.Cases = append(e.Cases, c.Name)
		}
		return math.NaN(), e
	}
	c := r.Outcome[0]
	if c.Err != nil {
		r.Err = c.Err
		return math.NaN(), nil
	}
	v, ok := c.Get(of)
	if !ok || v.IsText {
		e := &NoSuchOutput{Of: of, Text: v.IsText}
		for _, g := range c.Values {
			if !g.IsText {
				e.Gives = append(e.Gives, g.Name)
			}
		}
		return math.NaN(), e
	}
	if !finite(v.Number) {
		r.Err = errors.New(of + " is blank there")
		return math.NaN(), nil
	}
	return v.Number, nil
}

// onlyNumber names the number of a function that gives one; "" for others, and
// for results that all failed.
func onlyNumber(results []Result) string {
	for _, r := range results {
		if r.Err != nil || len(r.Outcome) != 1 || r.Outcome[0].Err != nil {
			continue
		}
		name := ""
		for _, v := range r.Outcome[0].Values {
			if v.IsText {
				continue
			}
			if name != "" {
				return ""
			}
			name = v.Name
		}
		return name
	}
	return ""
}

// quantity gives name, unit and digits of an output from the first good result.
func quantity(results []Result, of string) Quantity {
	for _, r := range results {
		if v, ok := r.Outcome.Get(of); ok && r.Err == nil {
			return v.Quantity
		}
	}
	return Quantity{Name: of, Digits: -1, Change: -1}
}
