package report

import (
	"strings"

	"thole/engine/table"
)

// A page shows the same figures as a terminal: package table rounds and writes
// them, and only the signs are set for print.

// numeral shows v with so many decimals, or with four figures.
func numeral(v float64, digits int) string { return printed(table.Fixed(v, digits)) }

// signed shows a change, always with its sign unless it rounds to nothing.
func signed(v float64, digits int) string { return printed(table.Signed(v, digits)) }

// quantity shows a value with its unit.
func quantity(v float64, digits int, unit string) string {
	return numeral(v, digits) + unitAfter(unit)
}

// printed gives a figure written for a terminal the page's minus.
func printed(s string) string {
	if strings.HasPrefix(s, "-") {
		s = minus + s[1:]
	}
	return strings.ReplaceAll(s, " -", " "+minus)
}

// shown gives the cells of a column as a page shows them. Texts are not touched:
// they belong to whoever wrote them.
func shown(c *table.Column) []string {
	cells := c.Shown()
	if c.Kind != table.Text {
		for i := range cells {
			cells[i] = printed(cells[i])
		}
	}
	return cells
}

// interval shows the two ends of an estimate.
func interval(e *table.Estimate) string {
	return printed(table.Range(e.Low, e.High, e.Digits, e.Signed))
}
