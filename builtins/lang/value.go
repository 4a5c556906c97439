package lang

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"go.starlark.net/starlark"

	"thole/engine/words"
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
			return starlark.String(words.Cut(string(v), 40)).String()
		}
		return v.String()
	case starlark.Int, starlark.Bool, starlark.NoneType:
		return words.Cut(v.String(), 43)
	case *starlark.List:
		return fmt.Sprintf("a list of %d", v.Len())
	case *starlark.Dict:
		return fmt.Sprintf("a dict of %d", v.Len())
	}
	return KindOf(v)
}

// plain writes a number as one would type it: no needless zeros, at most six
// figures unless it is whole, ASCII minus.
func plain(x float64) string {
	if x == math.Trunc(x) && math.Abs(x) < 1e15 {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	return strconv.FormatFloat(x, 'g', 6, 64)
}

// Listed writes names as "a, b and c", at most n of them.
func Listed(names []string, and string, n int) string {
	if len(names) == 0 {
		return "none"
	}
	if len(names) > n {
		return strings.Join(names[:n], ", ") + " ..."
	}
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " " + and + " " + names[len(names)-1]
}

// FirstOf lists names, of more than most the first of them and how many are left.
func FirstOf(most int, names []string) string {
	if len(names) > most {
		return strings.Join(names[:most], ", ") + fmt.Sprintf(" and %d more", len(names)-most)
	}
	return strings.Join(names, ", ")
}
