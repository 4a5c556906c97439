package figure

import (
	"fmt"
	"math"

	"thole/engine/document"
	"thole/engine/table"
	"thole/engine/term"
)

// The blade's path in the window: seen from above, the boat going to the right,
// outward from the pin upward. A character is about twice as tall as wide, so a
// row stands for twice the centimetres of a column and angles look right.

// paths draws the ways of some blades.
func pathsInWindow(w term.Window, paths []document.Path, every float64) []string {
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	reach := func(xs, ys []float64) {
		for i := range min(len(xs), len(ys)) {
			if math.IsNaN(xs[i]) || math.IsNaN(ys[i]) {
				continue
			}
			low[0], high[0] = math.Min(low[0], xs[i]), math.Max(high[0], xs[i])
			low[1], high[1] = math.Min(low[1], ys[i]), math.Max(high[1], ys[i])
		}
	}
	for _, p := range paths {
		reach(p.FineX, p.FineY)
		reach(p.CentreX, p.CentreY)
	}
	head := "path of the blade's centre, seen from above (cm from the pin at the catch)"
	if math.IsInf(low[0], 0) {
		return append(w.Wrap("", 2, head), "  nothing to draw")
	}
	legend := pathLegend(w, paths, every)
	key := 0
	for _, l := range legend {
		key = max(key, term.Width(l))
	}
	const scale, tallest = 6, 18
	beside := w.TextWidth() >= 24+key+scale+5
	width := w.TextWidth() - scale - 3
	if beside {
		width -= key + 3
	}
	width = min(width, 64)
	// cm a column, so that both ways fit
	each := math.Max((high[0]-low[0])/float64(width-1), (high[1]-low[1])/2/float64(tallest-1))
	each = math.Max(each, 0.1)
	wideCells, rows := int(math.Ceil((high[0]-low[0])/each))+1, int(math.Ceil((high[1]-low[1])/(2*each)))+1

	field := w.Canvas(wideCells, rows)
	col := func(x float64) float64 { return (x - low[0]) / each }
	half := func(y float64) float64 { return (high[1]-y)/each + 0.5 }
	for k, look := range pathLooks(paths) {
		p := paths[k]
		fineX, fineY := p.FineX, p.FineY
		if len(fineX) == 0 {
			fineX, fineY = p.CentreX, p.CentreY
		}
		field.Mark(look.line, look.mark, p.CentreX, p.CentreY, col, half)
		field.Draw(look.line, fineX, fineY, col, half)
	}
	frame := w.Frame()
	lines := w.Wrap("", 2, head)
	ruled := max(1, (rows+2)/3)
	for r := range rows {
		label, edge := "", frame.Edge
		if r%ruled == 0 || r == rows-1 && r%ruled > ruled/2 {
			label, edge = table.Fixed(high[1]-2*each*float64(r), 0), frame.Tick
		}
		row := term.PadLeft(label, scale) + " " + edge + field.Row(r)
		if beside && r < len(legend) {
			row = term.PadRight(row, scale+2+wideCells+2) + legend[r]
		}
		lines = append(lines, row)
	}
	x := term.XAxis{Name: "along the boat (cm)", Low: low[0], High: low[0] + each*float64(wideCells-1),
		Columns: wideCells, Margin: scale}
	lines = append(lines, w.Foot(x)...)
	if beside {
		for r := rows; r < len(legend); r++ {
			lines = append(lines, term.Spaces(scale+2)+legend[r])
		}
		return lines
	}
	for _, l := range legend {
		lines = append(lines, "  "+l)
	}
	return lines
}

// pathLook is how one blade's way is drawn.
type pathLook struct {
	line int  // as the lines of a chart: 1 blocks, 2 dots, 4 x, 5 #
	mark rune // at the moments
}

// pathLooks gives the first stroke the blocks and a perfect grip the dots,
// whichever comes first.
func pathLooks(paths []document.Path) []pathLook {
	looks := make([]pathLook, len(paths))
	strokes := []pathLook{{1, 'o'}, {4, 'x'}, {5, '#'}}
	n := 0
	for k, p := range paths {
		if p.Reference {
			looks[k] = pathLook{2, '+'}
			continue
		}
		looks[k] = strokes[min(n, 2)]
		n++
	}
	return looks
}

// pathLegend names the marks, the drive's length and the directions.
func pathLegend(w term.Window, paths []document.Path, every float64) []string {
	var legend []string
	looks, moments := pathLooks(paths), 0
	for k, p := range paths {
		name := term.Cut(w.Clean(p.Name), w.TextWidth()-16) // room for its mark and the drive's time
		if len(p.Time) > 0 {
			name += ", " + table.Quantity(p.Time[len(p.Time)-1]-p.Time[0], "drive_time", "s", 2)
			moments = max(moments, len(p.Time))
		}
		legend = append(legend, fmt.Sprintf("%c  %s", looks[k].mark, name))
	}
	switch {
	case every > 0:
		legend = append(legend, "", "marks: every "+table.Quantity(every, "time", "s", -1))
	case moments > 1:
		legend = append(legend, "", fmt.Sprintf("marks: %d moments, equal times apart", moments))
	}
	return append(legend, "the boat goes this way ->", "up: outward from the pin")
}
