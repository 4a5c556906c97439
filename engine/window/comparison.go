package window

import (
	"math"
	"strings"

	"thole/engine/record"
	"thole/engine/table"
	"thole/engine/term"
)

// Comparison sets a comparison of two runs: cause, effect, and where it comes
// from.
func Comparison(w term.Window, c *record.Comparison) []string {
	lines := []string{term.Bold.In("Cause")}
	if len(c.Causes) == 0 {
		lines = append(lines, "  nothing differs")
	}
	for _, line := range c.CauseLines() {
		lines = append(lines, w.Wrap("  ", 4, line)...)
	}
	lines = append(lines, term.Bold.In("Effect"))
	if len(c.Effects) > 0 {
		lines = append(lines, w.Table(c.Table(), term.Cutting{})...)
	}
	for _, line := range c.EffectLines() {
		lines = append(lines, w.Wrap("  ", 4, line)...)
	}
	if c.Verdict != "" {
		lines = append(lines, w.Wrap("", 0, c.Verdict)...)
	}
	return append(lines, w.Wrap("", 0, c.Count)...)
}

// manyLines is how long a comparison is before its unchanged lines step back.
const manyLines = 12

// withoutUnchanged takes the lines of a long comparison that did not change out
// of it and lists them in a sentence.
func withoutUnchanged(t *table.Table) (*table.Table, string) {
	quantity, before, after := t.Column("quantity"), t.Column("before"), t.Column("after")
	if quantity == nil || before == nil || after == nil || quantity.Kind != table.Text ||
		t.Len() <= manyLines {
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
