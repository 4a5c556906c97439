package main

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"thole/engine/report"
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
func (w Window) figure(f *report.Figure) []string {
	var lines []string
	switch {
	case len(f.Paths) > 0:
		lines = w.paths(f.Paths)
	case f.Kind == report.Bars:
		lines = w.bars(f.Table)
	case f.Table != nil && (f.Kind == report.Lines || f.Kind == report.Curves):
		for i, c := range chartsOf(f) {
			if i == mostPanels {
				lines = append(lines, dim.in(fmt.Sprintf("%d more panels stand in the page", len(chartsOf(f))-i)))
				break
			}
			lines = append(lines, w.chart(c)...)
		}
	case f.Table != nil && f.Kind == report.Heat:
		lines = w.heat(f)
	case f.Table != nil && f.Kind != report.Moving:
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
func (w Window) figureInWords(f *report.Figure) []string {
	what := "(figure)"
	if f.Kind == report.Moving {
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
func (w Window) sentence(f *report.Figure, head string, hang int) []string {
	var lines []string
	for _, text := range []string{f.Caption, f.Sentence} {
		if strings.Trim(text, " .") != "" {
			lines = append(lines, w.wrap(head, hang, w.say(text))...)
		}
	}
	return lines
}

// chartsOf parts a figure into charts: one a unit and value of the panel.
func chartsOf(f *report.Figure) []windowChart {
	t, by := f.Table, f.By
	if by == "" && f.Kind == report.Curves && t.Column("case") != nil {
		by = "case"
	}
	x := t.Column(f.X)
	if x == nil {
		return nil
	}
	places, xs := placesOf(x)
	panels := []table.Group{{Lines: all(t.Len())}}
	if f.Panel != "" && t.Column(f.Panel) != nil {
		panels, _ = t.Groups(f.Panel)
	}
	var charts []windowChart
	for _, unit := range unitsOf(t, f.Y) {
		for _, panel := range panels {
			c := windowChart{xName: withUnit(x.Name, x.Unit), places: places}
			var names []string
			for _, y := range f.Y {
				if col := t.Column(y); col != nil && col.Unit == unit {
					names = append(names, y)
				}
			}
			c.head = withUnit(strings.Join(names, ", "), unit)
			if by != "" && by != "case" {
				c.head += " by " + by
			}
			if f.Panel != "" {
				c.head += ", " + cellName(t.Column(f.Panel), panel.First)
			}
			for _, y := range names {
				for _, g := range groupsWithin(t, by, panel.Lines) {
					line := chartLine{}
					if by != "" {
						line.name = cellName(t.Column(by), g.First)
					}
					if len(names) > 1 {
						line.name = strings.TrimPrefix(line.name+" "+y, " ")
					}
					for _, i := range g.Lines {
						line.x = append(line.x, xs[i])
						line.y = append(line.y, t.Column(y).Value(i))
					}
					if f.Kind == report.Lines {
						line.sort()
					}
					c.lines = append(c.lines, line)
				}
			}
			if len(c.lines) > mostLines {
				c.leftOver = len(c.lines) - mostLines
				c.lines = c.lines[:mostLines]
			}
			charts = append(charts, c)
		}
	}
	return charts
}

func withUnit(name, unit string) string {
	if unit == "" {
		return name
	}
	return name + " (" + unit + ")"
}

// cellName names a line by the cell it stands for: "wind 5", a text as it is.
func cellName(c *table.Column, i int) string {
	if c.Kind == table.Text {
		return c.Texts[i]
	}
	return c.Name + " " + c.Shown()[i]
}

func all(n int) []int {
	lines := make([]int, n)
	for i := range lines {
		lines[i] = i
	}
	return lines
}

// groupsWithin groups some lines of a table by a column, or leaves them as one.
func groupsWithin(t *table.Table, by string, lines []int) []table.Group {
	if by == "" || t.Column(by) == nil {
		return []table.Group{{First: lines[0], Lines: lines}}
	}
	groups, err := t.Lines(lines).Groups(by)
	if err != nil {
		return nil
	}
	for g := range groups {
		groups[g].First = lines[groups[g].First]
		for k, i := range groups[g].Lines {
			groups[g].Lines[k] = lines[i]
		}
	}
	return groups
}

// unitsOf lists the units of some columns, each once, in order.
func unitsOf(t *table.Table, names []string) []string {
	var units []string
	seen := map[string]bool{}
	for _, name := range names {
		if c := t.Column(name); c != nil && !seen[c.Unit] {
			seen[c.Unit] = true
			units = append(units, c.Unit)
		}
	}
	return units
}

// placesOf gives x as numbers; a text stands at 0, 1, 2... in the order in
// which it first appears.
func placesOf(c *table.Column) (names []string, xs []float64) {
	xs = make([]float64, c.Len())
	place := map[string]int{}
	for i := range xs {
		if c.Kind != table.Text {
			xs[i] = c.Value(i)
			continue
		}
		k, ok := place[c.Texts[i]]
		if !ok {
			k = len(names)
			place[c.Texts[i]] = k
			names = append(names, c.Texts[i])
		}
		xs[i] = float64(k)
	}
	return names, xs
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

// axis is a span with round ticks.
type axis struct {
	low, high, step float64
	digits          int
}

func (a axis) ticks() []float64 {
	var at []float64
	for k := 0; ; k++ {
		v := a.low + float64(k)*a.step
		if v > a.high+a.step*1e-6 {
			return at
		}
		at = append(at, table.Round(v, a.digits))
	}
}

// roundAxis gives 4 to 7 ticks in steps of 1, 2 or 5; tight keeps the span as
// the data have it, else it is widened to the ticks.
func roundAxis(low, high float64, most int, tight bool) axis {
	if high-low < 1e-9*math.Max(math.Abs(high), 1e-9) {
		pad := math.Max(math.Abs(high)*0.01, 1e-6)
		low, high = low-pad, high+pad
		tight = false
	}
	power := math.Pow(10, math.Floor(math.Log10((high-low)/float64(most))))
	step := power
	for _, times := range []float64{1, 2, 5, 10, 20} {
		step = times * power
		first, last := math.Floor(low/step+1e-9), math.Ceil(high/step-1e-9)
		if tight {
			first, last = math.Ceil(low/step-1e-9), math.Floor(high/step+1e-9)
		}
		if last-first <= float64(most) {
			break
		}
	}
	a := axis{low: math.Floor(low/step+1e-9) * step, high: math.Ceil(high/step-1e-9) * step, step: step}
	if tight {
		a.low, a.high = math.Ceil(low/step-1e-9)*step, math.Floor(high/step+1e-9)*step
	}
	a.digits = max(0, int(-math.Floor(math.Log10(step)+1e-9)))
	return a
}

// canvas is a field of characters, each with an upper and a lower half.
type canvas struct {
	wide, tall int
	cells      [][]cell
	plain      bool
}

type cell struct {
	upper, lower bool // of the line of blocks or dots
	mark         rune // a point or a mark that hides the halves
	line         int  // 0: empty, else line number from 1
}

func newCanvas(wide, tall int, plain bool) *canvas {
	c := &canvas{wide: wide, tall: tall, plain: plain, cells: make([][]cell, tall)}
	for r := range c.cells {
		c.cells[r] = make([]cell, wide)
	}
	return c
}

// half sets one half of a character for a line; the first line that came keeps
// the place.
func (c *canvas) half(col, halfRow, line int) {
	if col < 0 || col >= c.wide || halfRow < 0 || halfRow >= 2*c.tall {
		return
	}
	at := &c.cells[halfRow/2][col]
	if at.line != 0 && at.line != line {
		return
	}
	at.line = line
	if halfRow%2 == 0 {
		at.upper = true
	} else {
		at.lower = true
	}
}

// point sets a mark at a place, over the line's own halves.
func (c *canvas) point(col, halfRow, line int, mark rune) {
	if col < 0 || col >= c.wide || halfRow < 0 || halfRow >= 2*c.tall {
		return
	}
	at := &c.cells[halfRow/2][col]
	if at.line != 0 && at.line != line {
		return
	}
	at.line, at.mark = line, mark
}

// stroke draws a straight line between two places.
func (c *canvas) stroke(col1, half1, col2, half2 float64, line int) {
	steps := int(math.Max(math.Abs(col2-col1), math.Abs(half2-half1))) + 1
	steps = min(steps, 10_000)
	for k := range steps + 1 {
		f := float64(k) / float64(steps)
		c.half(int(math.Round(col1+f*(col2-col1))), int(math.Round(half1+f*(half2-half1))), line)
	}
}

// marks of the lines after the second.
var lineMarks = [...]rune{0, 0, 0, '+', 'x', '#'}

// character is what one place of the canvas shows.
func (c *canvas) character(at cell) rune {
	switch {
	case at.line == 0:
		return ' '
	case at.mark != 0:
		return at.mark
	case at.line >= 3:
		return lineMarks[min(at.line, 5)]
	case c.plain && at.line == 1:
		return '*'
	case c.plain:
		return '.'
	case at.line == 1 && at.upper && at.lower:
		return '█'
	case at.line == 1 && at.upper:
		return '▀'
	case at.line == 1:
		return '▄'
	case at.upper && !at.lower:
		return '˙'
	}
	return '.'
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

// foot draws the lower axis with its ticks, their numbers and its name.
func (w Window) foot(c windowChart, lowX, highX float64, width, scale int, col func(float64) float64, corner, foot, floor string) []string {
	type label struct {
		at   int
		text string
	}
	var labels []label
	if c.places != nil {
		for k, name := range c.places {
			labels = append(labels, label{int(math.Round(col(float64(k)))), cut(w.say(name), max(width/len(c.places)-1, 3))})
		}
	} else if lowX == highX {
		labels = append(labels, label{int(math.Round(col(lowX))), table.FourFigures(lowX)})
	} else {
		a := roundAxis(lowX, highX, max(2, min(7, width/6)), true)
		for _, v := range a.ticks() {
			labels = append(labels, label{int(math.Round(col(v))), table.Fixed(v, a.digits)})
		}
	}
	rule, numbers := []rune(strings.Repeat(floor, width)), ""
	for _, l := range labels {
		rule[min(max(l.at, 0), width-1)] = []rune(foot)[0]
		start := l.at - wide(l.text)/2
		start = max(min(start, w.textWidth()-scale-2-wide(l.text)), 0)
		if numbers != "" && start <= wide(numbers) {
			continue // no room for this one
		}
		numbers = left(numbers, start) + l.text
	}
	margin := blanks(scale + 2)
	lines := []string{blanks(scale+1) + corner + string(rule), margin + numbers, margin + w.say(c.xName)}
	if c.leftOver > 0 {
		lines = append(lines, dim.in(fmt.Sprintf("%s%d more lines stand in the page", margin, c.leftOver)))
	}
	return lines
}

// bars draws the book of a stroke's energy: a bar for each item and stroke.
func (w Window) bars(t *table.Table) []string {
	item, side := t.Column("item"), t.Column("side")
	if item == nil {
		return w.table(t, Cutting{})
	}
	var cases []*table.Column
	largest, label, caseName := 0.0, 0, 0
	for _, c := range t.Columns {
		if c.Kind != table.Number {
			continue
		}
		cases = append(cases, c)
		caseName = max(caseName, wide(w.say(c.Name)))
		for i := range c.Len() {
			if !c.Blank(i) {
				largest = math.Max(largest, math.Abs(c.Nums[i]))
			}
		}
	}
	for i := range item.Len() {
		label = max(label, wide(w.say(item.Texts[i])))
	}
	if len(cases) == 1 {
		caseName = -2
	}
	room := max(w.textWidth()-2-label-2-caseName-2-12, 8)
	blocks := [...]string{"█", "▄", "▀", "+", "x"}
	if w.Plain {
		blocks = [...]string{"*", "o", "+", "x", "#"}
	}
	var lines []string
	heading := ""
	for i := range item.Len() {
		if side != nil && side.Texts[i] != heading {
			heading = side.Texts[i]
			lines = append(lines, w.say(heading))
		}
		for k, c := range cases {
			if c.Blank(i) {
				continue
			}
			name := ""
			if k == 0 {
				name = w.say(item.Texts[i])
			}
			line := "  " + left(name, label) + "  "
			if len(cases) > 1 {
				line += left(w.say(c.Name), caseName) + "  "
			}
			n := 0
			if largest > 0 {
				n = int(math.Round(math.Abs(c.Nums[i]) / largest * float64(room)))
			}
			bar := (series1 + style(min(k, 4))).in(strings.Repeat(blocks[min(k, 4)], n))
			number := table.WithUnit(table.Fixed(c.Nums[i], max(c.Digits, 0)), w.say(c.Unit))
			if bar != "" {
				bar += " "
			}
			lines = append(lines, line+bar+number)
		}
	}
	return lines
}
