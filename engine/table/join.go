package table

import (
	"fmt"
)

// Join puts the other table's columns behind this one's, line by line where
// the column `on` is the same; blank where the other has none. Two lines of
// the other with the same name are an error, and so is a column both have.
func (t *Table) Join(other *Table, on string) (*Table, error) {
	mine, err := t.Need(on)
	if err != nil {
		return nil, err
	}
	theirs, err := other.Need(on)
	if err != nil {
		e := err.(*Error)
		e.What = fmt.Sprintf("the other table has no column %q", on)
		return nil, e
	}
	if mine.Kind != theirs.Kind {
		return nil, &Error{What: fmt.Sprintf("%q is %s here and %s there", on, mine.Kind.words(),
			theirs.Kind.words()), Why: "only like can be found in like", Type: "another column for on="}
	}
	place := map[any]int{}
	for j := range theirs.Len() {
		key := joinKey(theirs, j)
		if key == nil {
			continue
		}
		if _, twice := place[key]; twice {
			return nil, &Error{
				What: fmt.Sprintf("the other table has %s %s twice", on, cellWords(theirs.At(j))),
				Why:  "then nobody knows which of its lines belongs here",
				Type: fmt.Sprintf("other.per(%q, ...) first, for a line each", on),
			}
		}
		place[key] = j
	}
	lines := make([]int, t.Len())
	for i := range lines {
		lines[i] = -1
		if key := joinKey(mine, i); key != nil {
			if j, ok := place[key]; ok {
				lines[i] = j
			}
		}
	}
	out := &Table{Columns: append([]*Column(nil), t.Columns...)}
	for _, c := range other.Columns {
		if c.Name == on {
			continue
		}
		if t.Column(c.Name) != nil {
			return nil, &Error{
				What: fmt.Sprintf("both tables have a column %q", c.Name),
				Why:  "side by side they could not be told apart",
				Type: fmt.Sprintf("other.rename(%s=\"%s_2\")", c.Name, c.Name),
			}
		}
		out.Columns = append(out.Columns, c.Pick(lines))
	}
	return out, nil
}

// joinKey is a cell as a map key; numbers are rounded to nine figures so that
// they meet as sameCell would have them.
func joinKey(c *Column, i int) any {
	if x, ok := c.At(i).(float64); ok {
		return tidyKey(x)
	}
	return c.At(i)
}

// Group is the lines that share their cells in the columns grouped by.
type Group struct {
	First int // the first of its lines, for the shared cells
	Lines []int
}

// Groups collects lines that are alike in these columns, in the order they
// first appear.
func (t *Table) Groups(names ...string) ([]Group, error) {
	columns := make([]*Column, len(names))
	for k, name := range names {
		c, err := t.Need(name)
		if err != nil {
			return nil, err
		}
		columns[k] = c
	}
	var groups []Group
	place := map[string]int{}
	for i := range t.Len() {
		key := ""
		for _, c := range columns {
			key += fmt.Sprintf("%v\x00", joinKey(c, i))
		}
		g, ok := place[key]
		if !ok {
			g = len(groups)
			place[key] = g
			groups = append(groups, Group{First: i})
		}
		groups[g].Lines = append(groups[g].Lines, i)
	}
	return groups, nil
}

// Output is a column made for each group of lines.
type Output struct {
	Heading string // "best (cm)"
	Of      func(*Table) (any, error)
}

// Per gives one line for each group: the columns grouped by, then the outputs.
func (t *Table) Per(names []string, outputs ...Output) (*Table, error) {
	groups, err := t.Groups(names...)
	if err != nil {
		return nil, err
	}
	first := make([]int, len(groups))
	for k, g := range groups {
		first[k] = g.First
	}
	keys, err := t.Only(names...)
	if err != nil {
		return nil, err
	}
	out := keys.Lines(first)
	for _, o := range outputs {
		cells := make([]any, len(groups))
		for k, g := range groups {
			if cells[k], err = o.Of(t.Lines(g.Lines)); err != nil {
				return nil, err
			}
		}
		c, err := ColumnOf(o.Heading, cells)
		if err != nil {
			return nil, err
		}
		if out, err = out.With(c); err != nil {
			return nil, err
		}
	}
	return out, nil
}
