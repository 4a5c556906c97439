package asking

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/things"
	"thole/engine/rounding"
	"thole/engine/study"
	"thole/engine/table"
)

var rangeParam = &lang.Param{Name: "ranges", Help: "(low, high), or about(value, sd), by the input's name"}

var ofParam = lang.Param{Name: "of", Is: lang.Text, ByName: true, Shown: "the only one",
	Help: "which number, where fn gives several"}

var findRecord = &lang.Record{
	Name: "find", Topic: "asking", Says: "it finds where a target is reached",
	Summary: "where a function reaches a target, the first place from low",
	Params: []lang.Param{fnParam,
		{Name: "target", Is: lang.Number, Needed: true, ByName: true, Low: -1e12, High: 1e12,
			Help: "the value to reach"},
		ofParam},
	Rest: rangeParam,
	Gives: "a line: the input, and all that fn gives there; .note says if it lies beyond the usual range " +
		"of an oar, a blade or a rig, or at its edge, and .usual is the line which that range reaches, the " +
		"same one within it",
	Errors: []string{"a target out of reach: with what is reachable", "two ranges: find moves one input"},
	Example: `find(lambda outboard: usual.change(oar=sculls.change(outboard=outboard)), of="heaviness", ` +
		`target=usual.heaviness - 5, outboard=(180, 205))`,
	Do: findDo,
}

func findDo(c *lang.Call) (starlark.Value, error) {
	if err := NeedRanges(c, "outboard=(180, 210)"); err != nil {
		return nil, err
	}
	if len(c.Rest) > 1 {
		return nil, c.Wrong(c.Rest[1].Name, lang.Mistake("with two inputs a target is met along a whole line",
			"find_best(...), or one range and the other input fixed in the function",
			"find moves one input, not %d", len(c.Rest)))
	}
	q, ranges, err := searching(c, "searching")
	if err != nil {
		return nil, err
	}
	found, err := study.Find(c.Context(), q.Batch, ranges[0], c.Text("of"), c.Number("target"))
	var not *study.NotReached
	var jump *study.Jumps
	switch {
	case errors.As(err, &not):
		return nil, c.Wrong("target", notReached(not))
	case errors.As(err, &jump):
		return nil, c.Wrong("target", lang.NoAnswer("the output passes it without taking its value",
			"another target",
			"%s is jumped over at %s %s", quantity(jump.Output, jump.Target), jump.Range.Name,
			table.Fixed(jump.At, -1)))
	case err != nil:
		return nil, q.Tell(err, "of")
	}
	q.aloud(study.Point{found.Input})
	inside, note := q.within(ranges[0], found, c.Text("of"))
	q.tellUsual(note)
	extra := starlark.StringDict{"note": starlark.None,
		"usual": pointLine(ranges, study.Point{inside.Input}, inside.Outcome, nil)}
	if note != "" {
		extra["note"] = starlark.String(note)
	}
	return pointLine(ranges, study.Point{found.Input}, found.Outcome, extra), nil
}

// quantity writes a number with the digits and unit of an output.
func quantity(q study.Quantity, x float64) string {
	return table.Quantity(x, q.Name, q.Unit, q.Digits)
}

// notReached says what the range reaches and where to look on.
func notReached(e *study.NotReached) *lang.Error {
	name := e.Output.Name
	if name == "value" {
		name = "it"
	}
	digits := e.Output.Digits
	at := func(x float64) string { return e.Range.Name + " " + table.Fixed(x, -1) }
	out := lang.NoAnswer("", "", "%s is not reached", quantity(e.Output, e.Target))
	out.Part = lang.AtBoth
	ends := math.IsNaN(e.AtLow) || math.IsNaN(e.AtHigh)
	switch {
	case e.Monotone && !ends:
		way := "rising"
		if e.AtHigh < e.AtLow {
			way = "falling"
		}
		out.Why = fmt.Sprintf("%s goes from %s (%s) to %s (%s), %s all the way", name, table.Fixed(e.AtLow,
			digits), at(e.Range.Low), table.Fixed(e.AtHigh, digits), table.Fixed(e.Range.High, -1), way)
		out.Type = wider(e)
	default:
		out.Why = fmt.Sprintf("%s lies between %s (%s) and %s (%s)", name, table.Fixed(e.Least, digits),
			at(e.LeastAt), table.Fixed(e.Most, digits), table.Fixed(e.MostAt, -1))
		if e.Failed != nil {
			out.Why += fmt.Sprintf("; %d of %d places have no answer: %v", e.Failed.Count, e.Failed.Of,
				e.Failed.Reason)
		}
		nearest := e.Least
		if e.Target > e.Most {
			nearest = e.Most
		}
		out.Type = "target=" + table.Fixed(nearest, digits)
	}
	return out
}

// wider gives the range that would reach the target if the output went on as it
// does, a little farther, within the input's window.
func wider(e *study.NotReached) string {
	low, high := e.Range.Low, e.Range.High
	slope := (e.AtHigh - e.AtLow) / (high - low)
	if slope == 0 {
		return ""
	}
	reach := low + (e.Target-e.AtLow)/slope
	reach += 0.2 * (reach - min(max(reach, low), high))
	grain := math.Pow(10, math.Floor(math.Log10(high-low))-1) // a tenth of the range's first figure
	floor, ceiling := windowOf(e.Range.Name)
	if reach < low {
		low = max(math.Floor(reach/grain)*grain, floor)
	} else {
		high = min(math.Ceil(reach/grain)*grain, ceiling)
	}
	if low == e.Range.Low && high == e.Range.High {
		return "" // the window allows no more
	}
	return fmt.Sprintf("%s=(%s, %s)", e.Range.Name, table.Fixed(low, -1), table.Fixed(high, -1))
}

// windowOf gives the window of the parameters called like an input; all numbers
// where there is none, or unlike ones.
func windowOf(name string) (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	for _, r := range append(things.Records(), rowing.Records()...) {
		for _, p := range r.Params {
			if p.Name == name && (p.Low != 0 || p.High != 0) {
				low, high = max(low, p.Low), min(high, p.High)
			}
		}
	}
	if name == "outboard" {
		low, high = things.OutboardParam.Low, things.OutboardParam.High
	}
	return low, high
}

// pointLine lays inputs and outputs of one point out as a line.
func pointLine(ranges []study.Range, at study.Point, o study.Outcome, extra starlark.StringDict) *lang.Line {
	t := &table.Table{}
	for i, r := range ranges {
		t.Columns = append(t.Columns, &table.Column{Name: r.Name, Unit: r.Unit, Digits: r.Digits,
			Change: r.Digits, Nums: []float64{rounding.Clean(at[i])}})
	}
	for _, v := range o[0].Values {
		if slices.ContainsFunc(ranges, func(r study.Range) bool { return r.Name == v.Name }) {
			continue // the input tells it already
		}
		col := &table.Column{Name: v.Name, Unit: v.Unit, Digits: v.Digits, Change: v.Change}
		if v.IsText {
			col.Kind, col.Texts = table.Text, []string{v.Text}
		} else {
			col.Nums = []float64{v.Number}
		}
		t.Columns = append(t.Columns, col)
	}
	value := lang.NewTable(t)
	value.Lead = len(ranges)
	return lang.NewLine(value, extra)
}
