package weighing

import (
	"math"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/views"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
	"thole/engine/weighing"
	"thole/engine/words"
)

// What show(w) puts on the page, and what the prompt says of a weighing: the sentence, the
// verdicts, the figure of what could turn it.
func init() {
	views.ByKind["weighing"] = func(v, _ starlark.Value) []document.Block {
		w := v.(*weighedValue)
		t := foremostLines(verdictTable(w.w))
		return []document.Block{&document.Shown{Name: "what holds", Table: t, Side: t.Side},
			turningFigure(w.w, w.w.Main()), &document.Shown{Line: strings.Join(said(w), " ")}}
	}
	views.ShortByKind["weighing"] = func(v starlark.Value) []string {
		w := v.(*weighedValue)
		lines := []string{w.String()}
		for _, turn := range w.w.Turns(w.w.Main()) {
			lines = append(lines, "  turns it: "+turn)
		}
		lines = append(lines, "  measure: "+w.w.Measure(w.w.Main()))
		if limit := w.w.CrewIsLimit(); limit != "" {
			lines = append(lines, "  "+limit)
		}
		return lines
	}
}

// said are the sentences on what is told first: its verdict, and where the crew is the limit.
func said(w *weighedValue) []string {
	out := []string{words.Sentence(words.Capital(w.String()))}
	if limit := w.w.CrewIsLimit(); limit != "" {
		out = append(out, words.Sentence(words.Capital(limit)))
	}
	return out
}

// turningFigure is the figure of one quantity under everything that was tried.
func turningFigure(w *weighing.Weighed, k int) *document.Figure {
	q := &w.Quantities[k]
	turning := map[string]bool{}
	for _, t := range w.Turns(k) {
		what, _, _ := strings.Cut(t, ": ")
		turning[what] = true
	}
	kind, assumption := table.NewColumn("kind", "", table.Text), table.NewColumn("assumption", "", table.Text)
	change := table.NewColumn("change", q.ChangeUnit(), table.Number)
	low, high := table.NewColumn("low", q.ChangeUnit(), table.Number),
		table.NewColumn("high", q.ChangeUnit(), table.Number)
	turns := table.NewColumn("turns", "", table.Text)
	for _, c := range []*table.Column{change, low, high} {
		c.Signed, c.Digits = true, q.ChangeDigits()
	}
	line := func(ofKind weighing.Kind, name string, x, from, to float64, turned bool) {
		kind.Texts, assumption.Texts = append(kind.Texts, string(ofKind)), append(assumption.Texts, name)
		change.Nums, low.Nums, high.Nums = append(change.Nums, x), append(low.Nums, from),
			append(high.Nums, to)
		turns.Texts = append(turns.Texts, map[bool]string{true: "turns it"}[turned])
	}
	nan := math.NaN()
	for i, t := range w.Tries {
		if t.Change != nil {
			line(t.Kind, t.Assumption, t.Change[k], nan, nan, turning[t.Assumption])
		}
		if low, high := w.Interval(k); i == 0 && !math.IsNaN(low) {
			line(weighing.Input, "inputs in doubt, 95 %", t.Change[k], low, high,
				turning["the inputs in doubt"])
		}
	}
	addFarthest(w, k, line, turning)
	f := &document.Figure{Kind: figure.Weighing, Name: "what could turn the " + words.Spaced(q.Name),
		Worthwhile: q.Worth(w.Worthwhile, q.Of(w.Pair.Before)),
		Table: &table.Table{Name: words.Spaced(q.Name) + " weighed",
			Columns: []*table.Column{kind, assumption, change, low, high, turns}}}
	f.Sentence = figure.Sentence(f)
	return f
}

// addFarthest adds the forms at another hold that turn it: each hold's farthest.
func addFarthest(w *weighing.Weighed, k int,
	line func(weighing.Kind, string, float64, float64, float64, bool), turning map[string]bool) {
	for _, t := range w.ByHold {
		name := weighing.HoldNamed(t.Hold) + " with " + t.Assumption
		if turning[name] {
			line(weighing.HoldOf, name, t.Change[k], math.NaN(), math.NaN(), true)
		}
	}
}

// foremost are the quantities that show puts on the page; .table has all.
var foremost = []string{"speed", "time_2000", "drive_time", "heaviness", "effort", "peak_force", "outboard",
	"inboard", "catch", "finish", "rate"}

// foremostLines is a table of verdicts without what few ask for: other quantities, and
// the ends under each kind of assumption, which the figure shows for the first quantity. A
// verdict is a sentence, and needs the room.
func foremostLines(t *table.Table) *table.Table {
	var lines []int
	for i, q := range t.Column("quantity").Texts {
		if slices.Contains(foremost, q) {
			lines = append(lines, i)
		}
	}
	picked := t.Lines(lines)
	out := *picked
	out.Columns = nil
	for _, name := range []string{"quantity", "unit", "as_set", "low", "high", "verdict"} {
		if c := picked.Column(name); !c.AllBlank() {
			out.Columns = append(out.Columns, c)
		}
	}
	return &out
}
