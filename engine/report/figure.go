package report

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/table"
)

// draws holds how each kind of figure is drawn into a drawing of given width.
// It sets the drawing's height.
var draws = map[FigureKind]func(f *Figure, d *drawing){
	Lines:   drawLines,
	Curves:  drawLines,
	Bars:    drawBars,
	Paths:   drawPath,
	Heat:    drawHeat,
	Whisker: drawWhisker,
	Swing:   drawSwing,
	Pieces:  drawPieces,
	Tape:    drawTape,
	RigView: drawRig,
}

// figure writes one figure: the drawing for wide and narrow places, its table
// folded, its caption.
func (p *page) figure(f *Figure) {
	if f.Kind == Moving {
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
	if f.Kind == Paths && !p.lesson { // a screen has room for one
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
func partsOf(f *Figure) []*Figure {
	if f.Kind != Lines && f.Kind != Curves || len(f.Y) < 2 {
		return []*Figure{f}
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
		return []*Figure{f}
	}
	var out []*Figure
	for _, y := range f.Y {
		part := *f
		part.Y = []string{y}
		part.Sentence = ""
		out = append(out, &part)
	}
	return out
}

// drawn writes a figure twice, for wide and narrow places.
func (p *page) drawn(f *Figure, draw func(*Figure, *drawing), title string) {
	wide := float64(wideWidth)
	if p.lesson {
		wide = lessonWidth
	}
	for _, v := range []struct {
		class string
		width float64
	}{{"wide", wide}, {"narrow", narrowWidth}} {
		d := &drawing{w: v.width, id: p.id("g")}
		draw(f, d)
		p.put(d.finish(v.class, title, describe(f)), "\n")
	}
}

func (p *page) caption(f *Figure) {
	words := strings.TrimSpace(sentence(f.Caption) + " " + standing(f))
	if cutAxis := cutAxes(f); cutAxis != "" {
		words += " " + cutAxis
	}
	p.put(fmt.Sprintf("<figcaption><b>Figure %d.</b> ", p.figures), esc(typeset(words)), "</figcaption>\n")
}

// standing is what a caption says after the study's own words: how to read the
// figure, or for lines what they show. The numbers of a comparison stand in the
// drawing and are not told twice.
func standing(f *Figure) string {
	switch f.Kind {
	case Whisker:
		s := "Dots are changes in per cent of the first, lines their 95 % intervals."
		if len(toldWhiskers(f)) < len(whiskersOf(f.Table)) {
			s += " Changes too small to matter are left to the table."
		}
		if f.Worthwhile > 0 {
			s += " The grey band is the smallest change of speed that matters, " + numeral(f.Worthwhile, 1) + " %."
		}
		return s
	case Swing:
		return "Each bar runs from the answer at an input's low end to the answer at its high end, the others left alone. The last column is where the advice turns."
	case Pieces:
		return "Each dot is a pair of pieces; the lowest line is what they tell together, with its 95 % interval."
	case Bars:
		if len(barCases(f.Table)) < 2 {
			return "Each bar is one share of a single stroke."
		}
		return "Bars of one name are the strokes in the order of the key."
	case Paths:
		return "Numbers count moments equally far apart in time. Shaded is the gap at equal oar angles: travel of the boat lost."
	case Heat:
		return "Darker is more; lines join equal values. A cross has no stroke."
	}
	if f.Sentence != "" {
		return sentence(f.Sentence)
	}
	return sentence(describe(f))
}

// tableBehind is the table that a reader may unfold: paths give their moments.
func tableBehind(f *Figure) *table.Table {
	if f.Kind == Paths {
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
func emptiness(f *Figure) string {
	switch f.Kind {
	case Paths:
		for _, q := range f.Paths {
			if len(q.CentreX) > 1 {
				return ""
			}
		}
		return "it has no path"
	}
	if f.Kind == RigView {
		if len(f.Rigs) == 0 {
			return "it has no rig"
		}
		return ""
	}
	if f.Kind == Moving {
		for _, m := range f.Motion {
			if m.frames() > 1 && m.Step > 0 {
				return ""
			}
		}
		return "there is no stroke to move"
	}
	if f.Table == nil || f.Table.Len() == 0 {
		return "its table holds no lines"
	}
	need := map[FigureKind][]string{
		Lines:   append([]string{f.X}, f.Y...),
		Curves:  append([]string{f.X}, f.Y...),
		Heat:    append([]string{f.X, f.Z}, f.Y...),
		Whisker: {"quantity"},
		Swing:   {"input", "at_low", "at_high"},
		Bars:    {"item"},
		Pieces:  {"what", "change"},
		Tape:    {"quantity", "before", "after"},
	}[f.Kind]
	for _, name := range need {
		if f.Table.Column(name) == nil {
			return fmt.Sprintf("its table has no column %q", name)
		}
	}
	for _, name := range map[FigureKind][]string{Whisker: {"quantity"}, Swing: {"input"}, Bars: {"item"}, Pieces: {"what"}, Tape: {"quantity"}}[f.Kind] {
		if textColumn(f.Table, name) == nil {
			return fmt.Sprintf("its column %q holds no names", name)
		}
	}
	for _, name := range map[FigureKind][]string{Swing: {"at_low", "at_high"}, Pieces: {"change"}, Heat: {f.Z}}[f.Kind] {
		if f.Table.Column(name).Kind == table.Text {
			return fmt.Sprintf("its column %q holds no numbers", name)
		}
	}
	switch f.Kind {
	case Bars:
		if len(barCases(f.Table)) == 0 {
			return "it has no stroke to draw"
		}
	case Lines, Curves:
		if len(f.Y) == 0 {
			return "it names no column to draw"
		}
		for _, name := range f.Y {
			if c := f.Table.Column(name); c.Kind != table.Text && !blankColumn(c) {
				return ""
			}
		}
		return "every value in it is blank"
	case Heat:
		if len(f.Y) == 0 || blankColumn(f.Table.Column(f.Z)) {
			return "every value in it is blank"
		}
		if g := gridOf(f.Table, f.X, f.Y[0], f.Z); len(g.xs) == 0 || len(g.ys) == 0 {
			return "one of its axes is blank"
		}
	case Whisker:
		if len(toldWhiskers(f)) == 0 {
			return "every change in it is too small to matter"
		}
	case Tape:
		if lineToSet(f.Table, f.X) < 0 {
			return "nothing in it has to be set"
		}
	}
	return ""
}

// figureTitle names a figure by what it draws.
func figureTitle(f *Figure) string {
	named := func(fallback string) string {
		if f.Name != "" {
			return capital(words(f.Name))
		}
		return fallback
	}
	switch f.Kind {
	case Lines, Curves:
		var ys []string
		for _, y := range f.Y {
			ys = append(ys, words(y))
		}
		if len(ys) == 0 {
			return named("Lines")
		}
		over := " against " + words(f.X)
		switch {
		case f.X == "angle":
			over = " over the arc"
		case f.X == "time":
			over = " over time"
		}
		return capital(list(ys)) + over
	case Bars:
		return "Energy of one stroke"
	case Paths:
		return "Blade path in the water"
	case Heat:
		y := ""
		if len(f.Y) > 0 {
			y = " and " + words(f.Y[0])
		}
		return capital(words(f.Z)) + " over " + words(f.X) + y
	case Whisker:
		return named("Change of each quantity")
	case Swing:
		return named("What moves the answer")
	case Pieces:
		return named("Pairs of pieces")
	case Moving:
		return "The stroke, moving"
	case Tape:
		return "On the tape"
	}
	return named("Figure")
}

// describe is the drawing's description for those who cannot see it: the
// sentence made from the data, or what can be said of any table.
func describe(f *Figure) string {
	if f.Sentence != "" {
		return f.Sentence
	}
	switch f.Kind {
	case Paths:
		return describePaths(f.Paths)
	case RigView:
		return describeRigs(f.Rigs)
	case Swing:
		return describeSwing(f)
	case Whisker:
		return describeWhisker(f)
	case Pieces:
		return describePieces(f)
	case Bars:
		return describeBars(f)
	case Tape:
		return describeTape(f)
	case Moving:
		return describeMotion(f.Motion)
	}
	var parts []string
	names := f.Y
	if f.Kind == Heat {
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
		low, high := extent(vs)
		parts = append(parts, fmt.Sprintf("%s lies between %s and %s", words(name), numeral(low, c.Digits), quantity(high, c.Digits, c.Unit)))
	}
	if len(parts) == 0 {
		return ""
	}
	return capital(strings.Join(parts, "; ")) + "."
}

// cutAxes is the sentence that says which axes do not begin at nought.
func cutAxes(f *Figure) string {
	if f.Kind != Lines && f.Kind != Curves {
		return ""
	}
	var names []string
	for _, r := range rowsOf(f) {
		if r.axis(6).spans() != "" {
			names = append(names, words(r.name))
		}
	}
	switch len(names) {
	case 0:
		return ""
	case 1:
		return "The axis of " + names[0] + " does not begin at 0."
	}
	return "The axes of " + list(names) + " do not begin at 0."
}
