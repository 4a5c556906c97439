package window

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/engine/document"
	"thole/engine/table"
	"thole/engine/term"
)

// heatSteps go from the lowest value to the highest; a blank point is a blank.
const heatSteps = ".:-=+*#%@"

// heat draws a map over two axes in nine steps: x across, the second axis
// upward. Where x has more values than the window has columns, a column is the
// mean of its values.
func heat(w term.Window, f *document.Figure) []string {
	x, z := f.Table.Column(f.X), f.Table.Column(f.Z)
	if x == nil || z == nil || len(f.Y) == 0 || f.Table.Column(f.Y[0]) == nil {
		return inWords(w, f)
	}
	y := f.Table.Column(f.Y[0])
	xs, ys := distinct(x), distinct(y)
	low, high := math.Inf(1), math.Inf(-1)
	for i := range z.Len() {
		if v := z.Value(i); !math.IsNaN(v) {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	head := w.Clean(withUnit(z.Name, z.Unit))
	if math.IsInf(low, 0) || len(xs) == 0 || len(ys) == 0 {
		return []string{head, "  nothing to draw: all points are blank"}
	}
	const scale = 6
	width := min(len(xs), max(w.TextWidth()-scale-3, 8))
	sum, n := make([][]float64, len(ys)), make([][]int, len(ys))
	for r := range ys {
		sum[r], n[r] = make([]float64, width), make([]int, width)
	}
	for i := range z.Len() {
		if v := z.Value(i); !math.IsNaN(v) {
			r, okR := slices.BinarySearch(ys, y.Value(i))
			k, okK := slices.BinarySearch(xs, x.Value(i))
			if okR && okK {
				c := k * width / len(xs)
				sum[r][c] += v
				n[r][c]++
			}
		}
	}
	digits := max(z.Digits, 0)
	lines := w.Wrap("", 2, fmt.Sprintf("%s over %s and %s, from %c %s to %c %s", head, w.Clean(x.Name), w.Clean(withUnit(y.Name, y.Unit)),
		heatSteps[0], table.Fixed(low, digits), heatSteps[len(heatSteps)-1], table.Fixed(high, digits)))
	for r := len(ys) - 1; r >= 0; r-- {
		var b strings.Builder
		for c := range width {
			if n[r][c] == 0 {
				b.WriteByte(' ')
				continue
			}
			share := 0.0
			if high > low {
				share = (sum[r][c]/float64(n[r][c]) - low) / (high - low)
			}
			b.WriteByte(heatSteps[min(int(share*float64(len(heatSteps))), len(heatSteps)-1)])
		}
		lines = append(lines, term.PadLeft(table.Fixed(ys[r], table.ColumnDigits(ys, max(y.Digits, 1))), scale)+" "+w.Frame().Edge+b.String())
	}
	return append(lines, w.Foot(term.XAxis{Name: withUnit(x.Name, x.Unit), Low: xs[0], High: xs[len(xs)-1], Columns: width, Margin: scale})...)
}

// distinct gives the different values of a column, rising.
func distinct(c *table.Column) []float64 {
	var values []float64
	for i := range c.Len() {
		if v := c.Value(i); !math.IsNaN(v) {
			values = append(values, v)
		}
	}
	slices.Sort(values)
	return slices.Compact(values)
}
