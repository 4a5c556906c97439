package lang

import (
	"context"
	"fmt"
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/units"
)

// Call is one call of a record: its arguments, checked. The getters take a
// parameter's name and panic where the record has none of that name (a
// programmer's mistake). A parameter that is unset gives its default, and the
// zero value where it has none: ask Given or Has first.
type Call struct {
	Record   *Record
	Thread   *starlark.Thread
	Receiver starlark.Value   // of a method
	More     []starlark.Value // further values without a name
	Rest     []Named          // further names, in the order given

	values []starlark.Value // one a parameter, nil when unset
	index  []int            // place of an argument given without a name, else -1
}

// Named is an argument with its name.
type Named struct {
	Name  string
	Value starlark.Value
}

// Context is done when the study must stop.
func (c *Call) Context() context.Context { return HostOf(c.Thread).Context() }

func (c *Call) at(name string) int {
	for i := range c.Record.Params {
		if c.Record.Params[i].Name == name {
			return i
		}
	}
	panic(fmt.Sprintf("record %s has no parameter %q", c.Record.FullName(), name))
}

// Given tells whether the caller set the parameter (None is unset).
func (c *Call) Given(name string) bool { return c.values[c.at(name)] != nil }

// Has tells whether the parameter has a value, given or by default.
func (c *Call) Has(name string) bool {
	i := c.at(name)
	return c.values[i] != nil || c.Record.Params[i].Default != nil
}

// IsNone tells whether None was given to a parameter for which that is a value.
func (c *Call) IsNone(name string) bool { return c.values[c.at(name)] == starlark.None }

// Value gives the argument as it is, nil when unset without a default.
func (c *Call) Value(name string) starlark.Value {
	i := c.at(name)
	if c.values[i] != nil {
		return c.values[i]
	}
	return valueOf(c.Record.Params[i].Default)
}

// Number gives a number in the parameter's unit, NaN when unset without a default.
func (c *Call) Number(name string) float64 {
	if x, ok := AsNumber(c.Value(name)); ok {
		return x
	}
	return math.NaN()
}

// SI gives a number as the engine takes it: metres for a parameter in cm, radians
// for one in degrees. NaN when unset without a default.
func (c *Call) SI(name string) float64 {
	return units.SI(c.Number(name), c.Record.Params[c.at(name)].Unit)
}

// Put sets a field, in SI, to the parameter of that name where it was given.
func (c *Call) Put(name string, field *float64) {
	if c.Given(name) {
		*field = c.SI(name)
	}
}

// Whole gives a whole number.
func (c *Call) Whole(name string) int {
	x := c.Number(name)
	if math.IsNaN(x) {
		return 0
	}
	return int(x)
}

// Text gives a text.
func (c *Call) Text(name string) string {
	s, _ := starlark.AsString(c.Value(name))
	return s
}

// Flag gives True or False.
func (c *Call) Flag(name string) bool {
	b, _ := c.Value(name).(starlark.Bool)
	return bool(b)
}

// Func gives a function, nil when unset.
func (c *Call) Func(name string) starlark.Callable {
	f, _ := c.Value(name).(starlark.Callable)
	return f
}

// Items gives the elements of a list; a single value counts as a list of one,
// an unset parameter as an empty list.
func (c *Call) Items(name string) []starlark.Value {
	v := c.Value(name)
	if v == nil {
		return nil
	}
	if items, ok := Items(v); ok {
		if _, table := v.(*Table); !table {
			return items
		}
	}
	return []starlark.Value{v}
}

// IsList tells whether a list was given (and not one value for all).
func (c *Call) IsList(name string) bool {
	switch c.Value(name).(type) {
	case *starlark.List, starlark.Tuple:
		return true
	}
	return false
}

// Texts gives the texts of a list, or of a single text.
func (c *Call) Texts(name string) ([]string, error) {
	var texts []string
	for _, v := range c.Items(name) {
		s, ok := starlark.AsString(v)
		if !ok {
			return nil, c.Wrong(name, Mistake(name+" takes a text or a list of texts", "",
				"%s among %s is no text", Briefly(v), name))
		}
		texts = append(texts, s)
	}
	return texts, nil
}

// Numbers gives the numbers of a list, or of a single number.
func (c *Call) Numbers(name string) ([]float64, error) {
	var xs []float64
	for _, v := range c.Items(name) {
		x, ok := AsNumber(v)
		if !ok {
			return nil, c.Wrong(name, Mistake(name+" takes a number or a list of numbers", "",
				"%s among %s is no number", Briefly(v), name))
		}
		xs = append(xs, x)
	}
	return xs, nil
}

// Wrong points an error at an argument, wherever it stood in the call.
func (c *Call) Wrong(name string, e *Error) *Error {
	for i := range c.Record.Params {
		if c.Record.Params[i].Name == name {
			e.Arg, e.Index = name, c.index[i]
			return e
		}
	}
	e.Arg, e.Index = name, -1 // one of the further names
	return e
}

// valueOf makes the script value of a default.
func valueOf(d any) starlark.Value {
	switch d := d.(type) {
	case nil:
		return nil
	case float64:
		return Num(d)
	case int:
		return starlark.MakeInt(d)
	case string:
		return starlark.String(d)
	case bool:
		return starlark.Bool(d)
	case starlark.Value:
		return d
	}
	panic(fmt.Sprintf("default %v is no number, text, True or False", d))
}
