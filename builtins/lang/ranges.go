package lang

import (
	"fmt"
	"math"

	"go.starlark.net/starlark"

	"thole/engine/table"
)

// Range is a span of a number: even between Low and High, or a bell around
// Value with the standard deviation SD (ends at two of them).
type Range struct {
	Low, High float64
	Bell      bool
	Value, SD float64
}

// Ranges is the kind of thing that about() gives.
var Ranges = &Type[Range]{
	Name: "range about",
	Fields: []FieldOf[Range]{
		{Field{Name: "value", Digits: table.AutoDigits}, func(r Range) starlark.Value {
			return Num(r.Value)
		}},
		{Field{Name: "sd", Digits: table.AutoDigits}, func(r Range) starlark.Value { return Num(r.SD) }},
		{Field{Name: "low", Digits: table.AutoDigits}, func(r Range) starlark.Value { return Num(r.Low) }},
		{Field{Name: "high", Digits: table.AutoDigits}, func(r Range) starlark.Value { return Num(r.High) }},
	},
	Line: func(r Range) string { return "about " + plain(r.Value) + ", give or take " + plain(r.SD) },
	Same: func(a, b Range) bool { return a == b },
}

var aboutRecord = &Record{
	Name: "about", Summary: "a value with its spread, a bell: two of it in each direction hold 95 %",
	Says: "it gives a value with its spread", Topic: "asking",
	Params: []Param{
		{Name: "value", Is: Number, Needed: true, Help: "the middle"},
		{Name: "sd", Is: Number, Needed: true, Help: "the standard deviation"},
	},
	Gives: "a range, for the inputs of uncertainty and its like", Example: `about(380, 8)`,
	Do: func(c *Call) (starlark.Value, error) {
		v, sd := c.Number("value"), c.Number("sd")
		if sd <= 0 {
			return nil, c.Wrong("sd", Mistake("without spread there is nothing to draw",
				fmt.Sprintf("about(%s, %s)", plain(v), plain(math.Max(math.Abs(v)/50, 0.01))),
				"the spread %s is not above 0", plain(sd)))
		}
		return Ranges.New(Range{Low: v - 2*sd, High: v + 2*sd, Bell: true, Value: v, SD: sd}), nil
	},
}

// AsRange reads (low, high) or about(value, sd); a single number is no range.
func AsRange(name string, v starlark.Value) (Range, *Error) {
	if r, ok := Ranges.From(v); ok {
		return r, nil
	}
	wrong := func() *Error {
		return Mistake("a range is (low, high), or about(value, sd) for a bell", name+"=(190, 206)",
			"%s is no range: %s", name, Briefly(v)).At(name)
	}
	items, ok := Items(v)
	if !ok || len(items) != 2 {
		return Range{}, wrong()
	}
	low, ok1 := AsNumber(items[0])
	high, ok2 := AsNumber(items[1])
	if !ok1 || !ok2 {
		return Range{}, wrong()
	}
	if low >= high {
		return Range{}, Mistake("the lower end stands first", fmt.Sprintf("%s=(%s, %s)", name, plain(high),
			plain(low)), "%s has no room between %s and %s", name, plain(low), plain(high)).At(name)
	}
	return Range{Low: low, High: high, Value: (low + high) / 2}, nil
}
