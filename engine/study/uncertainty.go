package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
)

// Joint is a set of inputs that are drawn together, as a calibration leaves them.
type Joint struct {
	Names     []string
	Mean      []float64
	Cov       [][]float64
	Low, High []float64 // bounds of each; nil: none. Draws outside are left out
}

// Doubt is what Uncertainty draws from.
type Doubt struct {
	Ranges []Range
	Joint  *Joint // nil: none
	Draws  int    // 0: 400
	Seed   uint64
}

// Drawn holds every output of every draw. A draw that failed in one case is
// left out of all, so that number i is the same draw in every case.
type Drawn struct {
	Outputs []Quantity
	Cases   []string      // one "" where the function gives one thing
	Values  [][][]float64 // [case][output][draw]
	AsSet   [][]float64   // [case][output], every input at its base; NaN: none
	Asked   int           // draws that were asked and answered, in time
	Failed  *Failed       // draws left out, or nil
	NotSet  error         // why nothing comes at the base, or nil
}

// Inputs gives the names of the inputs in the order of a Point: the ranges,
// then the joint ones.
func (d Doubt) Inputs() []string {
	var names []string
	for _, r := range d.Ranges {
		names = append(names, r.Name)
	}
	if d.Joint != nil {
		names = append(names, d.Joint.Names...)
	}
	return names
}

// Base is the point at which every input stands where it is set.
func (d Doubt) Base() Point {
	base := Bases(d.Ranges)
	if d.Joint != nil {
		base = append(base, d.Joint.Mean...)
	}
	return base
}

// fewestDraws: fewer say nothing about the ends of an interval.
const fewestDraws = 10

// Uncertainty draws the inputs, calls the function once a draw and keeps what
// came. Alternatives inside the function share each draw, so that their
// difference keeps an interval of its own. When more than half of the draws
// fail the error is a *Failed with the commonest reason. When the context ends
// early the draws that are done are kept and the error is an *Unfinished.
func Uncertainty(ctx context.Context, fn Batch, d Doubt) (*Drawn, error) {
	if d.Draws == 0 {
		d.Draws = defaultDraws
	}
	if d.Draws < fewestDraws {
		return nil, fmt.Errorf("%d draws are too few for a 95 %% interval: %d at least", d.Draws, fewestDraws)
	}
	if err := checkRanges(d.Ranges); err != nil {
		return nil, err
	}
	if len(d.Inputs()) == 0 {
		return nil, errors.New("there is nothing to draw: no range is given")
	}
	points, err := d.drawn()
	if err != nil {
		return nil, err
	}

	// the base goes with the draws, so that one call keeps all cores busy
	base := d.Base()
	results := fn(ctx, append([]Point{base}, points...))
	if err := stopped(ctx, results); err != nil && err != ctx.Err() {
		return nil, err
	}
	var unfinished error
	asSet, draws := results[0], results[1:]
	if ctx.Err() != nil {
		draws = slices.DeleteFunc(draws, func(r Result) bool { return unreached(ctx, r) })
		unfinished = &Unfinished{Done: len(draws), Of: len(points), Cause: ctx.Err()}
		if len(draws) == 0 {
			return nil, unfinished
		}
	}
	drawn, err := gather(asSet, draws)
	if err != nil {
		return nil, err
	}
	return drawn, unfinished
}

// gather turns the results into draws of outputs, pair by pair.
func gather(asSet Result, draws []Result) (*Drawn, error) {
	d := &Drawn{Asked: len(draws)}
	whole := make([]Result, len(draws))
	for i, r := range draws {
		whole[i] = Result{r.Outcome, pairFailed(r)}
	}
	d.Failed = countFailed(whole)
	if d.Failed != nil && 2*d.Failed.Count > len(draws) {
		return nil, d.Failed
	}

	shape := -1
	for i, r := range whole {
		if r.Err != nil {
			continue
		}
		if shape < 0 {
			shape = i
			d.shape(r.Outcome)
		}
		if err := d.add(r.Outcome); err != nil {
			return nil, err
		}
	}
	if len(d.Outputs) == 0 {
		return nil, errors.New("the function gives no number")
	}
	d.AsSet = make([][]float64, len(d.Cases))
	d.NotSet = pairFailed(asSet)
	for c := range d.Cases {
		d.AsSet[c] = make([]float64, len(d.Outputs))
		for k, q := range d.Outputs {
			d.AsSet[c][k] = math.NaN()
			if d.NotSet == nil && c < len(asSet.Outcome) {
				if v, ok := asSet.Outcome[c].Get(q.Name); ok && !v.IsText {
					d.AsSet[c][k] = v.Number
				}
			}
		}
	}
	return d, nil
}

// pairFailed says why a draw cannot be used: one failed case spoils the pair.
func pairFailed(r Result) error {
	if r.Err != nil {
		return r.Err
	}
	for _, c := range r.Outcome {
		if c.Err != nil {
			return c.Err
		}
	}
	return nil
}

// shape takes cases and outputs from the first good draw.
func (d *Drawn) shape(o Outcome) {
	for _, c := range o {
		d.Cases = append(d.Cases, c.Name)
	}
	if len(o) > 0 {
		for _, v := range o[0].Values {
			if !v.IsText {
				d.Outputs = append(d.Outputs, v.Quantity)
			}
		}
	}
	d.Values = make([][][]float64, len(d.Cases))
	for c := range d.Values {
		d.Values[c] = make([][]float64, len(d.Outputs))
	}
}

// add appends one draw; a draw of another shape is the function's fault.
func (d *Drawn) add(o Outcome) error {
	if len(o) != len(d.Cases) {
		return &Unlike{fmt.Sprintf("%d cases in one draw and %d in another", len(d.Cases), len(o))}
	}
	for c, kase := range o {
		if kase.Name != d.Cases[c] {
			return &Unlike{fmt.Sprintf("the case %q in one draw and %q in another", d.Cases[c], kase.Name)}
		}
		for k, q := range d.Outputs {
			v, ok := kase.Get(q.Name)
			if !ok || v.IsText {
				return &Unlike{fmt.Sprintf("%s in one draw and not in another", q.Name)}
			}
			d.Values[c][k] = append(d.Values[c][k], v.Number)
		}
	}
	return nil
}
