package weighing

import (
	"fmt"
	"math"

	"thole/engine/table"
	"thole/engine/weighing"
)

// verdictTable has a line a quantity that changes anywhere.
func verdictTable(w *weighing.Weighed) *table.Table {
	names := []string{"as_set", "low", "high", "forms_low", "forms_high", "holds_low", "holds_high",
		"definitions_low", "definitions_high"}
	quantity, unit := table.NewColumn("quantity", "", table.Text), table.NewColumn("unit", "", table.Text)
	verdict := table.NewColumn("verdict", "", table.Text)
	columns := []*table.Column{quantity, unit}
	for _, name := range names {
		c := table.NewColumn(name, "", table.Number)
		c.Signed = true
		columns = append(columns, c)
	}
	for _, k := range changing(w) {
		q := &w.Quantities[k]
		quantity.Texts, unit.Texts = append(quantity.Texts, q.Name), append(unit.Texts, q.ChangeUnit())
		low, high := w.Interval(k)
		values := []float64{w.Tries[0].Change[k], low, high}
		for _, kind := range []weighing.Kind{weighing.FormOf, weighing.HoldOf, weighing.Definition} {
			low, high := w.Span(k, kind)
			values = append(values, low, high)
		}
		for i, x := range values {
			addNumber(columns[2+i], x, q)
		}
		verdict.Texts = append(verdict.Texts, w.Verdict(k))
	}
	return &table.Table{Head: w.Names[0] + " -> " + w.Names[1], Side: side(w),
		Columns: append(columns, verdict)}
}

// side says at what hold, and over how many draws.
func side(w *weighing.Weighed) string {
	s := "changes " + w.Held
	if w.Held == "" {
		s = "changes"
	}
	if w.Draws != nil {
		s += fmt.Sprintf(", low and high: 95 %% of %d draws", len(w.Draws[0]))
	}
	return s
}

func addNumber(c *table.Column, x float64, q *weighing.Quantity) {
	c.Nums, c.Units, c.Places = append(c.Nums, x), append(c.Units, q.ChangeUnit()), append(c.Places,
		q.ChangeDigits())
}

// changing are the quantities that change anywhere, and the speed.
func changing(w *weighing.Weighed) []int {
	var out []int
	for k := range w.Quantities {
		moves := w.Quantities[k].Name == "speed"
		for _, tries := range [][]weighing.Try{w.Tries, w.ByHold, w.Crossed} {
			for _, t := range tries {
				moves = moves || t.Change != nil && t.Change[k] != 0 && !math.IsNaN(t.Change[k])
			}
		}
		if moves {
			out = append(out, k)
		}
	}
	return out
}

// assumptionTable has a line for each thing tried, those that could not be rowed with why.
func assumptionTable(w *weighing.Weighed) *table.Table {
	kind, assumption := table.NewColumn("kind", "", table.Text), table.NewColumn("assumption", "", table.Text)
	t := &table.Table{Head: w.Names[0] + " -> " + w.Names[1], Side: side(w),
		Columns: []*table.Column{kind, assumption}}
	for _, x := range w.Tries {
		kind.Texts, assumption.Texts = append(kind.Texts, string(x.Kind)),
			append(assumption.Texts, x.Assumption)
	}
	addChanges(t, w, w.Tries)
	why, some := table.NewColumn("not_rowed", "", table.Text), false
	for _, x := range w.Tries {
		why.Texts, some = append(why.Texts, x.Why), some || x.Why != ""
	}
	if some {
		t.Columns = append(t.Columns, why)
	}
	return t
}

// addChanges adds a column for each quantity that changes, a line for each try.
func addChanges(t *table.Table, w *weighing.Weighed, tries []weighing.Try) {
	for _, k := range changing(w) {
		q := &w.Quantities[k]
		c := table.NewColumn(q.Name, q.ChangeUnit(), table.Number)
		c.Signed, c.Digits = true, q.ChangeDigits()
		for _, x := range tries {
			change := math.NaN()
			if x.Change != nil {
				change = x.Change[k]
			}
			c.Nums = append(c.Nums, change)
		}
		t.Columns = append(t.Columns, c)
	}
}

// crossedTable has a line for each combination, told by its forms and its hold.
func crossedTable(w *weighing.Weighed, tries []weighing.Try) *table.Table {
	hold, form := table.NewColumn("hold", "", table.Text), table.NewColumn("forms", "", table.Text)
	for _, x := range tries {
		hold.Texts, form.Texts = append(hold.Texts, x.Hold), append(form.Texts, x.Assumption)
	}
	t := &table.Table{Head: w.Names[0] + " -> " + w.Names[1], Columns: []*table.Column{form, hold}}
	addChanges(t, w, tries)
	return t
}
