package typeset

import (
	"strings"

	"thole/engine/table"
)

// A page shows the same figures as a terminal: package table rounds and writes
// them, and only the signs are set for print.

// Number shows v with so many decimals, or with four figures.
func Number(v float64, digits int) string { return Printed(table.Fixed(v, digits)) }

// Signed shows a change, always with its sign unless it rounds to nothing.
func Signed(v float64, digits int) string { return Printed(table.Signed(v, digits)) }

// Quantity shows a value with its unit.
func Quantity(v float64, digits int, unit string) string {
	return Number(v, digits) + UnitAfter(unit)
}

// Printed gives a figure written for a terminal the page's minus.
func Printed(s string) string {
	if strings.HasPrefix(s, "-") {
		s = Minus + s[1:]
	}
	return strings.ReplaceAll(s, " -", " "+Minus)
}

// Cells gives the cells of a column as a page shows them. Texts are not touched:
// they belong to whoever wrote them.
func Cells(c *table.Column) []string {
	cells := c.Shown()
	if c.Kind != table.Text {
		for i := range cells {
			cells[i] = Printed(cells[i])
		}
	}
	return cells
}

// Interval shows the two ends of an estimate.
func Interval(e *table.Estimate) string {
	return Printed(table.Range(e.Low, e.High, e.Digits, e.Signed))
}
