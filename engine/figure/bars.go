package figure

import (
	"math"
	"slices"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/term"
	"thole/engine/typeset"
	"thole/engine/words"
)

// Bars of named amounts: columns item (text), side (text: a heading, "what the rower
// puts in", "where it goes"), then one column a stroke, in one unit: the energy of
// strokes. A table of ways to one change has bars of what each way costs beneath it.
const Bars document.Kind = "bars"

var barsKind = &Kind{
	Name:  Bars,
	Needs: func(*document.Figure) []Need { return []Need{{"item", Names}} },
	Lacks: func(f *document.Figure) string {
		if len(barCases(f.Table)) == 0 {
			return "it has no stroke to draw"
		}
		return ""
	},
	Title: func(f *document.Figure) string {
		if f.X == costOfWays {
			return "What each way costs over 2000 m"
		}
		return "Energy of one stroke"
	},
	Describe: describeBars,
	Reading: func(f *document.Figure) string {
		if f.X == costOfWays {
			const each = "Each bar is the change of time over 2000 m"
			if slices.ContainsFunc(f.Table.TextColumn("item").Texts, falls) {
				return each + ", of a way marked * for what it reaches: it does not get there."
			}
			return each + "."
		}
		if len(barCases(f.Table)) < 2 {
			return "Each bar is one share of a single stroke."
		}
		return "Bars of one name are the strokes in the order of the key."
	},
	Draw:   drawBars,
	Window: func(w term.Window, f *document.Figure) []string { return barsInWindow(w, f.Table) },
	Beside: func(t *table.Table) (*document.Figure, Place) { return waysAsBars(t), Below },
}

// costOfWays is the column of a table of ways that its bars show.
const costOfWays = "over_2000_m"

// fallsShort marks a way that does not bring the change that was asked.
const fallsShort = " *"

func falls(item string) bool { return strings.HasSuffix(item, fallsShort) }

// waysAsBars makes the bars of a table of ways, nil of any other table: way (text), what
// it costs, note, which says why a way falls short.
func waysAsBars(t *table.Table) *document.Figure {
	way, note, cost := t.TextColumn("way"), t.TextColumn("note"), t.Column(costOfWays)
	if way == nil || note == nil || cost == nil || cost.Kind != table.Number {
		return nil
	}
	item, side := table.NewColumn("item", "", table.Text), table.NewColumn("side", "", table.Text)
	for i, name := range way.Texts {
		if strings.HasPrefix(note.Texts[i], "does not") {
			name += fallsShort
		}
		item.Texts, side.Texts = append(item.Texts, name), append(side.Texts, "over 2000 m")
	}
	return &document.Figure{Kind: Bars, X: costOfWays, Held: t.Held,
		Table: &table.Table{Held: t.Held, Columns: []*table.Column{item, side, cost}}}
}

// barCases are the columns of a table of bars that hold a stroke each.
func barCases(t *table.Table) []*table.Column {
	var out []*table.Column
	for _, c := range t.Columns {
		if c.Name != "item" && c.Name != "side" && c.Kind != table.Text {
			out = append(out, c)
		}
	}
	return out
}

// nameSize is the size in which the names of bars are set.
const nameSize = 13.5

// drawBars draws what goes in and where it goes, the strokes paired.
func drawBars(f *document.Figure, d *draw.Surface) {
	t := f.Table
	items, sides, cases := t.Column("item"), t.TextColumn("side"), barCases(t)
	var values []float64
	for _, c := range cases {
		for i := range c.Len() {
			values = append(values, c.Value(i))
		}
	}
	low, high := draw.Extent(values)
	low, high = math.Min(low, 0), math.Max(high, 1e-9)
	// room for the longest name, up to under half of the drawing
	left, right := 0., 62.
	for _, item := range items.Texts {
		left = math.Max(left, draw.TextWidth(words.Spaced(item), nameSize)+22)
	}
	left = math.Min(left, 0.45*d.W)
	if d.Narrow() {
		left, right = 0, 52
	}
	x := draw.Scale{Low: low, High: high, From: left, To: d.W - right}
	y := 2.
	if len(cases) > 1 {
		y = barKey(d, cases, y)
	}
	const thick, gap = 11., 3.
	side := ""
	for i := range t.Len() {
		if sides != nil && sides.Texts[i] != side {
			side = sides.Texts[i]
			d.Text("b", 0, y+20, typeset.Head(words.Capital(side), cases[0].Unit))
			y += 30
		}
		name := words.Spaced(items.Texts[i])
		height := float64(len(cases))*(thick+gap) - gap
		if d.Narrow() {
			d.Text("", 0, y+11, draw.Cut(name, 12.5, d.W))
			y += 17
		} else {
			d.Text("end", left-10, y+height/2+4.5, draw.Cut(name, nameSize, left-12))
		}
		d.Line("axis", x.At(0), y-3, x.At(0), y+height+3)
		for k, c := range cases {
			v := c.Value(i)
			if math.IsNaN(v) {
				continue
			}
			top := y + float64(k)*(thick+gap)
			d.Bar(draw.Series(k), x.At(0), top, x.At(v)-x.At(0), thick)
			d.Text("sm", math.Max(x.At(v), x.At(0))+6, top+thick-1, typeset.Cells(c)[i])
		}
		y += height + 12
	}
	d.H = y
}

func barKey(d *draw.Surface, cases []*table.Column, top float64) float64 {
	x, y := 0., top
	for k, c := range cases {
		name := draw.Cut(words.Spaced(c.Name), d.TextSize(), d.W-36)
		w := 30 + draw.TextWidth(name, d.TextSize()) + 20
		if x > 0 && x+w-20 > d.W {
			x, y = 0, y+19
		}
		d.Bar(draw.Series(k), x, y+3, 22, 11)
		d.Text("", x+29, y+13, name)
		x += w
	}
	return y + 24
}

func describeBars(f *document.Figure) string {
	var parts []string
	items := f.Table.Column("item")
	for _, c := range barCases(f.Table) {
		var of []string
		for i := range f.Table.Len() {
			of = append(of, words.Spaced(items.Texts[i])+" "+typeset.Cells(c)[i])
		}
		parts = append(parts, words.Spaced(c.Name)+": "+strings.Join(of, ", ")+" "+c.Unit)
	}
	return strings.Join(parts, ". ") + "."
}

// bars draws the book of a stroke's energy: a bar for each item and stroke.
func barsInWindow(w term.Window, t *table.Table) []string {
	item, side := t.Column("item"), t.Column("side")
	if item == nil {
		return w.Table(t, term.Cutting{})
	}
	var cases []*table.Column
	largest, label, caseName := 0.0, 0, 0
	for _, c := range t.Columns {
		if c.Kind != table.Number {
			continue
		}
		cases = append(cases, c)
		caseName = max(caseName, term.Width(w.Clean(c.Name)))
		for i := range c.Len() {
			if !c.Blank(i) {
				largest = math.Max(largest, math.Abs(c.Nums[i]))
			}
		}
	}
	for i := range item.Len() {
		label = max(label, term.Width(w.Clean(item.Texts[i])))
	}
	// names stand whole as long as the bars keep sixteen columns, longer ones are cut
	caseName = min(caseName, w.TextWidth()/4)
	label = min(label, max(w.TextWidth()/3, w.TextWidth()-18-caseName-16))
	if len(cases) == 1 {
		caseName = -2
	}
	room := max(w.TextWidth()-2-label-2-caseName-2-12, 8)
	blocks := [...]string{"█", "▄", "▀", "+", "x"}
	if w.ASCII {
		blocks = [...]string{"*", "o", "+", "x", "#"}
	}
	var lines []string
	heading := ""
	for i := range item.Len() {
		if side != nil && side.Texts[i] != heading {
			heading = side.Texts[i]
			lines = append(lines, w.Wrap("", 2, w.Clean(heading))...)
		}
		for k, c := range cases {
			if c.Blank(i) {
				continue
			}
			name := ""
			if k == 0 {
				name = term.Cut(w.Clean(item.Texts[i]), label)
			}
			line := "  " + term.PadRight(name, label) + "  "
			if len(cases) > 1 {
				line += term.PadRight(term.Cut(w.Clean(c.Name), caseName), caseName) + "  "
			}
			n := 0
			if largest > 0 {
				n = int(math.Round(math.Abs(c.Nums[i]) / largest * float64(room)))
			}
			bar := term.Series(k + 1).In(strings.Repeat(blocks[min(k, 4)], n))
			number := table.WithUnit(table.Fixed(c.Nums[i], max(c.Digits, 0)), w.Clean(c.Unit))
			if bar != "" {
				bar += " "
			}
			lines = append(lines, line+bar+number)
		}
	}
	return lines
}
