package figure

import (
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// Bars of one stroke's energy: columns item (text), side (text: a heading,
// "what the rower puts in", "where it goes"), then one column a stroke, in J.
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
	Title:    func(*document.Figure) string { return "Energy of one stroke" },
	Describe: describeBars,
	Reading: func(f *document.Figure) string {
		if len(barCases(f.Table)) < 2 {
			return "Each bar is one share of a single stroke."
		}
		return "Bars of one name are the strokes in the order of the key."
	},
	Draw: drawBars,
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
