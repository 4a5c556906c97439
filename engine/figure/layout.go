package figure

import (
	"math"
	"slices"

	"thole/engine/draw"
)

// frame is where the panels of a figure stand.
type frame struct {
	left, right float64 // of the drawing's width: room for numbers and for labels
	columns     int
	gap         float64
	height      float64 // of one panel's plot
	key         bool    // lines are named in a key, not at their ends
	sampled     bool    // ends lie so close that each name needs its line beside it
}

// layout decides how many panels stand side by side and whether there is room
// for names at the lines' ends.
func layout(d *draw.Surface, rows []facetRow) frame {
	names, panels, count := 0.0, 1, 0
	for _, r := range rows {
		panels = max(panels, len(r.facets))
		for _, fc := range r.facets {
			count = max(count, len(fc.curves))
			for _, c := range fc.curves {
				names = math.Max(names, draw.TextWidth(c.name, d.TextSize()))
			}
		}
	}
	fr := frame{left: 50, right: 14, columns: 1, gap: 26, height: 190}
	if len(rows) == 1 {
		fr.height = 230
	}
	if d.Narrow() {
		fr.left, fr.height = 40, 150
		if d.Projected() { // as high as a screen lets it be without its words getting small
			fr.height = 130 / float64(len(rows))
		}
	} else {
		fr.columns = min(panels, 3)
		if panels == 4 {
			fr.columns = 2
		}
		if fr.columns > 1 {
			fr.height = 170
		}
	}
	switch {
	case names == 0:
	case count > 1 && (d.Narrow() || names > .3*d.W || fr.columns < panels):
		fr.key = true
	case !d.Narrow():
		fr.right = names + 22
		if closeEnds(rows, fr.height) {
			fr.sampled = true
			fr.right += 34
		}
	default:
		fr.key = count > 0
	}
	return fr
}

// closeEnds says whether two lines of a panel end nearer than their names are
// high: then a name alone does not tell whose it is.
func closeEnds(rows []facetRow, height float64) bool {
	for _, r := range rows {
		axis := r.axis(6)
		axis.From, axis.To = height, 0
		for _, fc := range r.facets {
			var ends []float64
			for _, c := range fc.curves {
				if k := c.last(); k >= 0 {
					ends = append(ends, axis.At(c.ys[k]))
				}
			}
			slices.Sort(ends)
			for i := 1; i < len(ends); i++ {
				if ends[i]-ends[i-1] < 13 {
					return true
				}
			}
		}
	}
	return false
}

// last is the last point of a line that has a value, -1 for none.
func (c curve) last() int {
	for i := len(c.ys) - 1; i >= 0; i-- {
		if !math.IsNaN(c.ys[i]) && !math.IsNaN(c.xs[i]) {
			return i
		}
	}
	return -1
}

// nameEnds writes each line's name at its end, names moved apart, with a thin
// line to the end where a name had to move far or the line ends early.
func nameEnds(d *draw.Surface, curves []curve, x, y draw.Scale, sampled bool) {
	var at, ends []float64
	var named []curve
	for _, c := range curves {
		last := c.last()
		if last < 0 || c.name == "" {
			continue
		}
		named = append(named, c)
		at = append(at, y.At(c.ys[last]))
		ends = append(ends, x.At(c.xs[last]))
	}
	moved := draw.Apart(at, 15, y.To-2, y.From+2)
	for i, c := range named {
		left := x.To + 10
		if math.Abs(moved[i]-at[i]) > 3 || left-ends[i] > 16 {
			d.Line("lead-line", ends[i]+3, at[i], left-2, moved[i])
		}
		if sampled {
			d.Line(c.look.Line(), left, moved[i], left+26, moved[i])
			d.MarkSized(c.look, left+13, moved[i], 4.2)
			left += 33
		}
		d.Text("", left, moved[i]+4.5, c.name)
	}
}

// key names the lines above the first panel, in the order of the lines.
func key(d *draw.Surface, r facetRow, top float64) float64 {
	var names []string
	var looks []draw.Series
	for _, fc := range r.facets {
		for _, c := range fc.curves {
			if !slices.Contains(names, c.name) {
				names, looks = append(names, c.name), append(looks, c.look)
			}
		}
	}
	return d.Key(names, 0, top+10, 36, func(k int, x, y float64) { d.Sample(looks[k], x, y) }) + 16
}
