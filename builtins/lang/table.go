package lang

import (
	"fmt"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/engine/table"
)

// Table is a table as a script value. It cannot change: every operation gives
// a new one.
type Table struct {
	T *table.Table
	// LineText writes a line in its own way, as a comparison does; nil: field
	// by field. It gives "" where the columns it needs are gone.
	LineText func(t *table.Table, line int) string
	// Lead is how many columns are inputs: a line shows them before a colon.
	Lead int
	// Extra holds further fields of the value itself, as .second of an allocation.
	Extra starlark.StringDict
}

// NewTable makes the script value of a table, which must not change any more.
func NewTable(t *table.Table) *Table { return &Table{T: t} }

// with makes the value of a table made from this one.
func (t *Table) with(u *table.Table) *Table { return &Table{T: u, LineText: t.LineText} }

func (t *Table) String() string {
	return fmt.Sprintf("table of %s: %s", count(t.T.Len(), "line"), Listed(t.T.Names(), "and", 8))
}
func (t *Table) Type() string          { return "table" }
func (t *Table) Freeze()               {} // cannot change anyway
func (t *Table) Truth() starlark.Bool  { return t.T.Len() > 0 }
func (t *Table) Hash() (uint32, error) { return starlark.String("table").Hash() }

// Len is the number of lines.
func (t *Table) Len() int { return t.T.Len() }

// Index gives a line.
func (t *Table) Index(i int) starlark.Value { return t.Line(i) }

// Line gives a line.
func (t *Table) Line(i int) *Line { return &Line{of: t, i: i} }

// Slice gives some of the lines, t[2:5].
func (t *Table) Slice(start, end, step int) starlark.Value {
	var lines []int
	for i := start; step > 0 && i < end || step < 0 && i > end; i += step {
		lines = append(lines, i)
	}
	return t.with(t.T.Lines(lines))
}

// Iterate goes through the lines.
func (t *Table) Iterate() starlark.Iterator { return &lineIterator{t: t} }

type lineIterator struct {
	t *Table
	i int
}

func (it *lineIterator) Next(p *starlark.Value) bool {
	if it.i >= it.t.Len() {
		return false
	}
	*p = it.t.Line(it.i)
	it.i++
	return true
}

func (it *lineIterator) Done() {}

// Get gives t["speed"], the values of a column, and t[0], a line.
func (t *Table) Get(k starlark.Value) (starlark.Value, bool, error) {
	if name, ok := starlark.AsString(k); ok {
		c, err := t.T.Need(name)
		if err != nil {
			return nil, false, err
		}
		return Column(c), true, nil
	}
	x, ok := AsNumber(k)
	if !ok || x != float64(int(x)) {
		return nil, false, Mistake("a name gives a column, a number gives a line", `t["speed"] or t[0]`,
			"a table has nothing under %s", Briefly(k))
	}
	i, n := int(x), t.Len()
	if i < -n || i >= n {
		if n == 0 {
			return nil, false, NoAnswer("no line is left: a where() may have kept none",
				"print(len(t)) before this line", "the table is empty, it has no line %d", i)
		}
		return nil, false, NoAnswer(fmt.Sprintf("its lines are 0 to %d, counted from 0; -1 is the last", n-1),
			"t[-1]", "the table has no line %d", i)
	}
	if i < 0 {
		i += n
	}
	return t.Line(i), true, nil
}

// Column makes the script list of a column's values, None where it is blank.
func Column(c *table.Column) *starlark.List {
	values := make([]starlark.Value, c.Len())
	for i := range values {
		values[i] = cellValue(c.At(i))
	}
	return starlark.NewList(values)
}

// cellValue makes the script value of a cell.
func cellValue(cell any) starlark.Value {
	switch cell := cell.(type) {
	case float64:
		return Num(cell)
	case string:
		return starlark.String(cell)
	case *table.Estimate:
		return NewEstimate(cell)
	}
	return starlark.None
}

// Cell makes the cell of a script value: a number, a text, an estimate or a
// blank. ok is false for anything else.
func Cell(v starlark.Value) (cell any, ok bool) {
	switch v := v.(type) {
	case starlark.NoneType:
		return nil, true
	case starlark.String:
		return string(v), true
	case *Estimate:
		return v.E, true
	case starlark.Int, starlark.Float:
		x, ok := AsNumber(v)
		return x, ok
	}
	return nil, false
}

func noCell(name string, v starlark.Value) *Error {
	e := Mistake("a table holds numbers, texts, estimates and blanks (None)", "",
		"%s cannot stand in a table: %s", KindOf(v), name)
	e.Type = "a field of it, as x.speed"
	switch v.(type) {
	case starlark.Bool:
		e.Type = `"yes" if ... else "no"`
	case *starlark.List, starlark.Tuple:
		e.Type = "a line for each value"
	case starlark.Callable:
		e.Type = name + " called, with ( )"
	}
	return e
}

// heading gives a column's heading its unit where every stroke has a field of
// that name and the cells are numbers.
func heading(thread *starlark.Thread, text string, cells []any) string {
	name, _, bracketed := table.Heading(text)
	if bracketed {
		return text
	}
	f, ok := HostOf(thread).Quantity(name)
	if !ok || f.Unit == "" {
		return text
	}
	for _, cell := range cells {
		if _, isText := cell.(string); isText {
			return text
		}
	}
	return fmt.Sprintf("%s (%s)", name, f.Unit)
}

var tableOwn = []string{"names", "units"}

// FieldNames lists the fields.
func (t *Table) FieldNames() []string {
	names := append([]string(nil), tableOwn...)
	return append(names, t.Extra.Keys()...)
}

// Label is the name under which the table was shown.
func (t *Table) Label() string { return t.T.Name }

// Field gives a field; a table's fields have no unit.
func (t *Table) Field(name string) (starlark.Value, Field, bool) {
	f := Field{Name: name, Digits: table.AutoDigits}
	switch name {
	case "names":
		return Strings(t.T.Names()), f, true
	case "units":
		units := make([]string, len(t.T.Columns))
		for i, c := range t.T.Columns {
			units[i] = c.Unit
		}
		return Strings(units), f, true
	}
	v, ok := t.Extra[name]
	return v, f, ok
}

// AttrNames lists fields and methods.
func (t *Table) AttrNames() []string {
	names := t.FieldNames()
	for _, m := range tableMethods {
		names = append(names, m.Name)
	}
	return names
}

// Attr gives a field or method.
func (t *Table) Attr(name string) (starlark.Value, error) {
	if v, _, ok := t.Field(name); ok {
		return v, nil
	}
	for _, m := range tableMethods {
		if m.Name == name {
			return m.Method(t), nil
		}
	}
	if t.T.Column(name) != nil {
		return nil,
			Mistake("a table's columns are taken by their name in brackets; a line's fields with a point",
				fmt.Sprintf("t[%q], or t[0].%s", name, name), "%q is a column, not a field of the table",
				name)
	}
	return nil, NoField("table", name, t.AttrNames())
}

// CompareSameType knows equal and not equal: the same cells under the same names.
func (t *Table) CompareSameType(op syntax.Token, y starlark.Value, _ int) (bool, error) {
	u := y.(*Table)
	same := t == u || t.T == u.T || sameTable(t.T, u.T)
	switch op {
	case syntax.EQL:
		return same, nil
	case syntax.NEQ:
		return !same, nil
	}
	return false, Mistake("tables have no order", "t.sort(...) puts its lines in order",
		"two tables cannot be compared with %s", op)
}

func sameTable(a, b *table.Table) bool {
	if a.Len() != b.Len() || len(a.Columns) != len(b.Columns) {
		return false
	}
	for k, c := range a.Columns {
		d := b.Columns[k]
		if c.Name != d.Name || c.Kind != d.Kind || c.Unit != d.Unit {
			return false
		}
		for i := range c.Len() {
			if c.At(i) != d.At(i) {
				return false
			}
		}
	}
	return true
}

var (
	_ AnyThing           = (*Table)(nil)
	_ starlark.Mapping   = (*Table)(nil)
	_ starlark.Sequence  = (*Table)(nil)
	_ starlark.Sliceable = (*Table)(nil)
)
