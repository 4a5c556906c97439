package views

import (
	"math"
	"slices"
	"strings"

	"thole/engine/document"
	"thole/engine/table"
)

// comparisonShown lays a whole comparison out for a reader: what did not change
// is said in one line beneath. nil for any other table.
func comparisonShown(t *table.Table) *document.Shown {
	quantity, change, before := t.Column("quantity"), t.Column("change"), t.Column("before")
	if quantity == nil || change == nil || before == nil || quantity.Kind != table.Text || before.Kind !=
		table.Number {
		return nil
	}
	var changed []int
	var same []string
	for i := range t.Len() {
		if x := change.Value(i); x == 0 || math.Abs(x) <= 1e-9*math.Abs(before.Nums[i]) {
			same = append(same, quantity.Texts[i]+" "+table.WithUnit(table.Fixed(before.Nums[i],
				before.DigitsAt(i)), before.UnitAt(i)))
			continue
		}
		changed = append(changed, i)
	}
	if len(changed) == 0 {
		return nil
	}
	shown := t.Lines(changed)
	shown.Name, shown.Head, shown.Side = t.Name, t.Head, t.Side
	if kase := shown.Column("case"); kase != nil && len(slices.Compact(slices.Clone(kase.Texts))) == 1 {
		shown.Columns = slices.DeleteFunc(shown.Columns, func(c *table.Column) bool { return c == kase })
	}
	out := &document.Shown{Name: t.Name, Head: t.Head, Side: t.Side, Table: shown}
	if len(same) > 0 {
		out.Foot = []string{"unchanged: " + strings.Join(same, ", ")}
	}
	return out
}
