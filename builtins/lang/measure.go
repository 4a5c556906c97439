package lang

import (
	"go.starlark.net/starlark"
)

// deepest is how many lists may stand within each other where a value is
// written, hashed or fixed: those operations go down one call a level, and a
// million levels would end the program and not the study.
const deepest = 1000

// Measure tells how many bytes a value takes when written out, parts that are
// shared counted each time. ok is false where it is deeper than any person's
// data, or would be longer than most bytes or more than most values.
func Measure(v starlark.Value, most int) (n int, ok bool) {
	m := measurer{left: most, most: most}
	n = m.size(v, 0)
	return n, !m.over && n <= most
}

type measurer struct {
	left int // values still to be looked at
	most int
	over bool
}

func (m *measurer) size(v starlark.Value, depth int) int {
	m.left--
	if m.left < 0 || depth > deepest {
		m.over = true
	}
	if m.over {
		return 0
	}
	n := 2
	switch v := v.(type) {
	case starlark.String:
		return len(v) + 2
	case starlark.Tuple:
		for _, x := range v {
			n += 2 + m.size(x, depth+1)
			if m.over || n > m.most {
				break
			}
		}
	case *starlark.List:
		for i := 0; i < v.Len() && !m.over && n <= m.most; i++ {
			n += 2 + m.size(v.Index(i), depth+1)
		}
	case *starlark.Dict:
		for _, kv := range v.Items() {
			n += 4 + m.size(kv[0], depth+1) + m.size(kv[1], depth+1)
			if m.over || n > m.most {
				break
			}
		}
	case *starlark.Set:
		return 2 + 24*v.Len()
	case starlark.Int:
		if _, small := v.Int64(); !small {
			return v.BigInt().BitLen() / 3
		}
		return 20
	default:
		return 24
	}
	return n
}

// tellable refuses values that would be too long on a page before any of them is
// written: what tells is held as what prints is.
func (c *Call) tellable(host Host) error {
	total := 0
	count := func(v starlark.Value) error {
		n, ok := Measure(v, 16<<20)
		if !ok {
			return TooLong()
		}
		total += n
		return nil
	}
	for i, v := range c.values {
		if v == nil {
			continue
		}
		if err := count(v); err != nil {
			return c.Wrong(c.Record.Params[i].Name, AsError(err))
		}
	}
	for _, v := range c.More {
		if err := count(v); err != nil {
			return err
		}
	}
	for _, kv := range c.Rest {
		if err := count(kv.Value); err != nil {
			return err
		}
	}
	return host.Check("text", total)
}

// Written writes a value as print does, unless it is too long to be written.
func Written(thread *starlark.Thread, v starlark.Value) (string, error) {
	switch v.(type) {
	case *starlark.List, starlark.Tuple, *starlark.Dict, *starlark.Set:
		if err := HostOf(thread).Check("value", 0); err != nil {
			return "", err
		}
		n, ok := Measure(v, 16<<20)
		if !ok {
			return "", TooLong()
		}
		if err := HostOf(thread).Check("text", n); err != nil {
			return "", err
		}
	}
	if s, ok := starlark.AsString(v); ok {
		return s, nil
	}
	return v.String(), nil
}

// TooLong is the error of a value that is too long, or too deep, to be written.
func TooLong() *Error {
	return Mistake("lists within lists can be short to hold and endless to write",
		"a part of it, or its len()", "written out, this value is too long")
}
