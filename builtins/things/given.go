package things

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
)

// Given are the arguments a thing was made from, by name, so that change can
// make it again with some of them replaced.
type Given []lang.Named

// GivenOf collects what a call was given. Arguments left out stay out, so that a
// default which follows from another argument follows the change too.
func GivenOf(c *lang.Call) Given {
	var g Given
	for i := range c.Record.Params {
		name := c.Record.Params[i].Name
		if c.Given(name) {
			g = append(g, lang.Named{Name: name, Value: fixed(c.Value(name))})
		}
	}
	return g
}

// fixed gives a list as a tuple: the thing made from it cannot change when the
// study changes its list later.
func fixed(v starlark.Value) starlark.Value {
	if l, ok := v.(*starlark.List); ok {
		items, _ := lang.Items(l)
		return starlark.Tuple(items)
	}
	return v
}

// Has tells whether a name was given.
func (g Given) Has(name string) bool { return g.value(name) != nil }

// value gives the value of a name, or nil.
func (g Given) value(name string) starlark.Value {
	for _, n := range g {
		if n.Name == name {
			return n.Value
		}
	}
	return nil
}

// With gives the arguments after a change; None takes an argument out, unless
// the maker's parameter has None for a value.
func (g Given) With(c *lang.Call, maker *lang.Record) Given {
	out := append(Given(nil), g...)
	for i := range c.Record.Params {
		name := c.Record.Params[i].Name
		if !c.Given(name) {
			continue
		}
		out = out.Without(name, instead[name])
		if v := c.Value(name); v != starlark.None || noneIsValue(maker, name) {
			out = append(out, lang.Named{Name: name, Value: fixed(v)})
		}
	}
	return out
}

// instead are values that say one thing in two ways: a change to the one takes the other out.
var instead = map[string]string{"power": "handle_power", "handle_power": "power"}

// And gives the arguments with one more.
func (g Given) And(name string, v starlark.Value) Given {
	return append(append(Given(nil), g...), lang.Named{Name: name, Value: v})
}

// Without gives the arguments but those of these names.
func (g Given) Without(names ...string) Given {
	var out Given
next:
	for _, n := range g {
		for _, name := range names {
			if n.Name == name {
				continue next
			}
		}
		out = append(out, n)
	}
	return out
}

func noneIsValue(r *lang.Record, name string) bool {
	for i := range r.Params {
		if r.Params[i].Name == name {
			return r.Params[i].None
		}
	}
	return false
}

// Make calls a maker with these arguments, for the thing that is changed.
func (g Given) Make(c *lang.Call, maker *lang.Record) (starlark.Value, error) {
	kwargs := make([]starlark.Tuple, len(g))
	for i, n := range g {
		kwargs[i] = starlark.Tuple{starlark.String(n.Name), n.Value}
	}
	return starlark.Call(c.Thread, maker.Method(c.Receiver), nil, kwargs)
}

// ChangeRecord makes the method change of a kind of thing from its maker: the
// same parameters, all by name, none needed; extra ones may be added.
func ChangeRecord(of string, maker *lang.Record, extra []lang.Param, givenOf func(starlark.Value) Given,
	after func(c *lang.Call, old, made starlark.Value) (starlark.Value, error)) *lang.Record {
	r := &lang.Record{
		Name: "change", Of: of, Topic: maker.Topic,
		Summary: "a copy with some values replaced; takes what made it",
		Gives:   "another " + of,
		Sources: maker.Sources, Gone: maker.Gone,
	}
	for _, p := range append(append([]lang.Param(nil), maker.Params...), extra...) {
		p.Needed, p.ByName, p.None = false, true, true
		p.Default, p.Shown = nil, "as it is"
		r.Params = append(r.Params, p)
	}
	r.Do = func(c *lang.Call) (starlark.Value, error) {
		made, err := givenOf(c.Receiver).With(c, maker).Make(c, maker)
		if err != nil || after == nil {
			return made, err
		}
		return after(c, c.Receiver, made)
	}
	return r
}
