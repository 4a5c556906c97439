package report

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/figure"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// draws holds how each kind of figure is drawn into a drawing of given width.
// It sets the drawing's height.
var draws = map[document.Kind]func(f *document.Figure, d *draw.Surface){
	figure.Lines:   drawLines,
	figure.Curves:  drawLines,
	figure.Bars:    drawBars,
	figure.Paths:   drawPath,
	figure.Heat:    drawHeat,
	figure.Whisker: drawWhisker,
	figure.Swing:   drawSwing,
	figure.Pieces:  drawPieces,
	figure.Tape:    drawTape,
	figure.Rig:     figure.DrawRig,
}

// figure writes one figure: the drawing for wide and narrow places, its table
// folded, its caption.
func (p *page) figure(f *document.Figure) {
	if f.Kind == figure.Moving {
		p.moving(f)
		return
	}
	draw := draws[f.Kind]
	if why := emptiness(f); why != "" || draw == nil {
		if why == "" {
			why = "this kind of figure cannot be drawn on a page"
		}
		p.put("<p class=\"empty\">No figure “", esc(figureTitle(f)), "”: ", esc(why), ".</p>\n")
		return
	}
	p.figures++
	p.put("<figure>\n<div class=\"draw\">")
	for _, part := range partsOf(f) {
		p.drawn(part, draw, figureTitle(part))
	}
	if f.Kind == figure.Paths && !p.lesson { // a screen has room for one
		p.drawn(f, drawPlan, planTitle)
	}
	if t := tableBehind(f); t != nil {
		p.put(fmt.Sprintf("<details class=\"data\"><summary>Figure %d as a table</summary>", p.figures))
		p.dataTable(t, fmt.Sprintf("Figure %d as a table", p.figures), "", "")
		p.put("</details>")
	}
	p.put("</div>\n")
	p.caption(f)
	p.put("</figure>\n")
}

// partsOf splits a figure of many panels into one drawing a quantity, so that no
// drawing is so high that print has to shrink it.
func partsOf(f *document.Figure) []*document.Figure {
	if f.Kind != figure.Lines && f.Kind != figure.Curves || len(f.Y) < 2 {
		return []*document.Figure{f}
	}
	panels := 0
	rows := rowsOf(f)
	for _, r := range rows {
		panels++
		if differences(r) != nil {
			panels++
		}
	}
	if panels < 3 || len(rows) != len(f.Y) {
		return []*document.Figure{f}
	}
	var out []*document.Figure
	for _, y := range f.Y {
		part := *f
		part.Y = []string{y}
		part.Sentence = ""
		out = append(out, &part)
	}
	return out
}

// drawn writes a figure twice, for wide and narrow places.
func (p *page) drawn(f *document.Figure, with func(*document.Figure, *draw.Surface), title string) {
	wide := float64(draw.Wide)
	if p.lesson {
		wide = draw.Lesson
	}
	for _, v := range []struct {
		class string
		width float64
	}{{"wide", wide}, {"narrow", draw.Narrow}} {
		d := &draw.Surface{W: v.width, ID: p.id("g")}
		with(f, d)
		p.put(d.Finish(v.class, title, describe(f)), "\n")
	}
}

func (p *page) caption(f *document.Figure) {
	words := strings.TrimSpace(words.Sentence(f.Caption) + " " + standing(f))
	if cutAxis := cutAxes(f); cutAxis != "" {
		words += " " + cutAxis
	}
	p.put(fmt.Sprintf("<figcaption><b>Figure %d.</b> ", p.figures), esc(typeset.Text(words)), "</figcaption>\n")
}

// standing is what a caption says after the study's own words: how to read the
// figure, or for lines what they show. The numbers of a comparison stand in the
// drawing and are not told twice.
func standing(f *document.Figure) string {
	switch f.Kind {
	case figure.Whisker:
		s := "Dots are changes in per cent of the first, lines their 95 % intervals."
		if len(toldWhiskers(f)) < len(whiskersOf(f.Table)) {
			s += " Changes too small to matter are left to the table."
		}
		if f.Worthwhile > 0 {
			s += " The grey band is the smallest change of speed that matters, " + typeset.Number(f.Worthwhile, 1) + " %."
		}
		return s
	case figure.Swing:
		return "Each bar runs from the answer at an input's low end to the answer at its high end, the others left alone. The last column is where the advice turns."
	case figure.Pieces:
		return "Each dot is a pair of pieces; the lowest line is what they tell together, with its 95 % interval."
	case figure.Bars:
		if len(barCases(f.Table)) < 2 {
			return "Each bar is one share of a single stroke."
		}
		return "Bars of one name are the strokes in the order of the key."
	case figure.Paths:
		return "Numbers count moments equally far apart in time. Shaded is the gap at equal oar angles: travel of the boat lost."
	case figure.Rig:
		return figure.RigCaption(f.Rigs)
	case figure.Heat:
		return "Darker is more; lines join equal values. A cross has no stroke."
	}
	if f.Sentence != "" {
		return words.Sentence(f.Sentence)
	}
	return words.Sentence(describe(f))
}

// tableBehind is the table that a reader may unfold: paths give their moments.
func tableBehind(f *document.Figure) *table.Table {
	if f.Kind == figure.Paths {
		return momentsTable(f.Paths)
	}
	if f.Table != nil && f.Table.Len() > 400 {
		return thinned(f.Table, 200)
	}
	return f.Table
}

// thinned keeps about n lines of a finely sampled table, first and last included.
func thinned(t *table.Table, n int) *table.Table {
	var lines []int
	step := float64(t.Len()-1) / float64(n-1)
	for i := range n {
		lines = append(lines, int(math.Round(float64(i)*step)))
	}
	return t.Lines(lines)
}

// emptiness says in words why there is nothing to draw, or "".
func emptiness(f *document.Figure) string {
	switch f.Kind {
	case figure.Paths:
		for _, q := range f.Paths {
			if len(q.CentreX) > 1 {
				return ""
			}
		}
		return "it has no path"
	}
	if f.Kind == figure.Rig {
		if len(f.Rigs) == 0 {
			return "it has no rig"
		}
		return ""
	}
	if f.Kind == figure.Moving {
		for _, m := range f.Motion {
			if m.Frames() > 1 && m.Step > 0 {
				return ""
			}
		}
		return "there is no stroke to move"
	}
	if f.Table == nil || f.Table.Len() == 0 {
		return "its table holds no lines"
	}
	need := map[document.Kind][]string{
		figure.Lines:   append([]string{f.X}, f.Y...),
		figure.Curves:  append([]string{f.X}, f.Y...),
		figure.Heat:    append([]string{f.X, f.Z}, f.Y...),
		figure.Whisker: {"quantity"},
		figure.Swing:   {"input", "at_low", "at_high"},
		figure.Bars:    {"item"},
		figure.Pieces:  {"what", "change"},
		figure.Tape:    {"quantity", "before", "after"},
	}[f.Kind]
	for _, name := range need {
		if f.Table.Column(name) == nil {
			return fmt.Sprintf("its table has no column %q", name)
		}
	}
	for _, name := range map[document.Kind][]string{figure.Whisker: {"quantity"}, figure.Swing: {"input"}, figure.Bars: {"item"}, figure.Pieces: {"what"}, figure.Tape: {"quantity"}}[f.Kind] {
		if textColumn(f.Table, name) == nil {
			return fmt.Sprintf("its column %q holds no names", name)
		}
	}
	for _, name := range map[document.Kind][]string{figure.Swing: {"at_low", "at_high"}, figure.Pieces: {"change"}, figure.Heat: {f.Z}}[f.Kind] {
		if f.Table.Column(name).Kind == table.Text {
			return fmt.Sprintf("its column %q holds no numbers", name)
		}
	}
	switch f.Kind {
	case figure.Bars:
		if len(barCases(f.Table)) == 0 {
			return "it has no stroke to draw"
		}
	case figure.Lines, figure.Curves:
		if len(f.Y) == 0 {
			return "it names no column to draw"
		}
		for _, name := range f.Y {
			if c := f.Table.Column(name); c.Kind != table.Text && !blankColumn(c) {
				return ""
			}
		}
		return "every value in it is blank"
	case figure.Heat:
		if len(f.Y) == 0 || blankColumn(f.Table.Column(f.Z)) {
			return "every value in it is blank"
		}
		if g := gridOf(f.Table, f.X, f.Y[0], f.Z); len(g.xs) == 0 || len(g.ys) == 0 {
			return "one of its axes is blank"
		}
	case figure.Whisker:
		if len(toldWhiskers(f)) == 0 {
			return "every change in it is too small to matter"
		}
	case figure.Tape:
		if lineToSet(f.Table, f.X) < 0 {
			return "nothing in it has to be set"
		}
	}
	return ""
}

// figureTitle names a figure by what it draws.
func figureTitle(f *document.Figure) string {
	named := func(fallback string) string {
		if f.Name != "" {
			return words.Capital(words.Spaced(f.Name))
		}
		return fallback
	}
	switch f.Kind {
	case figure.Lines, figure.Curves:
		var ys []string
		for _, y := range f.Y {
			ys = append(ys, words.Spaced(y))
		}
		if len(ys) == 0 {
			return named("Lines")
		}
		over := " against " + words.Spaced(f.X)
		switch {
		case f.X == "angle":
			over = " over the arc"
		case f.X == "time":
			over = " over time"
		}
		return words.Capital(words.List(ys)) + over
	case figure.Bars:
		return "Energy of one stroke"
	case figure.Paths:
		return "Blade path in the water"
	case figure.Heat:
		y := ""
		if len(f.Y) > 0 {
			y = " and " + words.Spaced(f.Y[0])
		}
		return words.Capital(words.Spaced(f.Z)) + " over " + words.Spaced(f.X) + y
	case figure.Whisker:
		return named("Change of each quantity")
	case figure.Swing:
		return named("What moves the answer")
	case figure.Pieces:
		return named("Pairs of pieces")
	case figure.Moving:
		return "The stroke, moving"
	case figure.Tape:
		return "On the tape"
	}
	return named("Figure")
}

// describe is the drawing's description for those who cannot see it: the
// sentence made from the data, or what can be said of any table.
func describe(f *document.Figure) string {
	if f.Sentence != "" {
		return f.Sentence
	}
	switch f.Kind {
	case figure.Paths:
		return describePaths(f.Paths)
	case figure.Rig:
		return figure.DescribeRigs(f.Rigs)
	case figure.Swing:
		return describeSwing(f)
	case figure.Whisker:
		return describeWhisker(f)
	case figure.Pieces:
		return describePieces(f)
	case figure.Bars:
		return describeBars(f)
	case figure.Tape:
		return describeTape(f)
	case figure.Moving:
		return describeMotion(f.Motion)
	}
	var parts []string
	names := f.Y
	if f.Kind == figure.Heat {
		names = []string{f.Z}
	}
	for _, name := range names {
		c := f.Table.Column(name)
		if c == nil || c.Kind == table.Text {
			continue
		}
		var vs []float64
		for i := range c.Len() {
			vs = append(vs, c.Value(i))
		}
		low, high := draw.Extent(vs)
		parts = append(parts, fmt.Sprintf("%s lies between %s and %s", words.Spaced(name), typeset.Number(low, c.Digits), typeset.Quantity(high, c.Digits, c.Unit)))
	}
	if len(parts) == 0 {
		return ""
	}
	return words.Capital(strings.Join(parts, "; ")) + "."
}

// cutAxes is the sentence that says which axes do not begin at nought.
func cutAxes(f *document.Figure) string {
	if f.Kind != figure.Lines && f.Kind != figure.Curves {
		return ""
	}
	var names []string
	for _, r := range rowsOf(f) {
		if r.axis(6).Spans() != "" {
			names = append(names, words.Spaced(r.name))
		}
	}
	switch len(names) {
	case 0:
		return ""
	case 1:
		return "The axis of " + names[0] + " does not begin at 0."
	}
	return "The axes of " + words.List(names) + " do not begin at 0."
}
