package main

import (
	"math"
	"strings"

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

// intervals says whether a column of estimates has ends worth showing.
func intervals(c *table.Column) bool {
	for _, e := range c.Estimates {
		if e != nil && e.Low != e.High {
			return true
		}
	}
	return false
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

// intervalColumns says whether the table's own columns low and high say again
// what its one column of estimates shows.
func intervalColumns(t *table.Table) bool {
	low, high := t.Column("low"), t.Column("high")
	if low == nil || high == nil || countMeasured(t) != 1 {
		return false
	}
	for _, c := range t.Columns {
		if c.Kind != table.Measured {
			continue
		}
		for i, e := range c.Estimates {
			if e != nil && (low.Value(i) != e.Low || high.Value(i) != e.High) {
				return false
			}
		}
		return intervals(c)
	}
	return false
}

// manyLines is how long a comparison is before its unchanged lines step back.
const manyLines = 12

// withoutUnchanged takes the lines of a long comparison that did not change out
// of it and lists them in a sentence.
func withoutUnchanged(t *table.Table) (*table.Table, string) {
	quantity, before, after := t.Column("quantity"), t.Column("before"), t.Column("after")
	if quantity == nil || before == nil || after == nil || quantity.Kind != table.Text || t.Len() <= manyLines {
		return t, ""
	}
	unit := t.Column("unit")
	shown := before.Shown()
	var changed []int
	var same []string
	for i := range t.Len() {
		x, y := before.Value(i), after.Value(i)
		if math.Abs(x-y) > 1e-9*math.Abs(x) { // the last bits of a solution are no change
			changed = append(changed, i)
			continue
		}
		text := quantity.Texts[i] + " " + shown[i]
		if unit != nil && unit.Kind == table.Text {
			text = quantity.Texts[i] + " " + table.WithUnit(shown[i], unit.Texts[i])
		}
		same = append(same, text)
	}
	if len(changed) == 0 || len(same) == 0 {
		return t, ""
	}
	return t.Lines(changed), "unchanged: " + strings.Join(same, ", ")
}
