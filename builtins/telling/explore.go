package telling

import (
	"fmt"
	"math"
	"slices"

	"go.starlark.net/starlark"

	"thole/builtins/asking"
	"thole/builtins/lang"
	"thole/engine/document"
	"thole/engine/rounding"
	"thole/engine/study"
)

// The sliders of a page carry only states that were computed; so many fit into
// a page that opens from a stick on any phone.
const (
	mostAxes   = 3
	mostStates = 10_000
)

var exploreRecord = &lang.Record{
	Name: "explore", Counts: "figure", Topic: "telling", Summary: "sliders over computed states", Tells: true,
	Rest: &lang.Param{Name: "axes", Is: lang.Any, Help: "up to 3: lists or steps(first, last, by)"},
	Params: []lang.Param{
		{Name: "fn", Is: lang.Func, Needed: true, Help: "gives a stroke, a number or a dict of numbers"},
		{Name: "of", Is: lang.Text | lang.List, ByName: true, Default: "speed",
			Help: "fields that follow the sliders"}},
	Gives: "nothing; the page gets a slider an axis, at fn's own values to start with, else mid-axis",
	Errors: []string{fmt.Sprintf("more than %d axes or %d states: the count and what to reduce", mostAxes,
		mostStates)},
	Example: `explore(lambda wind: usual.change(wind=wind), of=["speed", "heaviness"], wind=steps(-2, 2, 2))`,
	Do:      exploreDo,
}

func exploreDo(c *lang.Call) (starlark.Value, error) {
	e := &document.Explore{}
	states := 1
	if len(c.Rest) == 0 || len(c.Rest) > mostAxes {
		return nil, lang.Mistake("an axis is a name of the function with its values",
			"explore(fn, of=[\"speed\"], length=steps(284, 292, 2))",
			"explore takes 1 to %d sliders, here are %d", mostAxes, len(c.Rest))
	}
	for _, r := range c.Rest {
		values, err := axisNumbers(c, r)
		if err != nil {
			return nil, err
		}
		unit, digits := asking.UnitOf(c, r.Name)
		e.Axes = append(e.Axes, document.Axis{Name: r.Name, Unit: unit, Digits: axisDigits(values, digits),
			Values: values})
		e.Base = append(e.Base, baseIndex(values, asking.OwnValue(c.Func("fn"), r.Name)))
		states *= len(values)
	}
	if states > mostStates {
		longest := 0
		for i := range e.Axes {
			if len(e.Axes[i].Values) > len(e.Axes[longest].Values) {
				longest = i
			}
		}
		a := e.Axes[longest]
		return nil, c.Wrong(a.Name,
			lang.Mistake("every state of the sliders is computed and kept in the page",
				"fewer steps of "+a.Name+", or one slider less",
				"these sliders have %d states, %d at most; %s alone has %d", states, mostStates, a.Name,
				len(a.Values)))
	}
	q, err := asking.NewQuestion(c, asking.NamesOf(c.Rest), "rowing")
	if err != nil {
		return nil, err
	}
	var axes []study.Axis
	for _, a := range e.Axes {
		axes = append(axes, study.Axis{Name: a.Name, Numbers: a.Values})
	}
	of, err := c.Texts("of")
	if err != nil {
		return nil, err
	}
	points := study.Grid(axes)
	results := q.Batch(c.Context(), points)
	for _, name := range study.PutAskedBeside(q.Names, points, results) { // both stand on the page
		e.Axes[slices.Index(q.Names, name)].Name += study.Asked
		if !slices.Contains(of, name) {
			of = append(of, name)
		}
	}
	if err := fillStates(q, e, results, of); err != nil {
		return nil, err
	}
	tell(c, e)
	return starlark.None, nil
}

// fillStates takes the fields asked for out of the results, state by state.
func fillStates(q *asking.Question, e *document.Explore, results []study.Result, of []string) error {
	failed := &study.Failed{Of: len(results)}
	for _, r := range results {
		if r.Err != nil {
			if stop, ok := r.Err.(*study.Stop); ok {
				return q.Tell(stop.Err, "of")
			}
			if err := q.C.Context().Err(); err != nil {
				return err
			}
			failed.Count++
			failed.Reason = r.Err
			e.States = append(e.States, nil)
			e.Reasons = append(e.Reasons, r.Err.Error())
			continue
		}
		row := make([]float64, len(of))
		for k, name := range of {
			v, ok := r.Outcome.Get(name)
			if !ok || v.IsText {
				return q.Tell(&study.NoSuchOutput{Of: name, Gives: numbersGiven(r.Outcome), Text: ok}, "of")
			}
			if len(e.Fields) < len(of) {
				f, _ := lang.HostOf(q.C.Thread).Quantity(name)
				e.Fields = append(e.Fields, document.Field{Name: name, Unit: v.Unit, Digits: v.Digits,
					Change: v.Change, Clock: f.Clock})
			}
			row[k] = v.Number
		}
		e.States = append(e.States, row)
		e.Reasons = append(e.Reasons, "")
	}
	if failed.Count == failed.Of {
		return q.Tell(failed, "of")
	}
	for i, row := range e.States {
		if row == nil {
			e.States[i] = make([]float64, len(of))
			for k := range e.States[i] {
				e.States[i][k] = math.NaN()
			}
		}
	}
	return nil
}

func numbersGiven(o study.Outcome) []string {
	var names []string
	if len(o) > 0 {
		for _, v := range o[0].Values {
			if !v.IsText {
				names = append(names, v.Name)
			}
		}
	}
	return names
}

// axisNumbers reads a slider's values: numbers that rise.
func axisNumbers(c *lang.Call, r lang.Named) ([]float64, error) {
	items, ok := lang.Items(r.Value)
	var values []float64
	for _, item := range items {
		x, number := lang.AsNumber(item)
		if !number || len(values) > 0 && x <= values[len(values)-1] {
			ok = false
			break
		}
		values = append(values, x)
	}
	if !ok || len(values) == 0 {
		return nil, c.Wrong(r.Name, lang.Mistake("a slider runs over numbers that rise",
			r.Name+"=steps(284, 292, 2)", "%s is no slider", r.Name))
	}
	return values, nil
}

// axisDigits shows a slider's values with as many decimals as they have.
func axisDigits(values []float64, most int) int {
	for digits := range max(most, 3) {
		whole := true
		for _, x := range values {
			if math.Abs(x-rounding.Decimals(x, digits)) > 1e-9 {
				whole = false
			}
		}
		if whole {
			return digits
		}
	}
	return max(most, 3)
}

// baseIndex is where a slider starts: at the function's own value, else in the middle.
func baseIndex(values []float64, own float64) int {
	best := len(values) / 2
	if math.IsNaN(own) {
		return best
	}
	for i, x := range values {
		if math.Abs(x-own) < math.Abs(values[best]-own) {
			best = i
		}
	}
	return best
}
