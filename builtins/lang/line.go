package lang

import (
	"fmt"
	"strings"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/engine/table"
)

// Line is a line of a table: line.speed or line["speed"], None where blank.
type Line struct {
	of *Table
	i  int
	// extra holds further fields, as .note of find_best.
	extra starlark.StringDict
}

// NewLine makes a table of one line and gives the line, with further fields.
func NewLine(t *Table, extra starlark.StringDict) *Line { return &Line{of: t, i: 0, extra: extra} }

// Of gives the table and the number of the line in it.
func (l *Line) Of() (*Table, int) { return l.of, l.i }

// String is the line with its units: inputs before a colon, then the others.
func (l *Line) String() string {
	if l.of.LineText != nil {
		if s := l.of.LineText(l.of.T, l.i); s != "" {
			return s
		}
	}
	return LineText(l.of.T, l.i, l.of.Lead, 5)
}

// LineText writes a line field by field with units; the first lead fields stand
// before a colon, and of the others at most most are written.
func LineText(t *table.Table, i, lead, most int) string {
	var inputs, rest []string
	left := 0
	for k, c := range t.Columns {
		if c.Blank(i) {
			continue
		}
		text := cellText(c, i)
		if k < lead {
			inputs = append(inputs, text)
		} else if len(rest) < most || len(t.Columns)-lead <= most+2 {
			rest = append(rest, text)
		} else {
			left++
		}
	}
	s := strings.Join(rest, ", ")
	if inputs != nil {
		s = strings.Join(inputs, ", ") + ": " + s
	}
	if left > 0 {
		s += fmt.Sprintf(", and %d more", left)
	}
	return s
}

// cellText writes a cell with its name and unit: "speed 3.675 m/s".
func cellText(c *table.Column, i int) string {
	switch cell := c.At(i).(type) {
	case float64:
		if c.Signed {
			return c.Name + " " + table.WithUnit(table.Signed(cell, c.DigitsAt(i)), c.UnitAt(i))
		}
		return c.Name + " " + table.Quantity(cell, c.Name, c.UnitAt(i), shownDigits(cell, c.DigitsAt(i)))
	case *table.Estimate:
		return c.Name + " " + cell.String()
	case string:
		return c.Name + " " + cell
	}
	return c.Name + " none"
}

// shownDigits drops the decimals of a whole number, as a table's column does.
func shownDigits(x float64, digits int) int {
	if x == float64(int64(x)) && digits == 1 {
		return 0
	}
	return digits
}

func (l *Line) Type() string          { return "line" }
func (l *Line) Freeze()               {}
func (l *Line) Truth() starlark.Bool  { return true }
func (l *Line) Hash() (uint32, error) { return starlark.String("line").Hash() }
func (l *Line) Label() string         { return "" }

// FieldNames lists the columns and further fields.
func (l *Line) FieldNames() []string { return append(l.of.T.Names(), l.extra.Keys()...) }

// AttrNames lists the fields.
func (l *Line) AttrNames() []string { return l.FieldNames() }

// Field gives a cell with its unit and digits.
func (l *Line) Field(name string) (starlark.Value, Field, bool) {
	if v, ok := l.extra[name]; ok {
		return v, Field{Name: name, Digits: table.AutoDigits}, true
	}
	c := l.of.T.Column(name)
	if c == nil {
		return nil, Field{}, false
	}
	f := Field{Name: name, Unit: c.UnitAt(l.i), Digits: c.DigitsAt(l.i), Change: c.Change, Signed: c.Signed}
	f.Clock = table.ClockFor(l.quantity(c), f.Unit) && !c.Signed
	v := cellValue(c.At(l.i))
	if x, ok := AsNumber(v); ok && !c.Signed {
		f.Digits = shownDigits(x, f.Digits)
	}
	return v, f, true
}

// quantity is what the cell holds: the column's name, or that of the line where
// each line is another quantity.
func (l *Line) quantity(c *table.Column) string {
	if c.Units != nil {
		if q := l.of.T.Column("quantity"); q != nil && q.Kind == table.Text {
			return q.Texts[l.i]
		}
	}
	return c.Name
}

// Attr gives a cell.
func (l *Line) Attr(name string) (starlark.Value, error) {
	if v, _, ok := l.Field(name); ok {
		return v, nil
	}
	return nil, NoField("line", name, l.FieldNames())
}

// Get gives line["speed"].
func (l *Line) Get(k starlark.Value) (starlark.Value, bool, error) {
	name, ok := starlark.AsString(k)
	if !ok {
		return nil, false, Mistake("a line's values are taken by their names", `line["speed"] or line.speed`,
			"a line has nothing under %s", Briefly(k))
	}
	v, _, ok := l.Field(name)
	if !ok {
		return nil, false, NoField("line", name, l.FieldNames())
	}
	return v, true, nil
}

// Items gives names and values, so that fn(**line) passes them on.
func (l *Line) Items() []starlark.Tuple {
	var items []starlark.Tuple
	for _, name := range l.of.T.Names() {
		v, _, _ := l.Field(name)
		items = append(items, starlark.Tuple{starlark.String(name), v})
	}
	return items
}

// Iterate goes through the names.
func (l *Line) Iterate() starlark.Iterator { return Strings(l.of.T.Names()).Iterate() }

// CompareSameType knows equal and not equal: the same cells under the same names.
func (l *Line) CompareSameType(op syntax.Token, y starlark.Value, _ int) (bool, error) {
	m := y.(*Line)
	same := l == m || sameTable(l.of.T.Lines([]int{l.i}), m.of.T.Lines([]int{m.i}))
	switch op {
	case syntax.EQL:
		return same, nil
	case syntax.NEQ:
		return !same, nil
	}
	return false, Mistake("lines have no order; their fields have", "a.speed "+op.String()+" b.speed",
		"two lines cannot be compared with %s", op)
}

var (
	_ AnyThing                 = (*Line)(nil)
	_ starlark.IterableMapping = (*Line)(nil)
)
