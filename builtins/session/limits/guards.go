package limits

import (
	"slices"
	"strings"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"
)

// Guards are the functions that calls of Harden name, and the language's own
// functions that would otherwise run without bound.
var Guards = starlark.StringDict{}

// doing is what a guard does once it may: the operation itself.
type doing func(thread *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error)

// asking refuses an operation whose result would be too large.
type asking func(m *Meter, args starlark.Tuple, kwargs []starlark.Tuple) error

// Add makes a guard with the plain arguments of its call.
func Add(name string, do func(thread *starlark.Thread, args starlark.Tuple) (starlark.Value, error)) {
	guardWith(name, nil, func(t *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value,
		error) {
		return do(t, args)
	})
}

// guardWith makes a guard: it asks first, then does.
func guardWith(name string, ask asking, do doing) {
	Guards[name] = guarded(name, ask, do)
}

func guarded(name string, ask asking, do doing) *starlark.Builtin {
	return starlark.NewBuiltin(name, func(t *starlark.Thread, _ *starlark.Builtin, args starlark.Tuple,
		kwargs []starlark.Tuple) (starlark.Value, error) {
		if ask != nil {
			if err := ask(meterOf(t), args, kwargs); err != nil {
				return nil, err
			}
		}
		v, err := do(t, args, kwargs)
		return v, plainError(t, err)
	})
}

// calling does what a function of the language does.
func calling(own starlark.Value) doing {
	return func(t *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
		return starlark.Call(t, own, args, kwargs)
	}
}

// operators are joined with their guards' names and with what asks for them.
var operators = map[syntax.Token]struct {
	name string
	size func(m *Meter, x, y starlark.Value) error
}{
	syntax.STAR:    {"times", repeatSize},
	syntax.PLUS:    {"plus", sumSize},
	syntax.PERCENT: {"percent", percentSize},
	syntax.LTLT:    {"shift", func(_ *Meter, x, _ starlark.Value) error { return wholeSize(x) }},
	syntax.PIPE: {"union", func(m *Meter, x, y starlark.Value) error {
		return m.Check("dict", max(0, starlark.Len(x))+max(0, starlark.Len(y)))
	}},
}

func init() {
	for op, o := range operators {
		guardWith(Mark+o.name, func(m *Meter, args starlark.Tuple, _ []starlark.Tuple) error {
			_, first := args[0].(starlark.Float)
			_, second := args[1].(starlark.Float)
			if first || second && op != syntax.PERCENT {
				return nil // a plain number comes of it
			}
			return o.size(m, args[0], args[1])
		}, func(_ *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
			return starlark.Binary(op, args[0], args[1])
		})
	}
	itself := func(_ *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
		return args[0], nil
	}
	guardWith(Mark+"part", func(m *Meter, args starlark.Tuple,
		_ []starlark.Tuple) error {
		return m.part(args[0])
	}, itself)
	guardWith(Mark+"weigh", func(m *Meter, args starlark.Tuple,
		_ []starlark.Tuple) error {
		return m.make(bulk(args[0]))
	}, itself)
	guardWith(Mark+"key", func(_ *Meter, args starlark.Tuple,
		_ []starlark.Tuple) error {
		return asKey(args[0])
	}, itself)
	guardWith(Mark+"method", nil, method)

	guardOwn := func(names string, ask asking) {
		for _, name := range strings.Fields(names) {
			guardWith(name, ask, calling(starlark.Universe[name]))
		}
	}
	guardOwn("hash", hashSize)
	guardOwn("set dict", keysSize)
	guardOwn("list tuple sorted reversed enumerate zip any all", listsSize)
	guardOwn("str repr fail", textSize)
	guardOwn("print", printSize)
	guardWith("getattr", nil, func(t *starlark.Thread, args starlark.Tuple,
		kw []starlark.Tuple) (starlark.Value, error) {
		if len(args) >= 2 {
			if name, ok := starlark.AsString(args[1]); ok && slices.Contains(greedyMethods, name) {
				return method(t, args[:2], nil)
			}
		}
		return starlark.Call(t, starlark.Universe["getattr"], args, kw)
	})
	guardWith("range", nil, rangeOf)
}

// rangeOf counts with 12.0 as well as with 12.
func rangeOf(t *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
	whole := slices.Clone(args)
	for i, a := range args {
		if f, ok := a.(starlark.Float); ok && f == starlark.Float(int64(f)) {
			whole[i] = starlark.MakeInt64(int64(f))
		}
	}
	v, err := starlark.Call(t, starlark.Universe["range"], whole, kwargs)
	if err != nil {
		return nil, err
	}
	return v, meterOf(t).Check("range", starlark.Len(v))
}

// method gives a method of a text, list, dict or set that measures its result
// first.
func method(t *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
	recv, name := args[0], string(args[1].(starlark.String))
	own, err := starlark.Call(t, starlark.Universe["getattr"], starlark.Tuple{recv, args[1]}, nil)
	if err != nil {
		return nil, err
	}
	switch recv.(type) {
	case starlark.String, *starlark.List, *starlark.Dict, *starlark.Set:
		return guarded(name, func(m *Meter, args starlark.Tuple, kwargs []starlark.Tuple) error {
			return methodSize(m, recv, name, args, kwargs)
		}, calling(own)), nil
	}
	return own, nil
}

// plainError takes the frame of a guard's own call off an error, so that the
// message is that of the operation itself. Errors of functions of the study
// that were called on the way keep their place.
func plainError(thread *starlark.Thread, err error) error {
	if e, ok := err.(*starlark.EvalError); ok && len(e.CallStack) == thread.CallStackDepth()+1 {
		if cause := e.Unwrap(); cause != nil {
			return cause
		}
	}
	return err
}
