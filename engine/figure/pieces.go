package figure

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// Pieces is a judged trial: what (text: "pair 1", ..., last "difference"),
// change (number, % of speed), interval (estimate, in the last line only), odd
// (text, "odd" or blank). Guides on "change" are the levels that matter.
const Pieces document.Kind = "pieces"

var piecesKind = &Kind{
	Name:     Pieces,
	Needs:    func(*document.Figure) []Need { return []Need{{"what", Names}, {"change", Numbers}} },
	Title:    func(f *document.Figure) string { return named(f, "Pairs of pieces") },
	Describe: describePieces,
	Reading: func(*document.Figure) string {
		return "Each dot is a pair of pieces; the lowest line is what they tell together, with its 95 % " +
			"interval."
	},
	Draw: drawPieces,
}

// drawPieces draws a judged trial: each pair's difference as a dot, the judged
// difference with its interval beneath, and the levels that matter as guides.
func drawPieces(f *document.Figure, d *draw.Surface) {
	t := f.Table
	what, change, span, odd := t.Column("what"), t.Column("change"), t.Column("interval"), t.TextColumn("odd")
	values := []float64{0}
	for i := range t.Len() {
		values = append(values, change.Value(i))
		if e := estimateAt(span, i); e != nil {
			values = append(values, e.Low, e.High, e.Value)
		}
	}
	for _, g := range f.Guides {
		values = append(values, g.At)
	}
	left, right, pitch := 120., 160., 28.
	if d.Narrow() {
		left, right, pitch = 78, 10, 30
	}
	x := draw.Axis(values, 6)
	x.From, x.To = left, d.W-right
	top := 40.
	bottom := top + pitch*float64(t.Len()) + 10
	for _, v := range x.Ticks {
		d.Line("hair", x.At(v), top, x.At(v), bottom)
		d.Text("t2 mid", x.At(v), bottom+17, typeset.Signed(v, x.Digits))
	}
	levels(d, f, x, top, bottom)
	for i := range t.Len() {
		y := top + pitch*(float64(i)+.5)
		e := estimateAt(span, i)
		if e != nil {
			y += 10
			d.Line("axis", 0, y-pitch/2-4, d.W, y-pitch/2-4)
		}
		class, name := "", what.Texts[i]
		if odd != nil && odd.Texts[i] != "" {
			name += ", " + odd.Texts[i]
		}
		v := change.Value(i)
		figures := typeset.Signed(v, 2) + typeset.Thin + "%"
		if e != nil {
			class = "b"
			v = e.Value
			figures = typeset.Signed(e.Value, 2) + typeset.Thin + "%, " + typeset.Signed(e.Low, 2) + " to " +
				typeset.Signed(e.High, 2)
			drawInterval(d, x.At(e.Low), x.At(e.High), y)
		}
		d.Text(class, 0, y+4.5, draw.Cut(name, d.TextSize(), left-8))
		if !math.IsNaN(v) {
			look := draw.Series(0)
			if odd != nil && odd.Texts[i] != "" {
				look = 4 // a cross: a piece that does not fit
			}
			d.Mark(look, x.At(v), y)
			if !d.Narrow() {
				d.Text("sm end "+class, d.W, y+4.5, figures)
			}
		}
	}
	title := "change of speed, %"
	if change.Unit != "" && change.Unit != "%" {
		title = typeset.Head("change", change.Unit)
	}
	d.Text("t2 end", x.To, bottom+34, title)
	d.H = bottom + 40
}

// levels draws the levels that matter and their names above, moved apart.
func levels(d *draw.Surface, f *document.Figure, x draw.Scale, top, bottom float64) {
	right := [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, g := range f.Guides {
		if g.At < x.Low || g.At > x.High {
			continue
		}
		class := "guide"
		if g.At == 0 {
			class = "axis"
		}
		d.Line(class, x.At(g.At), top-4, x.At(g.At), bottom)
		w := draw.TextWidth(g.Label, 12.5)
		at := math.Max(w/2, math.Min(x.At(g.At), d.W-w/2))
		row := 0
		if at-w/2 < right[0]+6 {
			row = 1
		}
		if at-w/2 < right[row]+6 {
			continue
		}
		right[row] = at + w/2
		d.Text("sm t2 mid halo", at, top-9-14*float64(row), g.Label)
	}
}

func estimateAt(c *table.Column, i int) *table.Estimate {
	if c == nil || c.Kind != table.Measured {
		return nil
	}
	return c.Estimates[i]
}

func describePieces(f *document.Figure) string {
	t := f.Table
	what, change, span := t.Column("what"), t.Column("change"), t.Column("interval")
	var parts []string
	for i := range t.Len() {
		s := fmt.Sprintf("%s %s %%", what.Texts[i], typeset.Signed(change.Value(i), 2))
		if e := estimateAt(span, i); e != nil {
			s = fmt.Sprintf("%s %s %% (95 %% %s)", what.Texts[i], typeset.Signed(e.Value, 2),
				typeset.Interval(e))
		}
		parts = append(parts, s)
	}
	return words.Capital(strings.Join(parts, "; ")) + "."
}
