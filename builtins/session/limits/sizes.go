package limits

import (
	"fmt"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
)

// writing measures how long a value is when written out. Lists within lists
// that share their parts can be short to hold and endless to write.
func (m *Meter) writing(v starlark.Value) (int, error) {
	n, ok := lang.Measure(v, max(m.Limits.Text, m.Limits.Items))
	if !ok {
		return 0, lang.TooLong()
	}
	return n, nil
}

// asKey refuses a key that would take for ever to be looked up: tuples within
// tuples are hashed part by part.
func asKey(v starlark.Value) error {
	if t, ok := v.(starlark.Tuple); ok {
		if _, ok := lang.Measure(t, 1<<20); !ok {
			return lang.Mistake("a key is a text, a number or a short list of them in round brackets",
				"a text as the key", "this value is too large for a key")
		}
	}
	return nil
}

// listsSize measures what a function of the language goes through.
func listsSize(m *Meter, args starlark.Tuple, _ []starlark.Tuple) error {
	for _, a := range args {
		if n := starlark.Len(a); n > 0 {
			if err := m.Check("list", n); err != nil {
				return err
			}
		}
	}
	return nil
}

// hashSize refuses values that would take for ever to hash.
func hashSize(_ *Meter, args starlark.Tuple, _ []starlark.Tuple) error {
	for _, a := range args {
		if err := asKey(a); err != nil {
			return err
		}
	}
	return nil
}

// keysSize is listsSize for set and dict, where the parts become keys.
func keysSize(m *Meter, args starlark.Tuple, kwargs []starlark.Tuple) error {
	if err := listsSize(m, args, kwargs); err != nil {
		return err
	}
	for _, a := range args {
		items, _ := lang.Items(a)
		if err := hashSize(m, items, nil); err != nil {
			return err
		}
	}
	return nil
}

// textSize measures values that are written out.
func textSize(m *Meter, args starlark.Tuple, _ []starlark.Tuple) error {
	total := 0
	for _, a := range args {
		n, err := m.writing(a)
		if err != nil {
			return err
		}
		total += n
	}
	return m.Check("text", total)
}

// printSize is textSize for print, with all that was printed before: a study that
// prints without end is stopped while somebody could still read it.
func printSize(m *Meter, args starlark.Tuple, kwargs []starlark.Tuple) error {
	if err := textSize(m, args, kwargs); err != nil {
		return err
	}
	for _, a := range args {
		n, _ := m.writing(a)
		m.printed.Add(int64(n + 1))
	}
	if most := m.Limits.Text / 4; m.printed.Load() > int64(most) {
		return lang.Mistake(fmt.Sprintf("nobody reads that much, %s characters are the most", Grouped(most)),
			"print fewer lines, or show(...) a table of them", "this study prints too much")
	}
	return nil
}

// part measures what += adds.
func (m *Meter) part(v starlark.Value) error {
	if text, ok := v.(starlark.String); ok {
		return m.Check("text", len(text))
	}
	if n := starlark.Len(v); n > 0 {
		return m.Check("list", n)
	}
	return wholeSize(v)
}

// percentSize measures text % values.
func percentSize(m *Meter, x, y starlark.Value) error {
	text, ok := x.(starlark.String)
	if !ok {
		return nil
	}
	n, err := m.writing(y)
	if err != nil {
		return err
	}
	return m.Check("text", len(text)+n*max(1, strings.Count(string(text), "%")))
}

// repeatSize measures x * y where one is a text or list; products of whole
// numbers must not grow without end either.
func repeatSize(m *Meter, x, y starlark.Value) error {
	if _, ok := x.(starlark.Int); ok {
		x, y = y, x
	}
	n, ok := y.(starlark.Int)
	if !ok {
		return nil
	}
	if _, both := x.(starlark.Int); both {
		if err := wholeSize(x); err != nil {
			return err
		}
		return wholeSize(y)
	}
	times, exact := n.Int64()
	if n.Sign() <= 0 {
		return nil
	}
	if !exact || times > 1<<40 {
		times = 1 << 40
	}
	switch x := x.(type) {
	case starlark.String:
		return m.Check("text", int(min(times*int64(len(x)), 1<<60)))
	case *starlark.List, starlark.Tuple:
		return m.Check("list", int(min(times*int64(starlark.Len(x)), 1<<60)))
	}
	return nil
}

// sumSize measures x + y of texts and lists.
func sumSize(m *Meter, x, y starlark.Value) error {
	switch x := x.(type) {
	case starlark.String:
		if y, ok := y.(starlark.String); ok {
			return m.Check("text", len(x)+len(y))
		}
	case *starlark.List, starlark.Tuple:
		if n := starlark.Len(y); n >= 0 {
			return m.Check("list", starlark.Len(x)+n)
		}
	}
	return nil
}

// bulk is about how many bytes a copy of a value takes.
func bulk(v starlark.Value) int {
	if text, ok := v.(starlark.String); ok {
		return len(text)
	}
	return 24 * max(0, starlark.Len(v))
}

// wholeSize refuses whole numbers of thousands of digits.
func wholeSize(v starlark.Value) error {
	if i, ok := v.(starlark.Int); ok {
		if _, small := i.Int64(); !small && i.BigInt().BitLen() > 4096 {
			return lang.Mistake("no quantity of a boat has so many digits", "a smaller one",
				"this number is too large")
		}
	}
	return nil
}

// methodSize measures what a method would make.
func methodSize(m *Meter, recv starlark.Value, name string, args starlark.Tuple,
	kwargs []starlark.Tuple) error {
	for _, a := range args {
		if err := asKey(a); err != nil {
			return err
		}
	}
	switch name {
	case "get", "setdefault", "pop", "add", "discard", "remove", "index", "count":
		return nil
	}
	if name == "extend" && len(args) == 1 {
		return m.Check("list", starlark.Len(recv)+max(0, starlark.Len(args[0])))
	}
	text, isText := starlark.AsString(recv)
	if !isText {
		return m.make(bulk(recv))
	}
	switch name {
	case "join":
		if len(args) != 1 {
			return nil
		}
		total := 0
		if items, ok := lang.Items(args[0]); ok {
			for _, x := range items {
				if t, ok := x.(starlark.String); ok {
					total += len(t) + len(text)
				}
			}
		}
		return m.Check("text", total)
	case "replace":
		if len(args) < 2 {
			return nil
		}
		old, ok1 := starlark.AsString(args[0])
		with, ok2 := starlark.AsString(args[1])
		if ok1 && ok2 && len(with) > len(old) {
			places := len(text) + 1
			if len(old) > 0 {
				places = len(text)/len(old) + 1
			}
			return m.Check("text", len(text)+min(places, 1<<30)*(len(with)-len(old)))
		}
	case "format":
		longest := 0
		values := slices.Clone(args)
		for _, kv := range kwargs {
			values = append(values, kv[1])
		}
		for _, v := range values {
			n, err := m.writing(v)
			if err != nil {
				return err
			}
			longest = max(longest, n)
		}
		return m.Check("text", len(text)+strings.Count(text, "{")*longest)
	case "split", "rsplit", "splitlines", "elems", "codepoints", "elem_ords", "codepoint_ords":
		return m.make(16 * len(text))
	}
	return m.make(len(text))
}
