package lang

import (
	"fmt"
	"sort"
	"sync"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/engine/table"
)

// Field is a named value of a thing or a line, with what is needed to show it.
type Field struct {
	Name   string
	Unit   string // "m/s"; "" for a bare number or what is no number
	Digits int    // decimals shown; table.AutoDigits for four figures
	Change int    // decimals of a change
	Clock  bool   // shown as m:ss.s in cards and texts
	Signed bool   // a change: always shown with its sign
	Help   string
}

// FieldOf is a field of a kind of thing, with the function that reads it. Get
// gives None (or nil) where the thing has no such value.
type FieldOf[T any] struct {
	Field
	Get func(T) starlark.Value
}

// Type is a kind of thing a study can hold: oars, crews, strokes. One Type
// serves all values of the kind. Fields and Methods stand in the order in which
// help and completion show them.
type Type[T any] struct {
	Name    string // "oar"
	Fields  []FieldOf[T]
	Methods []*Record         // with Of = Name; the receiver is Call.Receiver
	Line    func(T) string    // the thing in one line with units, as print shows it
	Label   func(T) string    // its name, as tables and figures label it; may be nil
	Same    func(a, b T) bool // equality; nil: the same value only
	once    sync.Once
	byName  map[string]int // fields as i, methods as -1-i
	names   []string
	was     map[string]string // fields of older versions -> today's; filled by Library.Seal

	Elsewhere map[string]Gone // what people ask of it that is read another way
}

// Thing is an immutable value of a script: v.Go is the Go value behind it.
type Thing[T any] struct {
	Go T
	of *Type[T]
}

// AnyThing is what all things have in common, whatever is behind them.
type AnyThing interface {
	starlark.HasAttrs
	// FieldNames lists the fields, without methods, in order.
	FieldNames() []string
	// Field gives a field's value with its unit and digits.
	Field(name string) (starlark.Value, Field, bool)
	// Label is the thing's name, or "".
	Label() string
}

// New makes the script value of a Go value.
func (t *Type[T]) New(v T) *Thing[T] { return &Thing[T]{Go: v, of: t} }

// From gives the Go value of a script value of this kind.
func (t *Type[T]) From(v starlark.Value) (T, bool) {
	if th, ok := v.(*Thing[T]); ok && th.of == t {
		return th.Go, true
	}
	var zero T
	return zero, false
}

// GoOf gives the Go value behind a thing of any kind, nil where v is no thing.
func GoOf(v starlark.Value) any {
	if t, ok := v.(interface{ behind() any }); ok {
		return t.behind()
	}
	return nil
}

func (v *Thing[T]) behind() any { return v.Go }

// Doc gives what help and completion need to know of the kind.
func (t *Type[T]) Doc() ThingDoc {
	if t.was == nil {
		t.was = map[string]string{}
	}
	d := ThingDoc{Name: t.Name, Methods: t.Methods, was: t.was, elsewhere: t.Elsewhere}
	for _, f := range t.Fields {
		d.Fields = append(d.Fields, f.Field)
	}
	return d
}

// ThingDoc is a kind of thing as help and completion see it.
type ThingDoc struct {
	Name    string
	Fields  []Field
	Methods []*Record

	was       map[string]string // shared with its Type
	elsewhere map[string]Gone
}

// NoField is the error of a name that things of this kind do not have.
func (d *ThingDoc) NoField(name string) *Error {
	var names []string
	for _, f := range d.Fields {
		names = append(names, f.Name)
	}
	for _, m := range d.Methods {
		names = append(names, m.Name)
	}
	return noField(d.Name, name, names, d.was, d.elsewhere)
}

func (t *Type[T]) index() {
	t.once.Do(func() {
		t.byName = make(map[string]int, len(t.Fields)+len(t.Methods))
		for i, f := range t.Fields {
			t.byName[f.Name] = i
			t.names = append(t.names, f.Name)
		}
		for i, m := range t.Methods {
			t.byName[m.Name] = -1 - i
			t.names = append(t.names, m.Name)
		}
		sort.Strings(t.names)
	})
}

func (v *Thing[T]) String() string       { return v.of.Line(v.Go) }
func (v *Thing[T]) Type() string         { return v.of.Name }
func (v *Thing[T]) Freeze()              {} // cannot change anyway
func (v *Thing[T]) Truth() starlark.Bool { return true }

// Hash rests on the kind alone where equality is the kind's own, so that equal
// things hash alike.
func (v *Thing[T]) Hash() (uint32, error) {
	if v.of.Same != nil {
		return starlark.String(v.of.Name).Hash()
	}
	return starlark.String(fmt.Sprintf("%p", v)).Hash()
}

// CompareSameType knows equal and not equal only: things have no order.
func (v *Thing[T]) CompareSameType(op syntax.Token, y starlark.Value, _ int) (bool, error) {
	w, ok := y.(*Thing[T])
	same := ok && w.of == v.of && (w == v || v.of.Same != nil && v.of.Same(v.Go, w.Go))
	switch op {
	case syntax.EQL:
		return same, nil
	case syntax.NEQ:
		return !same, nil
	}
	return false, Mistake("they have no order of their own; their fields have", "a.speed "+op.String()+
		" b.speed, or any other field",
		"%s and %s cannot be compared with %s", Article(v.of.Name), Article(y.Type()), op)
}

// Label is the thing's own name, or "".
func (v *Thing[T]) Label() string {
	if v.of.Label == nil {
		return ""
	}
	return v.of.Label(v.Go)
}

// AttrNames lists fields and methods, sorted, as the interpreter wants them.
func (v *Thing[T]) AttrNames() []string {
	v.of.index()
	return v.of.names
}

// FieldNames lists the fields in order.
func (v *Thing[T]) FieldNames() []string {
	names := make([]string, len(v.of.Fields))
	for i, f := range v.of.Fields {
		names[i] = f.Name
	}
	return names
}

// Attr gives a field's value or a method.
func (v *Thing[T]) Attr(name string) (starlark.Value, error) {
	v.of.index()
	i, ok := v.of.byName[name]
	switch {
	case !ok:
		return nil, v.NoField(name)
	case i < 0:
		return v.of.Methods[-1-i].Method(v), nil
	}
	x := v.of.Fields[i].Get(v.Go)
	if x == nil {
		x = starlark.None
	}
	return x, nil
}

// Field gives a field's value with its unit and digits.
func (v *Thing[T]) Field(name string) (starlark.Value, Field, bool) {
	v.of.index()
	i, ok := v.of.byName[name]
	if !ok || i < 0 {
		return nil, Field{}, false
	}
	f := v.of.Fields[i]
	x := f.Get(v.Go)
	if x == nil {
		x = starlark.None
	}
	return x, f.Field, true
}

// NoField is the error of a name that this thing does not have.
func (v *Thing[T]) NoField(name string) *Error {
	v.of.index()
	return noField(v.of.Name, name, v.of.names, v.of.was, v.of.Elsewhere)
}

// NoField is the error of a name that a line, table or estimate does not have.
func NoField(kind, name string, names []string) *Error { return noField(kind, name, names, nil, nil) }

func noField(kind, name string, names []string, was map[string]string, elsewhere map[string]Gone) *Error {
	e := Mistake("", "", "%s has no %q", Article(kind), name)
	if now := was[name]; now != "" {
		e.Why = "it is called " + now + " now"
		e.Type = "." + now
		return e
	}
	if other, ok := elsewhere[name]; ok {
		e.Why, e.Type = other.Why, other.Type
		return e
	}
	if near := table.Nearest(name, names); near != "" {
		e.Why = "the nearest name is " + near
		e.Type = "." + near
		return e
	}
	e.Why = "it has " + Listed(names, "and", 12)
	e.Type = "help(" + kind + ") for all of them"
	return e
}
