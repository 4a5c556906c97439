package table

import (
	"fmt"
	"math"
)

// At gives cell i: nil, float64, string or *Estimate.
func (c *Column) At(i int) any {
	if c.Blank(i) {
		return nil
	}
	switch c.Kind {
	case Text:
		return c.Texts[i]
	case Measured:
		return c.Estimates[i]
	}
	return c.Nums[i]
}

// FromLines makes a table of lines; headings are "name" or "name (unit)". Each
// line has one cell a heading. A column is numbers, texts or estimates
// throughout; one with nothing but blanks is text, unless its heading has
// brackets.
func FromLines(headings []string, lines [][]any) (*Table, error) {
	t := &Table{}
	for j, heading := range headings {
		cells := make([]any, len(lines))
		for i, line := range lines {
			cells[i] = line[j]
		}
		c, err := ColumnOf(heading, cells)
		if err != nil {
			return nil, err
		}
		if t.Column(c.Name) != nil {
			return nil, &Error{What: fmt.Sprintf("two columns are called %q", c.Name),
				Why: "a column's name stands once", Type: c.Name + "_2"}
		}
		t.Columns = append(t.Columns, c)
	}
	return t, nil
}

// ColumnOf makes one column from a heading and its cells.
func ColumnOf(heading string, cells []any) (*Column, error) {
	name, unit, bracketed := Heading(heading)
	if name == "" {
		return nil, &Error{What: "a column without a name",
			Why: "a heading is a name, and its unit in brackets", Type: "speed (m/s)"}
	}
	kind, set := Text, bracketed
	if bracketed {
		kind = Number
	}
	for i, cell := range cells {
		var is Kind
		switch cell.(type) {
		case nil:
			continue
		case float64:
			is = Number
		case string:
			is = Text
		case *Estimate:
			is = Measured
		default:
			panic(fmt.Sprintf("table: cell of type %T", cell))
		}
		if set && is != kind && !(bracketed && kind == Number && is == Measured && i == firstCell(cells)) {
			return nil, &Error{
				What: fmt.Sprintf("column %q holds %s and %s", name, kind.words(), is.words()),
				Why:  "a column is of one kind, so that it can be sorted and drawn",
				Type: "None where there is no value",
			}
		}
		kind, set = is, true
	}
	c := NewColumn(name, unit, kind)
	for _, cell := range cells {
		c.add(cell)
	}
	if kind == Measured {
		c.takeFromEstimates()
	}
	return c, nil
}

// takeFromEstimates gives the column the unit and digits its estimates bring.
func (c *Column) takeFromEstimates() {
	for _, e := range c.Estimates {
		if e == nil {
			continue
		}
		if c.Unit == "" {
			c.Unit = e.Unit
		}
		c.Digits = e.Digits
		return
	}
}

func firstCell(cells []any) int {
	for i, cell := range cells {
		if cell != nil {
			return i
		}
	}
	return -1
}

func (k Kind) words() string {
	return [...]string{"numbers", "texts", "estimates"}[k]
}

// add appends one cell of the column's kind, nil for a blank.
func (c *Column) add(cell any) {
	switch c.Kind {
	case Text:
		s, _ := cell.(string)
		c.Texts = append(c.Texts, s)
	case Measured:
		e, _ := cell.(*Estimate)
		c.Estimates = append(c.Estimates, e)
	default:
		x, ok := cell.(float64)
		if !ok {
			x = math.NaN()
		}
		c.Nums = append(c.Nums, x)
	}
}

// Pick copies the column with these lines only, in this order; -1 is a blank.
func (c *Column) Pick(lines []int) *Column {
	out := *c
	out.Nums, out.Texts, out.Estimates, out.Units, out.Places = nil, nil, nil, nil, nil
	for _, i := range lines {
		var cell any
		unit, places := c.Unit, c.Digits
		if i >= 0 {
			cell, unit, places = c.At(i), c.UnitAt(i), c.DigitsAt(i)
		}
		out.add(cell)
		if c.Units != nil {
			out.Units = append(out.Units, unit)
		}
		if c.Places != nil {
			out.Places = append(out.Places, places)
		}
	}
	return &out
}

// Value gives cell i as a number: an estimate's middle, NaN for a blank or a
// text.
func (c *Column) Value(i int) float64 {
	switch {
	case c.Kind == Number:
		return c.Nums[i]
	case c.Kind == Measured && c.Estimates[i] != nil:
		return c.Estimates[i].Value
	}
	return math.NaN()
}
