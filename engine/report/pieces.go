package report

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/table"
)

// drawPieces draws a judged trial: each pair's difference as a dot, the judged
// difference with its interval beneath, and the levels that matter as guides.
func drawPieces(f *Figure, d *drawing) {
	t := f.Table
	what, change, span, odd := t.Column("what"), t.Column("change"), t.Column("interval"), textColumn(t, "odd")
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
	if d.narrow() {
		left, right, pitch = 78, 10, 30
	}
	x := axisFor(values, 6)
	x.from, x.to = left, d.w-right
	top := 40.
	bottom := top + pitch*float64(t.Len()) + 10
	for _, v := range x.ticks {
		d.line("hair", x.at(v), top, x.at(v), bottom)
		d.text("t2 mid", x.at(v), bottom+17, signed(v, x.digits))
	}
	d.levels(f, x, top, bottom)
	for i := range t.Len() {
		y := top + pitch*(float64(i)+.5)
		e := estimateAt(span, i)
		if e != nil {
			y += 10
			d.line("axis", 0, y-pitch/2-4, d.w, y-pitch/2-4)
		}
		class, name := "", what.Texts[i]
		if odd != nil && odd.Texts[i] != "" {
			name += ", " + odd.Texts[i]
		}
		v := change.Value(i)
		figures := signed(v, 2) + thin + "%"
		if e != nil {
			class = "b"
			v = e.Value
			figures = signed(e.Value, 2) + thin + "%, " + signed(e.Low, 2) + " to " + signed(e.High, 2)
			d.whisker(x.at(e.Low), x.at(e.High), y)
		}
		d.text(class, 0, y+4.5, cut(name, d.textSize(), left-8))
		if !math.IsNaN(v) {
			look := series(0)
			if odd != nil && odd.Texts[i] != "" {
				look = 4 // a cross: a piece that does not fit
			}
			d.mark(look, x.at(v), y)
			if !d.narrow() {
				d.text("sm end "+class, d.w, y+4.5, figures)
			}
		}
	}
	title := "change of speed, %"
	if change.Unit != "" && change.Unit != "%" {
		title = "change, " + unitName(change.Unit)
	}
	d.text("t2 end", x.to, bottom+34, title)
	d.h = bottom + 40
}

// levels draws the levels that matter and their names above, moved apart.
func (d *drawing) levels(f *Figure, x scale, top, bottom float64) {
	right := [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, g := range f.Guides {
		if g.At < x.low || g.At > x.high {
			continue
		}
		class := "guide"
		if g.At == 0 {
			class = "axis"
		}
		d.line(class, x.at(g.At), top-4, x.at(g.At), bottom)
		w := textWidth(g.Label, 12.5)
		at := math.Max(w/2, math.Min(x.at(g.At), d.w-w/2))
		row := 0
		if at-w/2 < right[0]+6 {
			row = 1
		}
		if at-w/2 < right[row]+6 {
			continue
		}
		right[row] = at + w/2
		d.text("sm t2 mid halo", at, top-9-14*float64(row), g.Label)
	}
}

func estimateAt(c *table.Column, i int) *table.Estimate {
	if c == nil || c.Kind != table.Measured {
		return nil
	}
	return c.Estimates[i]
}

func describePieces(f *Figure) string {
	t := f.Table
	what, change, span := t.Column("what"), t.Column("change"), t.Column("interval")
	var parts []string
	for i := range t.Len() {
		s := fmt.Sprintf("%s %s %%", what.Texts[i], signed(change.Value(i), 2))
		if e := estimateAt(span, i); e != nil {
			s = fmt.Sprintf("%s %s %% (95 %% %s)", what.Texts[i], signed(e.Value, 2), interval(e))
		}
		parts = append(parts, s)
	}
	return capital(strings.Join(parts, "; ")) + "."
}
