package lang

import "go.starlark.net/starlark"

// Literal is an argument of a call as it is written: its value where that is
// written out, nil where it is only known when the study runs.
type Literal struct {
	Name  string // "" by its place
	Value starlark.Value
}

// CheckLiterals holds the arguments of a call against the record without
// calling it: names, places, kinds, choices, and windows where windows is true.
// Whole tells that there are no further arguments (no * or **).
func (r *Record) CheckLiterals(args []Literal, whole, windows bool) *Error {
	var places starlark.Tuple
	var names []starlark.Tuple
	for _, a := range args {
		v := a.Value
		if v == nil {
			v = unknownValue{}
		}
		if a.Name == "" {
			places = append(places, v)
		} else {
			names = append(names, starlark.Tuple{starlark.String(a.Name), v})
		}
	}
	c, err := r.bind(nil, nil, places, names)
	if err != nil {
		e := AsError(err)
		if !whole && e.Arg == "" {
			return nil // what is missing may come by **
		}
		return e
	}
	for i := range r.Params {
		p, v := &r.Params[i], c.values[i]
		if _, unknown := v.(unknownValue); v == nil || unknown {
			continue
		}
		if e := AsError(c.checkArg(NoHost{}, i)); e != nil && (windows || !e.NoAnswer) {
			if p.Each {
				continue
			}
			return e
		}
	}
	return nil
}

// unknownValue stands for a value that is only known when the study runs.
type unknownValue struct{ starlark.NoneType }

func (unknownValue) Type() string { return "unknown" }
