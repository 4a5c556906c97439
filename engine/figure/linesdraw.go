package figure

import (
	"math"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// drawLines draws lines over a setting, an arc or time: one row of panels a
// quantity, panels one above the other on the same x axis.
func drawLines(f *document.Figure, d *draw.Surface) {
	rows := rowsOf(f)
	if len(rows) == 0 {
		d.H = 20
		return
	}
	var all []facetRow
	for _, r := range rows {
		all = append(all, r)
		if diff := differences(r); diff != nil && !d.Projected() {
			all = append(all, *diff)
		}
	}
	fr := layout(d, all)
	x := xAxis(f, rows, fr, d)
	y := 4.0
	if fr.key {
		y = key(d, all[0], y)
	}
	for i, r := range all {
		last := i == len(all)-1
		if r.difference {
			fr.height *= .6
		}
		y = row(d, f, r, fr, x, y, i == 0, last || fr.columns < len(r.facets))
		if r.difference {
			fr.height /= .6
		}
	}
	d.H = y
}

func xAxis(f *document.Figure, rows []facetRow, fr frame, d *draw.Surface) draw.Scale {
	c := f.Table.Column(f.X)
	var xs []float64
	for _, r := range rows {
		for _, fc := range r.facets {
			for _, cv := range fc.curves {
				xs = append(xs, cv.xs...)
			}
		}
	}
	width := (d.W - fr.left - fr.right - fr.gap*float64(fr.columns-1)) / float64(fr.columns)
	about := 7
	if width < 320 {
		about = 5
	}
	x := draw.Span(xs, about)
	if c.Kind == table.Text || allWholeSteps(c) && len(distinct(xs)) <= about+1 {
		x.Ticks = sortedDistinct(xs)
		if wholeOnly(x.Ticks) {
			x.Digits = 0
		}
	}
	if c.Kind == table.Text { // names need room on both sides
		x.Low, x.High = x.Low-.5, x.High+.5
	}
	return x
}

// allWholeSteps says whether every setting is a whole number, so that a few of
// them can be the ticks themselves.
func allWholeSteps(c *table.Column) bool {
	for i := range c.Len() {
		if v := c.Value(i); math.IsNaN(v) || v != math.Round(v) {
			return false
		}
	}
	return true
}

func distinct(xs []float64) []float64 {
	var out []float64
	seen := map[float64]bool{}
	for _, x := range xs {
		if draw.Drawable(x) && !seen[x] {
			seen[x] = true
			out = append(out, x)
		}
	}
	return out
}

// row draws one quantity's panels and returns where the next row begins.
func row(d *draw.Surface, f *document.Figure, r facetRow, fr frame, x draw.Scale, top float64, first,
	numbers bool) float64 {
	width := (d.W - fr.left - fr.right - fr.gap*float64(fr.columns-1)) / float64(fr.columns)
	axis := r.axis(int(math.Max(4, math.Min(6, fr.height/34))))
	// title at the left above the axis; the span of a cut axis at the right
	d.Text("b", 0, top+14, draw.Cut(r.title(), d.TextSize(), d.W-90))
	s := axis.Spans()
	if r.runsOff {
		s = "the first degrees run off the axis"
		if f.X != "angle" {
			s = "some of it runs off the axis"
		}
	}
	if s != "" {
		if draw.TextWidth(r.title(), d.TextSize())+draw.TextWidth(s, 12.5)+10 < d.W-fr.right {
			d.Text("sm t2 end", d.W-fr.right, top+14, s)
		} else {
			top += 16
			d.Text("sm t2 end", d.W-fr.right, top+14, s)
		}
	}
	top += 29
	guided := first && hasGuide(f, "x") || f.X == "angle" && first
	for i, fc := range r.facets {
		column := i % fr.columns
		if i > 0 && column == 0 {
			top += fr.height + 42
		}
		head := 0.0
		if fc.title != "" {
			head = 18
		}
		if guided {
			head += 18
		}
		left := fr.left + float64(column)*(width+fr.gap)
		y := axis
		y.From, y.To = top+head+fr.height, top+head
		xs := x
		xs.From, xs.To = left, left+width
		if fc.title != "" {
			d.Text("sm t2", left, top+13, fc.title)
		}
		endLabels := !fr.key && (column == fr.columns-1 || i == len(r.facets)-1)
		panel(d, f, r, fc, xs, y, column == 0, guided, endLabels, fr.sampled)
		lastInColumn := i+fr.columns >= len(r.facets)
		if numbers && (lastInColumn || fr.columns == 1) {
			xNumbers(d, f, xs, y.From, lastInColumn && (column == fr.columns-1 || i == len(r.facets)-1))
		}
		if i == len(r.facets)-1 {
			top += head + fr.height
		} else if column == fr.columns-1 {
			top += head
		}
	}
	switch {
	case numbers && len(r.facets) > fr.columns:
		return top + 54
	case numbers:
		return top + 42
	}
	return top + 30
}

func hasGuide(f *document.Figure, axis string) bool {
	for _, g := range f.Guides {
		if g.Axis == axis {
			return true
		}
	}
	return false
}

// panel draws rules, guides, bands, lines, marks and names of one panel.
func panel(d *draw.Surface, f *document.Figure, r facetRow, fc facet, x, y draw.Scale, numbers, guideNames,
	endNames, sampled bool) {
	for _, t := range y.Ticks {
		class := "hair"
		if t == 0 || t == y.Low {
			class = "axis"
		}
		d.Line(class, x.From, y.At(t), x.To, y.At(t))
		if numbers {
			d.Text("t2 end", x.From-7, y.At(t)+4.4, y.Label(t))
		}
	}
	guides(d, f, r, x, y, guideNames)
	for _, c := range fc.curves {
		if len(c.low) > 0 {
			d.Path(c.look.Band(), bandPath(c, x, y))
		}
	}
	for i := len(fc.curves) - 1; i >= 0; i-- { // the first line lies on top
		c := fc.curves[i]
		d.Path(c.look.Line(), draw.Polyline(draw.Mapped(c.xs, x), draw.Mapped(c.ys, y)))
	}
	for i, c := range fc.curves {
		for _, k := range markedPoints(c, i, len(fc.curves)) {
			d.Mark(c.look, x.At(c.xs[k]), y.At(c.ys[k]))
		}
	}
	if endNames {
		nameEnds(d, fc.curves, x, y, sampled)
	}
}

// guides draws dotted levels and places with their names.
func guides(d *draw.Surface, f *document.Figure, r facetRow, x, y draw.Scale, names bool) {
	type place struct {
		at    float64
		label string
		arc   bool
	}
	var places []place
	if f.X == "angle" && x.Low < 0 && x.High > 0 {
		places = append(places, place{0, "square", true})
	}
	for _, g := range f.Guides {
		if f.X == "angle" && g.At == 0 {
			continue // square has its name already
		}
		if g.Axis == "x" && g.At >= x.Low && g.At <= x.High {
			places = append(places, place{g.At, g.Label, false})
		}
		if g.Axis == r.name && !r.difference && g.At >= y.Low && g.At <= y.High {
			d.Line("guide", x.From, y.At(g.At), x.To, y.At(g.At))
			d.Text("sm t2 halo", x.From+4, y.At(g.At)-5, g.Label)
		}
	}
	right := math.Inf(-1)
	for _, q := range places {
		d.Line("guide", x.At(q.at), y.From, x.At(q.at), y.To-3)
		if !names {
			continue
		}
		class := "sm t2 mid"
		if q.arc {
			class = "it mid"
		}
		w := draw.TextWidth(q.label, 12.5)
		at := math.Max(w/2, math.Min(x.At(q.at), d.W-w/2))
		row := y.To - 7
		if at-w/2 < right+8 {
			row -= 13
		}
		right = at + w/2
		d.Text(class+" halo", at, row, q.label)
	}
}

// bandPath runs along the upper end and back along the lower; gaps part it.
func bandPath(c curve, x, y draw.Scale) string {
	path := ""
	for i := 0; i < len(c.xs); {
		j := i
		for j < len(c.xs) && !math.IsNaN(c.low[j]) {
			j++
		}
		xs := draw.Mapped(c.xs[i:j], x)
		path += draw.Ring(xs, draw.Mapped(c.high[i:j], y), xs, draw.Mapped(c.low[i:j], y))
		i = max(j, i+1)
	}
	return path
}

// markedPoints picks where a line bears its mark: every point of a short line,
// a few of a long one, set off from those of the other lines.
func markedPoints(c curve, at, of int) []int {
	var real []int
	for i := range c.xs {
		if !math.IsNaN(c.ys[i]) && !math.IsNaN(c.xs[i]) {
			real = append(real, i)
		}
	}
	if len(real) <= 9 {
		return real
	}
	var out []int
	const marks = 4
	shift := (float64(at) + .5) / float64(of)
	for k := range marks {
		out = append(out, real[min(len(real)-1, int((float64(k)+shift)/marks*float64(len(real))))])
	}
	return out
}

// xNumbers writes the ticks below a panel, and the axis' name at its right end.
func xNumbers(d *draw.Surface, f *document.Figure, x draw.Scale, bottom float64, name bool) {
	c := f.Table.Column(f.X)
	right := math.Inf(-1)
	for _, t := range x.Ticks {
		label := x.Label(t)
		if c.Kind == table.Text {
			label = textAt(c, t)
			label = draw.Cut(label, d.TextSize(), (x.To-x.From)/float64(len(x.Ticks))-4)
		}
		w := draw.TextWidth(label, d.TextSize())
		if x.At(t)-w/2 < right+6 {
			continue
		}
		right = x.At(t) + w/2
		d.Line("axis", x.At(t), bottom, x.At(t), bottom+4)
		d.Text("t2 mid", x.At(t), bottom+18, label)
	}
	if f.X == "angle" {
		d.Text("it", x.From-8, bottom+35, "← catch")
		d.Text("it end", x.To, bottom+35, "finish →")
		if name && x.To-x.From > 240 {
			d.Text("t2 mid", (x.From+x.To)/2, bottom+35, "oar angle, degrees")
		}
		return
	}
	if name {
		d.Text("t2 end", x.To, bottom+35, typeset.Head(words.Spaced(f.X), c.Unit))
	}
}

// textAt is the text that stands at a place of an axis of names.
func textAt(c *table.Column, at float64) string {
	for i, v := range axisPlaces(c) {
		if v == at {
			return c.Texts[i]
		}
	}
	return ""
}
