package study

import (
	"fmt"
	"math"
	"slices"

	"thole/engine/table"
)

// lines grows the table of a vary. Only what is kept has a cell a line; of all the rest
// it is known whether it moved, and between which ends.
type lines struct {
	axes   []Axis
	of     []string // names kept; nil: all
	room   int      // lines to come, as far as is known
	n      int
	asked  []*table.Column // one an axis, as written
	given  []*given        // in the order in which they came
	byName map[string]*given
	cases  *given // names of cases
	reason *given // why a line is blank
}

// given is one name that the function gives.
type given struct {
	table.Column
	kept  bool
	axis  int  // the axis called like it, -1: none
	other bool // it came out otherwise than the axis asked

	some  int // lines that are not blank
	first Value
	moved bool
	span  Span
}

// Span is between which ends a number came out, and what it was at first.
type Span struct{ First, Low, High float64 }

func newLines(axes []Axis, of []string, points int) *lines {
	b := &lines{axes: axes, of: of, room: points, byName: map[string]*given{}}
	for _, a := range axes {
		c := &table.Column{Name: a.Name, Unit: a.Unit, Digits: a.Digits, Change: a.Digits}
		if a.Labels != nil {
			c.Kind = table.Text
		}
		b.asked = append(b.asked, c)
	}
	b.cases = &given{Column: table.Column{Name: "case", Kind: table.Text}, kept: true, axis: -1}
	b.reason = &given{Column: table.Column{Name: "reason", Kind: table.Text}, kept: true, axis: -1}
	return b
}

// add writes the lines of one point: one a case, one without an answer.
func (b *lines) add(p Point, r Result) {
	outcome := r.Outcome
	if r.Err != nil || len(outcome) == 0 {
		outcome = Outcome{{Err: r.Err}}
	}
	if b.n == 0 {
		b.room *= len(outcome)
	}
	for _, c := range outcome {
		for k, a := range b.axes {
			b.reserve(b.asked[k])
			if a.Labels != nil {
				b.asked[k].Texts = append(b.asked[k].Texts, a.Labels[int(p[k])])
			} else {
				b.asked[k].Nums = append(b.asked[k].Nums, p[k])
			}
		}
		if c.Name != "" {
			b.take(b.cases, Value{Text: c.Name, IsText: true})
		}
		for i, v := range c.Values {
			g := b.named(v, i)
			if g.axis >= 0 && g.kept && !v.IsText && math.Abs(v.Number-p[g.axis]) > measurable {
				g.other = true
			}
			b.take(g, v)
		}
		if c.Err != nil {
			b.take(b.reason, Value{Text: c.Err.Error(), IsText: true})
		}
		b.n++
	}
}

// named finds what is called so: nearly always where it stood in the line before.
func (b *lines) named(v Value, i int) *given {
	if v.Name == "reason" {
		return b.reason
	}
	if i < len(b.given) && b.given[i].Name == v.Name {
		return b.given[i]
	}
	g := b.byName[v.Name]
	if g == nil {
		g = &given{Column: table.Column{Name: v.Name, Unit: v.Unit, Digits: v.Digits, Change: v.Change},
			axis: -1}
		if v.IsText {
			g.Kind = table.Text
		}
		g.axis = slices.IndexFunc(b.axes, func(a Axis) bool { return a.Name == v.Name })
		text := g.axis >= 0 && b.axes[g.axis].Labels != nil // says it as it was written
		g.kept = !text && (b.of == nil || g.axis >= 0 || slices.Contains(b.of, v.Name))
		b.byName[v.Name] = g
		b.given = append(b.given, g)
	}
	return g
}

// take fills a cell of the line in hand.
func (b *lines) take(g *given, v Value) {
	if v.IsText && v.Text == "" || !v.IsText && math.IsNaN(v.Number) {
		return // blank
	}
	switch {
	case b.n == 0:
		g.first, g.span = v, Span{v.Number, v.Number, v.Number}
	case g.some == 0:
		g.moved, g.span = true, Span{v.Number, v.Number, v.Number}
	default:
		g.moved = g.moved || v.IsText != g.first.IsText || v.Text != g.first.Text ||
			v.Number != g.first.Number
		g.span.Low, g.span.High = min(g.span.Low, v.Number), max(g.span.High, v.Number)
	}
	g.some++
	if v.IsText && g.Kind == table.Number {
		g.toTexts()
	}
	if !g.kept {
		return
	}
	b.pad(&g.Column, b.n)
	switch {
	case g.Kind == table.Number:
		g.Nums = append(g.Nums[:b.n], v.Number)
	case v.IsText:
		g.Texts = append(g.Texts[:b.n], v.Text)
	default:
		g.Texts = append(g.Texts[:b.n], fmt.Sprint(v.Number))
	}
}

// toTexts turns a column that held numbers so far into texts.
func (g *given) toTexts() {
	g.Kind, g.Texts = table.Text, make([]string, len(g.Nums))
	for i, x := range g.Nums {
		if !math.IsNaN(x) {
			g.Texts[i] = fmt.Sprint(x)
		}
	}
	g.Nums = nil
}

// reserve makes room for all lines at once: a column that grows is held twice.
func (b *lines) reserve(c *table.Column) {
	switch {
	case c.Kind == table.Text && c.Texts == nil:
		c.Texts = make([]string, 0, max(b.room, b.n+1))
	case c.Kind == table.Number && c.Nums == nil:
		c.Nums = make([]float64, 0, max(b.room, b.n+1))
	}
}

// pad makes a column n cells long with blanks.
func (b *lines) pad(c *table.Column, n int) {
	b.reserve(c)
	for c.Len() < n {
		if c.Kind == table.Text {
			c.Texts = append(c.Texts, "")
		} else {
			c.Nums = append(c.Nums, math.NaN())
		}
	}
}

// lacks names the first name to keep that nothing gives, "" for none.
func (b *lines) lacks() *NoSuchOutput {
	for _, name := range b.of {
		if b.byName[name] == nil &&
			!slices.ContainsFunc(b.axes, func(a Axis) bool { return a.Name == name }) {
			e := &NoSuchOutput{Of: name}
			for _, g := range b.given {
				e.Gives = append(e.Gives, g.Name)
			}
			return e
		}
	}
	return nil
}

// columns gives what moved or could: all that the function gave beside its axes.
func (b *lines) columns() []*given {
	out := []*given{b.cases}
	for _, g := range b.given {
		if g.axis < 0 || g.other {
			out = append(out, g)
		}
	}
	return out
}

// alike says whether every line came out as the first one.
func (b *lines) alike() bool {
	outputs := 0
	for _, g := range append(b.columns(), b.reason) {
		if g.moved || g.some > 0 && g.some < b.n {
			return false
		}
		if g.some > 0 && g != b.reason {
			outputs++
		}
	}
	return b.n > 1 && outputs > 0
}

// table lays all out. An axis asked for one value where the function rowed another,
// "inboard" 90 and 89, is two columns: "inboard_asked" and "inboard".
func (b *lines) table() *table.Table {
	t := &table.Table{}
	for k, c := range b.asked {
		if g := b.byName[b.axes[k].Name]; g != nil && g.kept && g.other {
			c.Name += Asked
		}
		t.Columns = append(t.Columns, c)
	}
	columns := append(b.columns(), b.reason)
	if b.of != nil {
		slices.SortStableFunc(columns[1:len(columns)-1], func(x, y *given) int {
			return slices.Index(b.of, x.Name) - slices.Index(b.of, y.Name)
		})
	}
	for _, g := range columns {
		if g.kept && (g != b.cases || g.some > 0) {
			b.pad(&g.Column, b.n)
			t.Columns = append(t.Columns, &g.Column)
		}
	}
	return t
}

func (b *lines) spans() map[string]Span {
	spans := map[string]Span{}
	for _, g := range b.given {
		if g.Kind == table.Number {
			if g.some == 0 {
				g.span = Span{math.NaN(), math.NaN(), math.NaN()}
			}
			spans[g.Name] = g.span
		}
	}
	return spans
}
