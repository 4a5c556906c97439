package limits

import (
	"slices"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"
)

// guards are the functions behind those names, and the language's own functions
// that would otherwise run without bound.
var Guards = starlark.StringDict{}

func Add(name string, f func(m *Meter, thread *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error)) {
	Guards[name] = starlark.NewBuiltin(name, func(thread *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
		return f(meterOf(thread), thread, args, kwargs)
	})
}

// binary makes the guard of an operator: size says how large the result would
// be, "" where it is a plain number.
func binary(name string, op syntax.Token, size func(m *Meter, x, y starlark.Value) error) {
	Guards[Mark+name] = starlark.NewBuiltin(Mark+name, func(thread *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
		x, y := args[0], args[1]
		if _, isFloat := x.(starlark.Float); !isFloat {
			if _, isFloat := y.(starlark.Float); !isFloat || op == syntax.PERCENT {
				if err := size(meterOf(thread), x, y); err != nil {
					return nil, err
				}
			}
		}
		return starlark.Binary(op, x, y)
	})
}

func init() {
	binary("times", syntax.STAR, repeatSize)
	binary("plus", syntax.PLUS, sumSize)
	binary("shift", syntax.LTLT, func(m *Meter, x, y starlark.Value) error { return wholeSize(x) })
	binary("union", syntax.PIPE, func(m *Meter, x, y starlark.Value) error {
		return m.Check("dict", max(0, starlark.Len(x))+max(0, starlark.Len(y)))
	})
	binary("percent", syntax.PERCENT, func(m *Meter, x, y starlark.Value) error {
		text, ok := x.(starlark.String)
		if !ok {
			return nil
		}
		n, err := m.writing(y)
		if err != nil {
			return err
		}
		return m.Check("text", len(text)+n*max(1, countByte(string(text), '%')))
	})
	Add(Mark+"part", func(m *Meter, _ *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
		v := args[0]
		if text, ok := v.(starlark.String); ok {
			return v, m.Check("text", len(text))
		}
		if n := starlark.Len(v); n > 0 {
			return v, m.Check("list", n)
		}
		return v, wholeSize(v)
	})
	Add(Mark+"weigh", func(m *Meter, _ *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
		return args[0], m.make(bulk(args[0]))
	})
	Add(Mark+"key", func(m *Meter, _ *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
		return args[0], asKey(args[0])
	})
	Add(Mark+"method", guardedMethod)
	Add("getattr", func(m *Meter, thread *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
		if len(args) >= 2 {
			if name, ok := starlark.AsString(args[1]); ok && slices.Contains(greedyMethods, name) {
				return guardedMethod(m, thread, args[:2], nil)
			}
		}
		v, err := starlark.Call(thread, starlark.Universe["getattr"], args, kwargs)
		return v, plainError(thread, err)
	})
	Add("hash", func(m *Meter, thread *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
		for _, a := range args {
			if err := asKey(a); err != nil {
				return nil, err
			}
		}
		v, err := starlark.Call(thread, starlark.Universe["hash"], args, kwargs)
		return v, plainError(thread, err)
	})
	for _, name := range []string{"list", "tuple", "set", "sorted", "reversed", "enumerate", "zip", "dict", "any", "all"} {
		guardUniverse(name, "list", func(v starlark.Value) int { return starlark.Len(v) })
	}
	for _, name := range []string{"str", "repr", "fail", "print"} {
		own := starlark.Universe[name]
		Add(name, func(m *Meter, thread *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
			total := 0
			for _, a := range args {
				n, err := m.writing(a)
				if err != nil {
					return nil, err
				}
				total += n
			}
			if err := m.Check("text", total); err != nil {
				return nil, err
			}
			v, err := starlark.Call(thread, own, args, kwargs)
			return v, plainError(thread, err)
		})
	}
	Add("range", func(m *Meter, thread *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
		whole := make(starlark.Tuple, len(args))
		for i, a := range args {
			whole[i] = a
			if f, ok := a.(starlark.Float); ok && f == starlark.Float(int64(f)) {
				whole[i] = starlark.MakeInt64(int64(f)) // 12.0 counts as well as 12
			}
		}
		v, err := starlark.Call(thread, starlark.Universe["range"], whole, kwargs)
		if err != nil {
			return nil, plainError(thread, err)
		}
		return v, m.Check("range", starlark.Len(v))
	})
}

// guardUniverse bounds the size of what one of the language's own functions is
// given.
func guardUniverse(name, what string, size func(starlark.Value) int) {
	own := starlark.Universe[name]
	Add(name, func(m *Meter, thread *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
		for _, a := range args {
			if n := size(a); n > 0 {
				if err := m.Check(what, n); err != nil {
					return nil, err
				}
				if err := keysOf(name, a); err != nil {
					return nil, err
				}
			}
		}
		v, err := starlark.Call(thread, own, args, kwargs)
		return v, plainError(thread, err)
	})
}

// guardedMethod gives a method of a text or list that measures its result first.
func guardedMethod(m *Meter, thread *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
	recv, name := args[0], string(args[1].(starlark.String))
	own, err := starlark.Call(thread, starlark.Universe["getattr"], starlark.Tuple{recv, args[1]}, nil)
	if err != nil {
		return nil, plainError(thread, err)
	}
	switch recv.(type) {
	case starlark.String, *starlark.List, *starlark.Dict, *starlark.Set:
	default:
		return own, nil
	}
	guarded := starlark.NewBuiltin(name, func(thread *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
		if err := methodSize(m, recv, name, args, kwargs); err != nil {
			return nil, err
		}
		v, err := starlark.Call(thread, own, args, kwargs)
		return v, plainError(thread, err)
	})
	return guarded, nil
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
