package main

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
)

// A chart in the window: a head that says quantity, unit and the span of the
// axis, lines told apart by their marks and named at their ends, axes with
// round numbers. Each unit is a chart of its own, one beneath the other.

// mostLines is how many lines one chart holds.
const mostLines = 5

// chartLine is one line of a chart; a NaN is a gap.
type chartLine struct {
	name string
	x, y []float64
}

// windowChart is one drawing: one unit, one panel.
type windowChart struct {
	head     string // quantity, unit, by
	xName    string
	lines    []chartLine
	places   []string // names of places on x, where x is a text
	leftOver int      // lines that had no room
}

// figure draws a told figure in the window, its sentence beneath.
func (w Window) figure(f *document.Figure) []string {
	var lines []string
	switch {
	case len(f.Paths) > 0:
		lines = w.paths(f.Paths)
	case f.Kind == figure.Bars:
		lines = w.bars(f.Table)
	case f.Table != nil && (f.Kind == figure.Lines || f.Kind == figure.Curves):
		for i, c := range chartsOf(f) {
			if i == mostPanels {
				lines = append(lines, dim.in(fmt.Sprintf("%d more panels stand in the page", len(chartsOf(f))-i)))
				break
			}
			lines = append(lines, w.chart(c)...)
		}
	case f.Table != nil && f.Kind == figure.Heat:
		lines = w.heat(f)
	case f.Table != nil && f.Kind != figure.Moving:
		lines = w.table(f.Table, Cutting{})
	default:
		return w.figureInWords(f)
	}
	return append(lines, w.sentence(f, "", 0)...)
}

// mostPanels is how many charts are drawn beneath each other.
const mostPanels = 6

// figureInWords is how a figure stands in a run: its name and its sentence.
// The picture is in the page.
func (w Window) figureInWords(f *document.Figure) []string {
	what := "(figure)"
	if f.Kind == figure.Moving {
		what = "(moving picture)"
	}
	name := w.say(f.Name)
	if name != "" {
		name += "  "
	}
	return append([]string{name + what}, w.sentence(f, "  ", 2)...)
}

// sentence sets what a figure says in words: its own caption, then what was
// made from its data.
func (w Window) sentence(f *document.Figure, head string, hang int) []string {
	var lines []string
	for _, text := range []string{f.Caption, f.Sentence} {
		if strings.Trim(text, " .") != "" {
			lines = append(lines, w.wrap(head, hang, w.say(text))...)
		}
	}
	return lines
}

// sort orders a line's points by x.
func (l *chartLine) sort() {
	order := all(len(l.x))
	sort.SliceStable(order, func(a, b int) bool { return l.x[order[a]] < l.x[order[b]] })
	x, y := make([]float64, len(order)), make([]float64, len(order))
	for k, i := range order {
		x[k], y[k] = l.x[i], l.y[i]
	}
	l.x, l.y = x, y
}

// chart draws one chart.
func (w Window) chart(c windowChart) []string {
	lowX, highX, lowY, highY := c.span()
	head := w.say(c.head)
	if math.IsInf(lowX, 0) || math.IsInf(lowY, 0) {
		return []string{head, "  nothing to draw: all points are blank"}
	}
	up := roundAxis(lowY, highY, 6, false)
	perStep := max(1, min(4, int(math.Round(12/((up.high-up.low)/up.step)))))
	rows := int(math.Round((up.high-up.low)/up.step))*perStep + 1
	head += fmt.Sprintf(", from %s to %s", table.Fixed(up.low, up.digits), table.Fixed(up.high, up.digits))

	scale := 6
	for _, v := range up.ticks() {
		scale = max(scale, len(table.Fixed(v, up.digits)))
	}
	ends := 0
	for _, l := range c.lines {
		ends = max(ends, min(wide(w.say(l.name)), 24))
	}
	width := w.textWidth() - scale - 2 - 1
	if ends > 0 {
		width -= ends + 1
	}
	width = max(min(width, 90), 12)

	field := newCanvas(width, rows, w.Plain)
	col := func(x float64) float64 {
		if highX == lowX {
			return float64(width-1) / 2
		}
		return (x - lowX) / (highX - lowX) * float64(width-1)
	}
	// the middle of a row is its tick: half rows are counted from its upper edge
	half := func(y float64) float64 { return 2*(up.high-y)/(up.high-up.low)*float64(rows-1) + 0.5 }
	for k, l := range c.lines {
		l.draw(field, k+1, col, half)
		// the points of the line of dots, where they are few enough to be told apart
		if k == 1 && len(l.x) <= field.wide/3 {
			l.points(field, 2, 'o', col, half)
		}
	}

	vertical, tick, corner, foot, floor := "│", "┤", "└", "┬", "─"
	if w.Plain {
		vertical, tick, corner, foot, floor = "|", "+", "+", "+", "-"
	}
	names := endNames(c.lines, rows, half, func(s string) string { return cut(w.say(s), 24) })
	lines := w.wrap("", 2, head)
	for r := range rows {
		label, edge := "", vertical
		if r%perStep == 0 {
			label, edge = table.Fixed(up.high-float64(r/perStep)*up.step, up.digits), tick
		}
		line := right(label, scale) + " " + edge + w.colouredRow(field, r)
		if name := names[r]; name.text != "" {
			line = left(line, scale+2+width) + " " + (series1 + style(name.line-1)).in(name.text)
		}
		lines = append(lines, line)
	}
	return append(lines, w.foot(c, lowX, highX, width, scale, col, corner, foot, floor)...)
}

// colouredRow writes a row with each line in its colour.
func (w Window) colouredRow(field *canvas, r int) string {
	var b strings.Builder
	in := 0
	for _, at := range field.cells[r] {
		if at.line != in {
			if in != 0 {
				b.WriteRune(rune(styleEnd))
			}
			if in = at.line; in != 0 {
				b.WriteRune(rune(series1) + rune(min(in, 5)-1))
			}
		}
		b.WriteRune(field.character(at))
	}
	if in != 0 {
		b.WriteRune(rune(styleEnd))
	}
	return b.String()
}

// draw draws a line on the canvas, with gaps where a point is blank.
func (l chartLine) draw(field *canvas, line int, col, half func(float64) float64) {
	last := -1
	for i := range l.x {
		if math.IsNaN(l.x[i]) || math.IsNaN(l.y[i]) {
			last = -1
			continue
		}
		x, y := col(l.x[i]), half(l.y[i])
		if last >= 0 {
			field.stroke(col(l.x[last]), half(l.y[last]), x, y, line)
		} else {
			field.half(int(math.Round(x)), int(math.Round(y)), line)
		}
		last = i
	}
}

// points marks the points of a line.
func (l chartLine) points(field *canvas, line int, mark rune, col, half func(float64) float64) {
	for i := range min(len(l.x), len(l.y)) {
		if !math.IsNaN(l.x[i]) && !math.IsNaN(l.y[i]) {
			field.point(int(math.Round(col(l.x[i]))), int(math.Round(half(l.y[i]))), line, mark)
		}
	}
}

// span finds the ends of the data.
func (c windowChart) span() (lowX, highX, lowY, highY float64) {
	lowX, highX, lowY, highY = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, l := range c.lines {
		for i := range l.x {
			if math.IsNaN(l.x[i]) || math.IsNaN(l.y[i]) || math.IsInf(l.y[i], 0) {
				continue
			}
			lowX, highX = math.Min(lowX, l.x[i]), math.Max(highX, l.x[i])
			lowY, highY = math.Min(lowY, l.y[i]), math.Max(highY, l.y[i])
		}
	}
	return
}

// endName is a line's name and the row it stands in.
type endName struct {
	text string
	line int
}

// endNames sets each name at its line's end, moved to the nearest free row.
func endNames(lines []chartLine, rows int, half func(float64) float64, say func(string) string) map[int]endName {
	names := map[int]endName{}
	for k, l := range lines {
		if l.name == "" {
			continue
		}
		for i := len(l.x) - 1; i >= 0; i-- {
			if math.IsNaN(l.x[i]) || math.IsNaN(l.y[i]) {
				continue
			}
			at := int(math.Round(half(l.y[i]))) / 2
			for away := range rows {
				if r := at + away; r < rows && names[r].text == "" {
					names[r] = endName{say(l.name), k + 1}
					break
				}
				if r := at - away; r >= 0 && r < rows && names[r].text == "" {
					names[r] = endName{say(l.name), k + 1}
					break
				}
			}
			break
		}
	}
	return names
}
