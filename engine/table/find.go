package table

import (
	"fmt"
	"math"
	"strings"
)

// Wanted is one condition: the column's cell is this value (nil: a blank).
type Wanted struct {
	Name  string
	Value any
}

// WhereIs keeps the lines that meet every condition.
func (t *Table) WhereIs(wanted ...Wanted) (*Table, error) {
	columns := make([]*Column, len(wanted))
	for k, w := range wanted {
		c, err := t.Need(w.Name)
		if err != nil {
			return nil, err
		}
		columns[k] = c
	}
	return t.Where(func(i int) (bool, error) {
		for k, w := range wanted {
			if !sameCell(columns[k].At(i), w.Value) {
				return false, nil
			}
		}
		return true, nil
	})
}

// sameCell compares numbers to a part in 1e9, so that 87.6 found by steps
// meets 87.6 as typed.
func sameCell(a, b any) bool {
	x, okX := a.(float64)
	y, okY := b.(float64)
	if okX && okY {
		return x == y || math.Abs(x-y) <= 1e-9*math.Max(math.Abs(x), math.Abs(y))
	}
	return a == b
}

// One gives the only line that meets every condition, or an error that says
// how many there are.
func (t *Table) One(wanted ...Wanted) (int, error) {
	var found []int
	columns := make([]*Column, len(wanted))
	for k, w := range wanted {
		c, err := t.Need(w.Name)
		if err != nil {
			return 0, err
		}
		columns[k] = c
	}
lines:
	for i := range t.Len() {
		for k, w := range wanted {
			if !sameCell(columns[k].At(i), w.Value) {
				continue lines
			}
		}
		found = append(found, i)
	}
	if len(found) == 1 {
		return found[0], nil
	}
	asked := make([]string, len(wanted))
	for k, w := range wanted {
		asked[k] = w.Name + "=" + cellWords(w.Value)
	}
	e := &Error{
		What: fmt.Sprintf("%d lines have %s, not one", len(found), strings.Join(asked, ", ")),
		Why:  "one() gives a line only where there is exactly one",
		Type: "where(" + strings.Join(asked, ", ") + ") for all of them",
	}
	if len(found) == 0 && len(wanted) > 0 {
		e.What = "no line has " + strings.Join(asked, ", ")
		e.Why = wanted[0].Name + " is " + someOf(columns[0])
		if s, ok := wanted[0].Value.(string); ok {
			if near := Nearest(s, columns[0].Texts); near != "" {
				e.Type = fmt.Sprintf("%s=%q", wanted[0].Name, near)
			}
		}
	}
	return 0, e
}

func cellWords(v any) string {
	switch v := v.(type) {
	case nil:
		return "None"
	case float64:
		return FourFigures(v)
	case string:
		return fmt.Sprintf("%q", v)
	}
	return "an estimate"
}

// someOf names the first few different cells of a column.
func someOf(c *Column) string {
	var words []string
	seen := map[string]bool{}
	for i := range c.Len() {
		w := cellWords(c.At(i))
		if seen[w] {
			continue
		}
		seen[w] = true
		if words = append(words, w); len(words) == 8 {
			words = append(words, "...")
			break
		}
	}
	if len(words) == 0 {
		return "empty: the table has no lines"
	}
	return strings.Join(words, ", ")
}

// Highest gives the line with the highest number in a column, the first of
// equals; blanks are passed over.
func (t *Table) Highest(name string) (int, error) { return t.extreme(name, +1) }

// Lowest gives the line with the lowest number in a column, the first of
// equals; blanks are passed over.
func (t *Table) Lowest(name string) (int, error) { return t.extreme(name, -1) }

func (t *Table) extreme(name string, sign float64) (int, error) {
	c, err := t.Need(name)
	if err != nil {
		return 0, err
	}
	if c.Kind == Text {
		return 0, &Error{What: fmt.Sprintf("%s is a text", name), Why: "highest and lowest are for numbers",
			Type: fmt.Sprintf("sort(%q)[0]", name)}
	}
	best := -1
	for i := range c.Len() {
		if !c.Blank(i) && (best < 0 || sign*c.Value(i) > sign*c.Value(best)) {
			best = i
		}
	}
	if best < 0 {
		e := &Error{What: fmt.Sprintf("no line has a %s", name), Why: "the table has no lines",
			Type: "a wider where()"}
		if t.Len() > 0 {
			e.Why = fmt.Sprintf("it is blank in all %d lines", t.Len())
			e.Type = "show(...) of the table, to see the reasons"
		}
		return 0, e
	}
	return best, nil
}
