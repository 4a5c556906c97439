package weighing

import (
	"math"

	"thole/engine/stroke"
	"thole/engine/study"
)

// Quantity is a result field whose change is weighed: lengths and angles in their unit,
// everything else in percent of what it was.
type Quantity struct {
	*stroke.Field
	Percent bool
}

// Quantities are all result fields of a stroke, in the order of cards.
func Quantities() []Quantity {
	out := make([]Quantity, len(stroke.Fields))
	for i := range stroke.Fields {
		f := &stroke.Fields[i]
		out[i] = Quantity{f, f.Unit != "cm" && f.Unit != "m" && f.Unit != "deg"}
	}
	return out
}

// ChangeUnit is the unit of a change.
func (q *Quantity) ChangeUnit() string {
	if q.Percent {
		return "%"
	}
	return q.Unit
}

// ChangeDigits are the decimals of a change.
func (q *Quantity) ChangeDigits() int {
	if q.Percent {
		return 3
	}
	return 2
}

// Change is what the field changes by from before to after, in ChangeUnit; 0 where only
// the last bits differ.
func (q *Quantity) Change(p Pair) float64 { return q.ChangeOf(q.Of(p.Before), q.Of(p.After)) }

// ChangeOf is Change of the field's two values.
func (q *Quantity) ChangeOf(was, is float64) float64 {
	if math.Abs(is-was) <= 1e-8*math.Abs(was) { // a stroke is solved to 1e-9
		return 0
	}
	if !q.Percent {
		return is - was
	}
	if was == 0 {
		return math.NaN()
	}
	return 100 * (is - was) / math.Abs(was)
}

// paces follow from the speed alone: what holds the speed says nothing of them.
var paces = map[string]bool{"speed": true, "split": true, "time_2000": true,
	"distance_per_stroke": true, "ground_speed": true}

// Pace says whether a field decides races, so that worthwhile is about it.
func Pace(name string) bool { return paces[name] }

// settledBy says whether a hold settles the field, so that its change there tells nothing.
func (q *Quantity) settledBy(h stroke.Hold) bool {
	return q.Name == field(h).Name || h == stroke.Speed && paces[q.Name]
}

// smallPart is the part of any other quantity below which its change is too small to matter.
const smallPart = 0.005

// Worth is the smallest change that matters, in ChangeUnit: worthwhile [%] for paces, half
// a percent of anything else (common practice, no source).
func (q *Quantity) Worth(worthwhile, before float64) float64 {
	switch {
	case Pace(q.Name):
		return worthwhile
	case q.Percent:
		return 100 * smallPart
	}
	return smallPart * math.Abs(before)
}

// Values are the changes of all quantities as a study's outcome has them.
func (w *Weighed) Values(p Pair) []study.Value {
	out := make([]study.Value, len(w.Quantities))
	for k, x := range w.changes(p, nil) {
		q := &w.Quantities[k]
		out[k] = study.Value{Quantity: study.Quantity{Name: q.Name, Unit: q.ChangeUnit(),
			Digits: q.ChangeDigits(), Change: q.ChangeDigits()}, Number: x}
	}
	return out
}
