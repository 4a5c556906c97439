package lang

import (
	"fmt"
	"math"

	"go.starlark.net/starlark"
)

// Num makes a script number: None for NaN, a whole number where the value is
// whole (200 prints as 200 and can count), else a fraction.
func Num(x float64) starlark.Value {
	switch {
	case math.IsNaN(x):
		return starlark.None
	case x == math.Trunc(x) && math.Abs(x) < 1<<53:
		return starlark.MakeInt64(int64(x))
	}
	return starlark.Float(x)
}

// AsNumber gives the float64 of a number. True and False are no numbers.
func AsNumber(v starlark.Value) (float64, bool) {
	switch v := v.(type) {
	case starlark.Int:
		x := float64(v.Float())
		return x, !math.IsInf(x, 0)
	case starlark.Float:
		return float64(v), true
	}
	return 0, false
}

// Items gives the elements of a list, tuple or any other finite sequence but a
// text or a dict.
func Items(v starlark.Value) ([]starlark.Value, bool) {
	switch v.(type) {
	case starlark.String, starlark.Bytes, *starlark.Dict:
		return nil, false
	}
	seq, ok := v.(starlark.Sequence)
	if !ok {
		return nil, false
	}
	items := make([]starlark.Value, 0, seq.Len())
	it := seq.Iterate()
	defer it.Done()
	var x starlark.Value
	for it.Next(&x) {
		items = append(items, x)
	}
	return items, true
}

// Strings makes a script list of texts.
func Strings(texts []string) *starlark.List {
	items := make([]starlark.Value, len(texts))
	for i, s := range texts {
		items[i] = starlark.String(s)
	}
	return starlark.NewList(items)
}

// KindOf says in a coach's words what a value is: "a number", "a text", "an oar".
func KindOf(v starlark.Value) string {
	switch v := v.(type) {
	case nil, starlark.NoneType:
		return "nothing (None)"
	case starlark.Bool:
		return v.String()
	case starlark.Int, starlark.Float:
		return "a number"
	case starlark.String:
		return "a text"
	case *starlark.List, starlark.Tuple:
		return "a list"
	case *starlark.Dict:
		return "a dict"
	case *starlark.Set:
		return "a set"
	case starlark.Callable:
		return "a function"
	}
	return Article(v.Type())
}

// Article puts a or an before a noun.
func Article(noun string) string {
	if noun == "" {
		return noun
	}
	switch noun[0] {
	case 'a', 'e', 'i', 'o', 'u':
		return "an " + noun
	}
	return "a " + noun
}

// Briefly shows a value in a message: short ones as typed, long ones cut.
func Briefly(v starlark.Value) string {
	switch v := v.(type) {
	case starlark.Float:
		return plain(float64(v))
	case starlark.String:
		if len(v) > 40 {
			return starlark.String(cut(string(v), 37)).String()
		}
		return v.String()
	case starlark.Int, starlark.Bool, starlark.NoneType:
		return cut(v.String(), 40)
	case *starlark.List:
		return fmt.Sprintf("a list of %d", v.Len())
	case *starlark.Dict:
		return fmt.Sprintf("a dict of %d", v.Len())
	}
	return KindOf(v)
}

// cut shortens a text to n bytes at most, at a rune's edge, with three points.
func cut(s string, n int) string {
	if len(s) <= n {
		return s
	}
	for n > 0 && s[n]&0xC0 == 0x80 {
		n--
	}
	return s[:n] + "..."
}
