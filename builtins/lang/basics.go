package lang

import (
	"fmt"
	"math"

	"go.starlark.net/starlark"

	"thole/engine/rounding"
	"thole/engine/table"
)

// Basics are the functions that know no rowing: numbers, texts, tables.
func Basics() []*Record {
	return []*Record{TableRecord, stepsRecord, aboutRecord, fmtRecord, clockRecord, roundRecord, sumRecord,
		meanRecord, minRecord, maxRecord}
}

var stepsRecord = &Record{
	Name: "steps", Summary: "values from first to last, both included, so far apart",
	Says: "it gives values equally far apart", Topic: "doing",
	Params: []Param{
		{Name: "first", Is: Number, Needed: true, Help: "the first value"},
		{Name: "last", Is: Number, Needed: true, Help: "the last value, included"},
		{Name: "by", Is: Number, Default: 1.0, Help: "how far apart"},
	},
	Gives: "a list of numbers", Errors: []string{"by is 0, or leads away from last"},
	Example: `steps(192, 206, 2)`,
	Do: func(c *Call) (starlark.Value, error) {
		xs, err := Steps(c.Number("first"), c.Number("last"), c.Number("by"), func(n int) error {
			return HostOf(c.Thread).Check("list", n)
		})
		if err != nil {
			if e := AsError(err); e != nil && e.Arg != "" {
				return nil, c.Wrong(e.Arg, e)
			}
			return nil, err
		}
		values := make([]starlark.Value, len(xs))
		for i, x := range xs {
			values[i] = Num(x)
		}
		return starlark.NewList(values), nil
	},
}

// Steps gives first, first+by ... up to last, which is included where the steps
// meet it. Each value is made from its number, not by adding up, and rounded to
// twelve figures, so that 0.1 steps show no dust.
func Steps(first, last, by float64, allow func(n int) error) ([]float64, error) {
	span := last - first
	switch {
	case by == 0:
		return nil, NoAnswer("a step of 0 never arrives", "by=1", "the step is 0").At("by")
	case span != 0 && span/by < 0:
		return nil, NoAnswer(fmt.Sprintf("from %s by %s leads away from %s", plain(first), plain(by),
			plain(last)), fmt.Sprintf("steps(%s, %s, %s)", plain(first), plain(last), plain(-by)),
			"these steps never arrive").At("by")
	}
	quotient := span / by
	if quotient > 1e15 {
		quotient = 1e15
	}
	n := int(math.Floor(quotient+1e-9)) + 1
	if err := allow(n); err != nil {
		return nil, err
	}
	xs := make([]float64, n)
	for i := range xs {
		xs[i] = rounding.Clean(first + float64(i)*by)
	}
	return xs, nil
}

var fmtRecord = &Record{
	Name: "fmt", Summary: "a number as text, with decimals and a unit",
	Says: "it writes a number with decimals and unit", Topic: "data",
	Params: []Param{
		{Name: "x", Is: Number | ThingOf, Types: []string{"estimate"}, Needed: true, Help: "the number"},
		{Name: "places", Is: Whole, Default: 1, Low: 0, High: 12, Help: "decimals"},
		{Name: "unit", Is: Text, Help: "what stands behind it"},
	},
	Gives: "a text", Example: `fmt(15.82, 1, "cm")`,
	Do: func(c *Call) (starlark.Value, error) {
		if e, ok := c.Value("x").(*Estimate); ok {
			p := Place{HasSpec: true, Fixed: true, Digits: c.Whole("places"), Unit: c.Text("unit")}
			return starlark.String(p.estimate(e)), nil
		}
		return starlark.String(table.WithUnit(table.Fixed(c.Number("x"), c.Whole("places")), c.Text("unit"))),
			nil
	},
}

var clockRecord = &Record{
	Name: "clock", Summary: "seconds as minutes and seconds", Says: "it writes seconds as m:ss.s",
	Topic: "data",
	Params: []Param{
		{Name: "s", Unit: "s", Is: Number, Needed: true, Help: "the time"},
		{Name: "places", Is: Whole, Default: 1, Low: 0, High: 6, Help: "decimals"},
	},
	Gives: "a text", Example: `clock(418.3)`,
	Do: func(c *Call) (starlark.Value, error) {
		return starlark.String(table.Clock(c.Number("s"), c.Whole("places"))), nil
	},
}

var roundRecord = &Record{
	Name: "round", Summary: "a number rounded, half away from zero", Says: "it rounds a number",
	Topic: "data",
	Params: []Param{
		{Name: "x", Is: Number, Needed: true, Help: "the number"},
		{Name: "places", Is: Whole, Default: 0, Low: -9, High: 12, Help: "decimals"},
	},
	Gives: "a number", Example: `round(15.82, 1)`,
	Do: func(c *Call) (starlark.Value, error) {
		x, n := c.Number("x"), c.Whole("places")
		if n < 0 {
			scale := math.Pow(10, float64(-n))
			return Num(math.Round(x/scale) * scale), nil
		}
		return Num(rounding.Decimals(x, n)), nil
	},
}

// listParam is the list of numbers of sum, mean, min and max.
func listParam(also Kind) []Param {
	return []Param{{Name: "xs", Is: List | also, Needed: true, Help: "a list of numbers"}}
}

// numbers gives the numbers of a list, or of several values; blanks are refused.
func numbers(c *Call) ([]float64, error) {
	values := c.More
	if len(values) > 0 {
		values = append([]starlark.Value{c.Value("xs")}, values...)
	} else {
		values = c.Items("xs")
	}
	xs := make([]float64, len(values))
	for i, v := range values {
		x, ok := AsNumber(v)
		if !ok {
			e := Mistake(c.Record.Name+" takes numbers", c.Record.Name+"([4.2, 4.3])", "number %d is %s", i,
				KindOf(v))
			if v == starlark.None {
				e = NoAnswer("a column is blank where there was no value",
					c.Record.Name+"(t.complete()[\"speed\"])", "%s has a blank to deal with, at number %d",
					c.Record.Name, i)
			}
			return nil, c.Wrong("xs", e)
		}
		xs[i] = x
	}
	if len(xs) == 0 && c.Record.Name != "sum" {
		return nil, c.Wrong("xs", NoAnswer("the list is empty: a where() may have kept no line",
			"print(len(xs)) before this line", "there is no %s of nothing", c.Record.Name))
	}
	return xs, nil
}

var sumRecord = &Record{
	Name: "sum", Summary: "the sum of a list of numbers", Topic: "data", Params: listParam(0),
	Gives: "a number", Errors: []string{"a blank among them"},
	Example: `sum([1.5, 2.5])`,
	Do: func(c *Call) (starlark.Value, error) {
		xs, err := numbers(c)
		if err != nil {
			return nil, err
		}
		return Num(total(xs)), nil
	},
}

var meanRecord = &Record{
	Name: "mean", Summary: "the mean of a list of numbers", Topic: "data", Params: listParam(0),
	Gives: "a number", Errors: []string{"a blank among them", "an empty list"},
	Example: `mean([4.21, 4.25])`,
	Do: func(c *Call) (starlark.Value, error) {
		xs, err := numbers(c)
		if err != nil {
			return nil, err
		}
		return Num(total(xs) / float64(len(xs))), nil
	},
}

// total sums with a carry of what rounding lost (Neumaier 1974), so that a long
// column's mean keeps its last digit.
func total(xs []float64) float64 {
	sum, lost := 0.0, 0.0
	for _, x := range xs {
		t := sum + x
		if math.Abs(sum) >= math.Abs(x) {
			lost += (sum - t) + x
		} else {
			lost += (x - t) + sum
		}
		sum = t
	}
	return sum + lost
}

var minRecord = extreme("min", "lowest", func(a, b float64) bool { return a < b })
var maxRecord = extreme("max", "highest", func(a, b float64) bool { return a > b })

// extreme makes min and max. Of texts the first or last in order is given.
func extreme(name, word string, better func(a, b float64) bool) *Record {
	return &Record{
		Name: name, Summary: "the " + word + " of a list, or of several values", Topic: "data",
		Params: append(listParam(Number|Text), Param{Name: "key", Is: Func, ByName: true,
			Help: "what to compare of each value"}),
		More: &Param{Name: "others", Help: "further values"}, Gives: "a value",
		Errors:  []string{"a blank among them", "an empty list"},
		Example: name + `([4.21, 4.25])`,
		Do: func(c *Call) (starlark.Value, error) {
			if key := c.Func("key"); key != nil || !allNumbers(c) {
				return ordered(c, name)
			}
			xs, err := numbers(c)
			if err != nil {
				return nil, err
			}
			best := xs[0]
			for _, x := range xs {
				if better(x, best) {
					best = x
				}
			}
			return Num(best), nil
		},
	}
}

func allNumbers(c *Call) bool {
	values := append(c.Items("xs"), c.More...)
	for _, v := range values {
		if _, ok := AsNumber(v); !ok && v != starlark.None {
			return false
		}
	}
	return true
}

// ordered leaves texts and keys to the language's own min and max.
func ordered(c *Call, name string) (starlark.Value, error) {
	args := starlark.Tuple{c.Value("xs")}
	args = append(args, c.More...)
	var kwargs []starlark.Tuple
	if key := c.Func("key"); key != nil {
		kwargs = append(kwargs, starlark.Tuple{starlark.String("key"), key})
	}
	return starlark.Call(c.Thread, starlark.Universe[name], args, kwargs)
}
