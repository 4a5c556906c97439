package term

import (
	"fmt"
	"math"

	"thole/engine/table"
)

// MostLines is how many lines one chart holds, and how many styles of lines
// there are.
const MostLines = 5

// Line is one line of a chart; a NaN is a gap.
type Line struct {
	Name string
	X, Y []float64
}

// Chart is one drawing: a head that says quantity, unit and the span of the
// axis, lines told apart by their marks and named at their ends, axes with round
// numbers. Lines beyond MostLines are left to the page.
type Chart struct {
	Head   string // quantity, unit, by
	XName  string
	Places []string // names of the places 0, 1, 2... on x, where x is a text
	Lines  []Line
}

// Widths within a chart.
const (
	numberWidth = 6  // of the left axis, at least
	widestName  = 24 // of a line, at its end
	widestField = 90 // lines are no better told in a wider one
)

// Chart draws a chart.
func (w Window) Chart(c Chart) []string {
	left := max(len(c.Lines)-MostLines, 0)
	c.Lines = c.Lines[:len(c.Lines)-left]
	lowX, highX, lowY, highY := c.span()
	head := w.Clean(c.Head)
	if math.IsInf(lowX, 0) || math.IsInf(lowY, 0) {
		return []string{head, "  nothing to draw: all points are blank"}
	}
	up := roundAxis(lowY, highY, 6, false)
	steps := (up.high - up.low) / up.step
	perStep := max(1, min(4, int(math.Round(12/steps))))
	rows := int(math.Round(steps))*perStep + 1
	head += fmt.Sprintf(", from %s to %s", table.Fixed(up.low, up.digits), table.Fixed(up.high, up.digits))

	x := XAxis{Name: c.XName, Low: lowX, High: highX, Places: c.Places, Margin: numberWidth}
	for _, v := range up.ticks() {
		x.Margin = max(x.Margin, len(table.Fixed(v, up.digits)))
	}
	ends := 0
	for _, l := range c.Lines {
		ends = max(ends, min(Width(w.Clean(l.Name)), widestName)+1)
	}
	if ends == 1 { // no line has a name
		ends = 0
	}
	x.Columns = max(min(w.TextWidth()-x.Margin-3-ends, widestField), 12)

	field := w.Canvas(x.Columns, rows)
	// the middle of a row is its tick: half rows are counted from its upper edge
	half := func(y float64) float64 { return 2*(up.high-y)/(up.high-up.low)*float64(rows-1) + 0.5 }
	for k, l := range c.Lines {
		field.Draw(k+1, l.X, l.Y, x.Column, half)
		// the points of the line of dots, where they are few enough to be told apart
		if k == 1 && len(l.X) <= x.Columns/3 {
			field.Mark(2, 'o', l.X, l.Y, x.Column, half)
		}
	}
	frame, names := w.Frame(), w.endNames(c.Lines, rows, half)
	lines := w.Wrap("", 2, head)
	for r := range rows {
		label, edge := "", frame.Edge
		if r%perStep == 0 {
			label, edge = table.Fixed(up.high-float64(r/perStep)*up.step, up.digits), frame.Tick
		}
		line := PadLeft(label, x.Margin) + " " + edge + field.Row(r)
		if names[r] != "" {
			line = PadRight(line, x.Margin+2+x.Columns) + " " + names[r]
		}
		lines = append(lines, line)
	}
	lines = append(lines, w.Foot(x)...)
	if left > 0 {
		lines = append(lines, Dim.In(fmt.Sprintf("%s%d more lines stand in the page", Spaces(x.Margin+2),
			left)))
	}
	return lines
}

// span finds the ends of the data.
func (c Chart) span() (lowX, highX, lowY, highY float64) {
	lowX, highX, lowY, highY = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, l := range c.Lines {
		for i := range l.X {
			if math.IsNaN(l.X[i]) || math.IsNaN(l.Y[i]) || math.IsInf(l.Y[i], 0) {
				continue
			}
			lowX, highX = math.Min(lowX, l.X[i]), math.Max(highX, l.X[i])
			lowY, highY = math.Min(lowY, l.Y[i]), math.Max(highY, l.Y[i])
		}
	}
	return
}

// endNames sets each line's name beside its last point, moved to the nearest
// free row.
func (w Window) endNames(lines []Line, rows int, half Scale) []string {
	names := make([]string, rows)
	for k, l := range lines {
		last := len(l.X) - 1
		for last >= 0 && (math.IsNaN(l.X[last]) || math.IsNaN(l.Y[last])) {
			last--
		}
		if l.Name == "" || last < 0 {
			continue
		}
		free := func(r int) bool { return r >= 0 && r < rows && names[r] == "" }
		at := int(math.Round(half(l.Y[last]))) / 2
		for away := range rows {
			r := at + away
			if !free(r) {
				r = at - away
			}
			if free(r) {
				names[r] = Series(k + 1).In(Cut(w.Clean(l.Name), widestName))
				break
			}
		}
	}
	return names
}
