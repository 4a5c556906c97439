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
	if cases := casesOf(t); len(cases) > 1 && t.Column("after") != nil && change.Kind == table.Number {
		return casesShown(t, cases)
	}
	var changed []int
	var same []string
	for i := range t.Len() {
		if unchanged(change.Value(i), before.Nums[i]) {
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
	shown.Name = t.Name
	if kase := shown.Column("case"); kase != nil && len(slices.Compact(slices.Clone(kase.Texts))) == 1 {
		shown.Columns = slices.DeleteFunc(shown.Columns, func(c *table.Column) bool { return c == kase })
	}
	shown.Columns = slices.DeleteFunc(shown.Columns, func(c *table.Column) bool { // what the verdict rests on
		return c.Name == "forms_low" || c.Name == "forms_high"
	})
	out := &document.Shown{Name: t.Name, Head: t.Head, Side: t.Side, Table: shown}
	if len(same) > 0 {
		out.Foot = []string{"unchanged: " + strings.Join(same, ", ")}
	}
	out.Foot = append(out.Foot, append(parted(t), t.Foot...)...)
	return out
}

// unchanged says whether a change is none, up to the last bits of a solution.
func unchanged(change, before float64) bool {
	return change == 0 || math.Abs(change) <= 1e-9*math.Abs(before)
}
