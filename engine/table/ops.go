package table

import (
	"fmt"
	"sort"
	"strings"
)

// Operations make new tables and never touch the old one. A cell is nil (a
// blank), a float64, a string or an *Estimate. Errors are *Error.

// Names lists the columns' names in order.
func (t *Table) Names() []string {
	names := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		names[i] = c.Name
	}
	return names
}

// Need gives the column of that name, or an error that lists the nearest.
func (t *Table) Need(name string) (*Column, error) {
	if c := t.Column(name); c != nil {
		return c, nil
	}
	names := t.Names()
	near, why := Nearest(name, names), "its columns are "+strings.Join(names, ", ")
	if near != "" && near == Former[name] {
		why = "it is called " + near + " now"
	}
	if near == "" && len(names) > 0 {
		near = names[0]
	}
	return nil, &Error{
		What: fmt.Sprintf("the table has no column %q", name),
		Why:  why,
		Type: near,
	}
}

// framed is an empty table with what stands around this one: its lines and
// columns may be fewer, they are still of the same things. The sentences
// beneath speak of all lines and stay behind.
func (t *Table) framed() *Table {
	return &Table{Head: t.Head, Held: t.Held, Side: t.Side, WriteIn: t.WriteIn}
}

// Lines gives a table of these lines only, in this order.
func (t *Table) Lines(lines []int) *Table {
	out := t.framed()
	for _, c := range t.Columns {
		out.Columns = append(out.Columns, c.Pick(lines))
	}
	return out
}

// WithLine puts a line beneath; a column that it does not name is blank in it.
func (t *Table) WithLine(cells ...Wanted) (*Table, error) {
	given := map[string]any{}
	for _, cell := range cells {
		c, err := t.Need(cell.Name)
		if err != nil {
			return nil, err
		}
		if one, err := ColumnOf("cell", []any{cell.Value}); cell.Value != nil &&
			(err != nil || one.Kind != c.Kind) {
			return nil, &Error{What: fmt.Sprintf("column %q holds %s", c.Name, c.Kind.words()),
				Why:  "a column is of one kind, so that it can be sorted and drawn",
				Type: "None where there is no value"}
		}
		given[cell.Name] = cell.Value
	}
	lines := make([]int, t.Len())
	for i := range lines {
		lines[i] = i
	}
	out := t.Lines(append(lines, -1))
	for k, c := range out.Columns {
		if cell := given[c.Name]; cell != nil {
			last := t.Columns[k].Pick(lines)
			last.add(cell)
			c.Nums, c.Texts, c.Estimates = last.Nums, last.Texts, last.Estimates
		}
	}
	return out, nil
}

// Where keeps the lines for which keep says true.
func (t *Table) Where(keep func(line int) (bool, error)) (*Table, error) {
	var lines []int
	for i := range t.Len() {
		ok, err := keep(i)
		if err != nil {
			return nil, err
		}
		if ok {
			lines = append(lines, i)
		}
	}
	return t.Lines(lines), nil
}

// Sort orders the lines by these columns, the first one first; equal lines
// keep their order and blanks come last either way.
func (t *Table) Sort(falling bool, names ...string) (*Table, error) {
	columns := make([]*Column, len(names))
	for k, name := range names {
		c, err := t.Need(name)
		if err != nil {
			return nil, err
		}
		columns[k] = c
	}
	lines := make([]int, t.Len())
	for i := range lines {
		lines[i] = i
	}
	sort.SliceStable(lines, func(a, b int) bool {
		for _, c := range columns {
			i, j := lines[a], lines[b]
			if c.Blank(i) != c.Blank(j) {
				return c.Blank(j)
			}
			if order := c.order(i, j); order != 0 {
				return (order < 0) != falling
			}
		}
		return false
	})
	return t.Lines(lines), nil
}

// order compares two cells that are not blank.
func (c *Column) order(i, j int) int {
	if c.Kind == Text {
		return strings.Compare(c.Texts[i], c.Texts[j])
	}
	switch x, y := c.Value(i), c.Value(j); {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}

// Only keeps these columns, in this order.
func (t *Table) Only(names ...string) (*Table, error) {
	out := t.framed()
	for _, name := range names {
		c, err := t.Need(name)
		if err != nil {
			return nil, err
		}
		if out.Column(name) != nil {
			return nil, &Error{What: fmt.Sprintf("column %q is asked for twice", name),
				Why: "a column's name stands once", Type: "each name once"}
		}
		out.Columns = append(out.Columns, c)
	}
	return out, nil
}

// Renamed pairs a column's old name with its new one.
type Renamed struct{ Old, New string }

// Rename gives columns other names; units and digits stay with them.
func (t *Table) Rename(pairs ...Renamed) (*Table, error) {
	out := t.framed()
	out.Columns = append(out.Columns, t.Columns...)
	for _, p := range pairs {
		c, err := t.Need(p.Old)
		if err != nil {
			return nil, err
		}
		copied := *c
		copied.Name = p.New
		for k := range out.Columns {
			if t.Columns[k] == c {
				out.Columns[k] = &copied
			}
		}
	}
	seen := map[string]bool{}
	for _, c := range out.Columns {
		if seen[c.Name] {
			return nil, &Error{What: fmt.Sprintf("two columns would be called %q", c.Name),
				Why: "a column's name stands once", Type: "another new name"}
		}
		seen[c.Name] = true
	}
	return out, nil
}

// With puts further columns at the right; one of a name that is there already
// takes its place.
func (t *Table) With(columns ...*Column) (*Table, error) {
	out := t.framed()
	out.Columns = append(out.Columns, t.Columns...)
	for _, c := range columns {
		if len(t.Columns) > 0 && c.Len() != t.Len() {
			return nil, &Error{What: fmt.Sprintf("column %q has %d lines, the table %d", c.Name, c.Len(),
				t.Len()), Why: "a column has a cell in each line", Type: "None where there is no value"}
		}
		placed := false
		for k, old := range out.Columns {
			if old.Name == c.Name {
				out.Columns[k], placed = c, true
			}
		}
		if !placed {
			out.Columns = append(out.Columns, c)
		}
	}
	return out, nil
}

// Complete keeps the lines without blanks; a blank `reason` does not count.
func (t *Table) Complete() *Table {
	out, _ := t.Where(func(i int) (bool, error) {
		for _, c := range t.Columns {
			if c.Name != "reason" && c.Blank(i) {
				return false, nil
			}
		}
		return true, nil
	})
	return out
}
