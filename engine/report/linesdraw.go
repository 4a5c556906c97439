package report

import (
	"math"
	"strings"

	"thole/engine/table"
)

// drawLines draws lines over a setting, an arc or time: one row of panels a
// quantity, panels one above the other on the same x axis.
func drawLines(f *Figure, d *drawing) {
	rows := rowsOf(f)
	if len(rows) == 0 {
		d.h = 20
		return
	}
	var all []facetRow
	for _, r := range rows {
		all = append(all, r)
		if diff := differences(r); diff != nil {
			all = append(all, *diff)
		}
	}
	fr := layout(d, all)
	x := xAxis(f, rows, fr, d)
	y := 4.0
	if fr.key {
		y = d.key(all[0], y)
	}
	for i, r := range all {
		last := i == len(all)-1
		if r.difference {
			fr.height *= .6
		}
		y = d.row(f, r, fr, x, y, i == 0, last || fr.columns < len(r.facets))
		if r.difference {
			fr.height /= .6
		}
	}
	d.h = y
}

func xAxis(f *Figure, rows []facetRow, fr frame, d *drawing) scale {
	c := f.Table.Column(f.X)
	var xs []float64
	for _, r := range rows {
		for _, fc := range r.facets {
			for _, cv := range fc.curves {
				xs = append(xs, cv.xs...)
			}
		}
	}
	width := (d.w - fr.left - fr.right - fr.gap*float64(fr.columns-1)) / float64(fr.columns)
	about := 7
	if width < 320 {
		about = 5
	}
	x := spanFor(xs, about)
	if c.Kind == table.Text || allWholeSteps(c) && len(distinct(xs)) <= about+1 {
		x.ticks = sortedDistinct(xs)
		if wholeOnly(x.ticks) {
			x.digits = 0
		}
	}
	if c.Kind == table.Text { // names need room on both sides
		x.low, x.high = x.low-.5, x.high+.5
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
		if drawable(x) && !seen[x] {
			seen[x] = true
			out = append(out, x)
		}
	}
	return out
}

// row draws one quantity's panels and returns where the next row begins.
func (d *drawing) row(f *Figure, r facetRow, fr frame, x scale, top float64, first, numbers bool) float64 {
	width := (d.w - fr.left - fr.right - fr.gap*float64(fr.columns-1)) / float64(fr.columns)
	axis := r.axis(int(math.Max(4, math.Min(6, fr.height/34))))
	// title at the left above the axis; the span of a cut axis at the right
	d.text("b", 0, top+14, cut(r.title(), d.textSize(), d.w-90))
	s := axis.spans()
	if r.runsOff {
		s = "the first degrees run off the axis"
		if f.X != "angle" {
			s = "some of it runs off the axis"
		}
	}
	if s != "" {
		if textWidth(r.title(), d.textSize())+textWidth(s, 12.5)+10 < d.w-fr.right {
			d.text("sm t2 end", d.w-fr.right, top+14, s)
		} else {
			top += 16
			d.text("sm t2 end", d.w-fr.right, top+14, s)
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
		y.from, y.to = top+head+fr.height, top+head
		xs := x
		xs.from, xs.to = left, left+width
		if fc.title != "" {
			d.text("sm t2", left, top+13, fc.title)
		}
		endLabels := !fr.key && (column == fr.columns-1 || i == len(r.facets)-1)
		d.panel(f, r, fc, xs, y, column == 0, guided, endLabels, fr.sampled)
		lastInColumn := i+fr.columns >= len(r.facets)
		if numbers && (lastInColumn || fr.columns == 1) {
			d.xNumbers(f, xs, y.from, lastInColumn && (column == fr.columns-1 || i == len(r.facets)-1))
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

func hasGuide(f *Figure, axis string) bool {
	for _, g := range f.Guides {
		if g.Axis == axis {
			return true
		}
	}
	return false
}

// panel draws rules, guides, bands, lines, marks and names of one panel.
func (d *drawing) panel(f *Figure, r facetRow, fc facet, x, y scale, numbers, guideNames, endNames, sampled bool) {
	for _, t := range y.ticks {
		class := "hair"
		if t == 0 || t == y.low {
			class = "axis"
		}
		d.line(class, x.from, y.at(t), x.to, y.at(t))
		if numbers {
			d.text("t2 end", x.from-7, y.at(t)+4.4, y.label(t))
		}
	}
	d.guides(f, r, x, y, guideNames)
	for _, c := range fc.curves {
		if len(c.low) > 0 {
			d.path(c.look.band(), bandPath(c, x, y))
		}
	}
	for i := len(fc.curves) - 1; i >= 0; i-- { // the first line lies on top
		c := fc.curves[i]
		d.path(c.look.line(), polyline(mapped(c.xs, x), mapped(c.ys, y)))
	}
	for i, c := range fc.curves {
		for _, k := range markedPoints(c, i, len(fc.curves)) {
			d.mark(c.look, x.at(c.xs[k]), y.at(c.ys[k]))
		}
	}
	if endNames {
		d.endNames(fc.curves, x, y, sampled)
	}
}

// guides draws dotted levels and places with their names.
func (d *drawing) guides(f *Figure, r facetRow, x, y scale, names bool) {
	type place struct {
		at    float64
		label string
		arc   bool
	}
	var places []place
	if f.X == "angle" && x.low < 0 && x.high > 0 {
		places = append(places, place{0, "square", true})
	}
	for _, g := range f.Guides {
		if f.X == "angle" && g.At == 0 {
			continue // square has its name already
		}
		if g.Axis == "x" && g.At >= x.low && g.At <= x.high {
			places = append(places, place{g.At, g.Label, false})
		}
		if g.Axis == r.name && !r.difference && g.At >= y.low && g.At <= y.high {
			d.line("guide", x.from, y.at(g.At), x.to, y.at(g.At))
			d.text("sm t2 halo", x.from+4, y.at(g.At)-5, g.Label)
		}
	}
	right := math.Inf(-1)
	for _, q := range places {
		d.line("guide", x.at(q.at), y.from, x.at(q.at), y.to-3)
		if !names {
			continue
		}
		class := "sm t2 mid"
		if q.arc {
			class = "it mid"
		}
		w := textWidth(q.label, 12.5)
		at := math.Max(w/2, math.Min(x.at(q.at), d.w-w/2))
		row := y.to - 7
		if at-w/2 < right+8 {
			row -= 13
		}
		right = at + w/2
		d.text(class+" halo", at, row, q.label)
	}
}

func mapped(vs []float64, s scale) []float64 {
	out := make([]float64, len(vs))
	for i, v := range vs {
		out[i] = s.at(v)
	}
	return out
}

// bandPath runs along the upper end and back along the lower; gaps part it.
func bandPath(c curve, x, y scale) string {
	var b strings.Builder
	for i := 0; i < len(c.xs); {
		if math.IsNaN(c.low[i]) {
			i++
			continue
		}
		j := i
		for j < len(c.xs) && !math.IsNaN(c.low[j]) {
			j++
		}
		for k := i; k < j; k++ {
			b.WriteString([]string{"L", "M"}[b2i(k == i)] + num(x.at(c.xs[k])) + " " + num(y.at(c.high[k])))
		}
		for k := j - 1; k >= i; k-- {
			b.WriteString("L" + num(x.at(c.xs[k])) + " " + num(y.at(c.low[k])))
		}
		b.WriteString("Z")
		i = j
	}
	return b.String()
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
func (d *drawing) xNumbers(f *Figure, x scale, bottom float64, name bool) {
	c := f.Table.Column(f.X)
	right := math.Inf(-1)
	for _, t := range x.ticks {
		label := x.label(t)
		if c.Kind == table.Text {
			label = textAt(c, t)
			label = cut(label, d.textSize(), (x.to-x.from)/float64(len(x.ticks))-4)
		}
		w := textWidth(label, d.textSize())
		if x.at(t)-w/2 < right+6 {
			continue
		}
		right = x.at(t) + w/2
		d.line("axis", x.at(t), bottom, x.at(t), bottom+4)
		d.text("t2 mid", x.at(t), bottom+18, label)
	}
	if f.X == "angle" {
		d.text("it", x.from-8, bottom+35, "← catch")
		d.text("it end", x.to, bottom+35, "finish →")
		if name && x.to-x.from > 240 {
			d.text("t2 mid", (x.from+x.to)/2, bottom+35, "oar angle, degrees")
		}
		return
	}
	if name {
		title := words(f.X)
		if c.Unit != "" {
			title += ", " + unitName(c.Unit)
		}
		d.text("t2 end", x.to, bottom+35, title)
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
