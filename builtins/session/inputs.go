package session

import (
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/table"
)

// checkInputs holds the names of a function's inputs against its def, before it
// is called a thousand times.
func checkInputs(fn starlark.Callable, inputs []starlark.Tuple) error {
	f, ok := fn.(*starlark.Function)
	if !ok {
		return nil
	}
	given := map[string]bool{}
	for _, kv := range inputs {
		name, _ := starlark.AsString(kv[0])
		given[name] = true
	}
	n := f.NumParams()
	if f.HasVarargs() {
		n--
	}
	if f.HasKwargs() {
		n--
	}
	var names, missing []string
	has := map[string]bool{}
	for i := range n {
		name, _ := f.Param(i)
		names, has[name] = append(names, name), true
		if !given[name] && f.ParamDefault(i) == nil {
			missing = append(missing, name)
		}
	}
	called := f.Name()
	if called == "lambda" {
		called = "this lambda"
	}
	for _, kv := range inputs {
		name, _ := starlark.AsString(kv[0])
		if has[name] || f.HasKwargs() {
			continue
		}
		e := lang.Mistake("its inputs are "+lang.Listed(names, "and", 10), "", "%s has no input %q", called,
			name)
		if len(names) == 0 {
			e.Why = "it has none"
		}
		e.Type = name + " among its inputs: def " + f.Name() + "(" + strings.Join(append(names, name), ", ") +
			")"
		if near := table.Nearest(name, names); near != "" {
			e.Type = near + "=..."
		}
		e.Arg, e.Part = name, lang.AtName
		return e
	}
	if len(missing) > 0 {
		return lang.Mistake("it has no = in its def, so it has to be given here", missing[0]+"=...",
			"%s needs %s", called, lang.Listed(missing, "and", 10))
	}
	return nil
}

// Inputs makes the named inputs of one call.
func Inputs(names []string, values []starlark.Value) []starlark.Tuple {
	kv := make([]starlark.Tuple, len(names))
	for i := range names {
		kv[i] = starlark.Tuple{starlark.String(names[i]), values[i]}
	}
	return kv
}
