package term

import (
	"slices"

	"thole/engine/table"
)

func allBlank(c *table.Column) bool {
	for i := range c.Len() {
		if !c.Blank(i) {
			return false
		}
	}
	return true
}

// hasIntervals says whether a column holds estimates with ends worth showing.
func hasIntervals(c *table.Column) bool {
	return c.Kind == table.Measured &&
		slices.ContainsFunc(c.Estimates, func(e *table.Estimate) bool { return e != nil && e.Low != e.High })
}

func countMeasured(t *table.Table) int {
	n := 0
	for _, c := range t.Columns {
		if c.Kind == table.Measured {
			n++
		}
	}
	return n
}

// repeatsInterval says whether the table's own columns low and high say again
// what its one column of estimates shows.
func repeatsInterval(t *table.Table) bool {
	low, high := t.Column("low"), t.Column("high")
	if low == nil || high == nil || countMeasured(t) != 1 {
		return false
	}
	measured := slices.IndexFunc(t.Columns, func(c *table.Column) bool { return c.Kind == table.Measured })
	for i, e := range t.Columns[measured].Estimates {
		if e != nil && (low.Value(i) != e.Low || high.Value(i) != e.High) {
			return false
		}
	}
	return hasIntervals(t.Columns[measured])
}
