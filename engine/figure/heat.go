package figure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/term"
	"thole/engine/typeset"
	"thole/engine/words"
)

// Heat is a map over two axes: Table in lines, X, Y[0] the second axis, Z.
const Heat document.Kind = "heat"

var heatKind = &Kind{
	Name: Heat,
	Needs: func(f *document.Figure) []Need {
		needs := []Need{{Name: f.X}, {f.Z, Numbers}}
		for _, y := range f.Y {
			needs = append(needs, Need{Name: y})
		}
		return needs
	},
	Lacks: func(f *document.Figure) string {
		if len(f.Y) == 0 || f.Table.Column(f.Z).AllBlank() {
			return "every value in it is blank"
		}
		if g := gridOf(f.Table, f.X, f.Y[0], f.Z); len(g.xs) == 0 || len(g.ys) == 0 {
			return "one of its axes is blank"
		}
		return ""
	},
	Title: func(f *document.Figure) string {
		over := f.X
		if len(f.Y) > 0 {
			over += " and " + f.Y[0]
		}
		return words.Capital(words.Spaced(f.Z + " over " + over))
	},
	Describe: func(f *document.Figure) string { return spans(f, []string{f.Z}) },
	Reading: func(*document.Figure) string {
		return "Darker is more; lines join equal values. A cross has no stroke."
	},
	Draw:   drawHeat,
	Window: heatInWindow,
	Beside: func(t *table.Table) (*document.Figure, Place) {
		angle := t.Column("angle")
		if angle == nil || angle.Kind != table.Number || t.Column("strip") == nil ||
			t.Column("slip_speed") == nil {
			return nil, Instead
		}
		return &document.Figure{Kind: Heat, Table: t, X: "angle", Y: []string{"strip"}, Z: "slip_speed"},
			Instead
	},
}

// grid is a quantity over two axes; NaN where there is no value.
type grid struct {
	xs, ys []float64
	z      [][]float64 // [y][x]
}

func gridOf(t *table.Table, xName, yName, zName string) grid {
	xc, yc, zc := t.Column(xName), t.Column(yName), t.Column(zName)
	px, py := axisPlaces(xc), axisPlaces(yc)
	g := grid{xs: sortedDistinct(px), ys: sortedDistinct(py)}
	for range g.ys {
		row := make([]float64, len(g.xs))
		for i := range row {
			row[i] = math.NaN()
		}
		g.z = append(g.z, row)
	}
	for i := range t.Len() {
		x, okX := slices.BinarySearch(g.xs, px[i])
		y, okY := slices.BinarySearch(g.ys, py[i])
		if okX && okY {
			g.z[y][x] = zc.Value(i)
		}
	}
	return g.thinned(60)
}

func sortedDistinct(vs []float64) []float64 {
	out := distinct(vs)
	slices.Sort(out)
	return out
}

// thinned keeps at most n columns, so that a finely sampled arc stays small.
func (g grid) thinned(n int) grid {
	if len(g.xs) <= n {
		return g
	}
	var keep []int
	for i := range n {
		keep = append(keep, int(math.Round(float64(i)*float64(len(g.xs)-1)/float64(n-1))))
	}
	out := grid{ys: g.ys}
	for _, k := range keep {
		out.xs = append(out.xs, g.xs[k])
	}
	for _, row := range g.z {
		var r []float64
		for _, k := range keep {
			r = append(r, row[k])
		}
		out.z = append(out.z, r)
	}
	return out
}

func (g grid) values() []float64 {
	var out []float64
	for _, row := range g.z {
		out = append(out, row...)
	}
	return out
}

// edges are where cells meet: halfway between neighbours, the ends as far out.
func edges(vs []float64) []float64 {
	n := len(vs)
	if n == 1 {
		return []float64{vs[0] - .5, vs[0] + .5}
	}
	out := []float64{vs[0] - (vs[1]-vs[0])/2}
	for i := 1; i < n; i++ {
		out = append(out, (vs[i-1]+vs[i])/2)
	}
	return append(out, vs[n-1]+(vs[n-1]-vs[n-2])/2)
}

// drawHeat draws a map: one cell a computed value, darker for more, with contour
// lines that bear their values, so that it reads in grey and in words.
func drawHeat(f *document.Figure, d *draw.Surface) {
	t := f.Table
	g := gridOf(t, f.X, f.Y[0], f.Z)
	zc := t.Column(f.Z)
	low, high := draw.Extent(g.values())
	from, to := shadedRange(g.values(), low, high)
	left, right, height := 58., 14., 300.
	if d.Narrow() {
		left, right, height = 44, 6, 200
	}
	d.Text("b", 0, 14, draw.Cut(words.Capital(typeset.Head(words.Spaced(f.Z), zc.Unit)), d.TextSize(), d.W))
	top := heatKey(d, from, to, from > low, to < high, zc.Digits, 22)
	top += 24
	d.Text("sm", 0, top-9, words.Capital(typeset.Head(words.Spaced(f.Y[0]), t.Column(f.Y[0]).Unit)))

	xe, ye := edges(g.xs), edges(g.ys)
	x := draw.Span(g.xs, 7)
	x.Low, x.High, x.From, x.To = xe[0], xe[len(xe)-1], left, d.W-right
	y := draw.Span(g.ys, 6)
	y.Low, y.High, y.From, y.To = ye[0], ye[len(ye)-1], top+height, top
	if len(g.xs) <= 8 {
		x.Ticks = g.xs
	}
	if len(g.ys) <= 9 {
		y.Ticks, y.Digits = g.ys, max(0, min(t.Column(f.Y[0]).Digits, 1))
		if wholeOnly(g.ys) {
			y.Digits = 0
		}
	}
	for j, row := range g.z {
		for i, z := range row {
			x0, x1, y0, y1 := x.At(xe[i]), x.At(xe[i+1]), y.At(ye[j+1]), y.At(ye[j])
			if math.IsNaN(z) { // no stroke there: a cross, not a colour
				cx, cy := (x0+x1)/2, (y0+y1)/2
				d.Path("axis", draw.Pathf("M%s %sl8 8M%s %sl8 -8", cx-4, cy-4, cx-4, cy+4))
				continue
			}
			d.Tint(x0, y0, x1-x0, y1-y0, shade(z, from, to))
		}
	}
	contours(d, g, x, y, low, high)
	for _, v := range y.Ticks {
		d.Line("axis", x.From-5, y.At(v), x.From, y.At(v))
		label := y.Label(v)
		if c := t.Column(f.Y[0]); c.Kind == table.Text {
			label = textAt(c, v)
		}
		d.Text("t2 end", x.From-8, y.At(v)+4.4, draw.Cut(label, d.TextSize(), left-10))
	}
	guides(d, f, facetRow{}, x, y, true)
	xNumbers(d, f, x, y.From, true)
	d.H = top + height + 40
}

func wholeOnly(vs []float64) bool {
	for _, v := range vs {
		if v != math.Round(v) {
			return false
		}
	}
	return true
}

// shadedRange is what the shades span: all values, or where a few lie far out,
// the rest, so that one odd corner does not flatten the map.
func shadedRange(values []float64, low, high float64) (from, to float64) {
	sorted := make([]float64, 0, len(values))
	for _, v := range values {
		if !math.IsNaN(v) {
			sorted = append(sorted, v)
		}
	}
	if len(sorted) < 40 {
		return low, high
	}
	slices.Sort(sorted)
	from, to = sorted[len(sorted)*4/100], sorted[len(sorted)*96/100]
	if to <= from || high-low < 1.4*(to-from) {
		return low, high
	}
	return from, to
}

func shade(z, low, high float64) float64 {
	if high <= low {
		return .3
	}
	z = math.Max(low, math.Min(z, high))
	return .06 + .66*(z-low)/(high-low)
}

// heatKey shows what darker means, in five steps.
func heatKey(d *draw.Surface, low, high float64, below, above bool, digits int, top float64) float64 {
	first, last := typeset.Number(low, digits), typeset.Number(high, digits)
	if below {
		first += " and less"
	}
	if above {
		last += " and more"
	}
	x := draw.TextWidth(first, 12.5) + 8
	d.Text("sm t2", 0, top+11, first)
	for k := range 5 {
		d.Tint(x+float64(k)*22, top, 22, 13, shade(float64(k), 0, 4))
	}
	d.Rect("axis", x, top, 110, 13)
	d.Text("sm t2", x+116, top+11, last)
	return top + 16
}

// heatSteps go from the lowest value to the highest; a blank point is a blank.
const heatSteps = ".:-=+*#%@"

// heat draws a map over two axes in nine steps: x across, the second axis
// upward. Where x has more values than the window has columns, a column is the
// mean of its values.
func heatInWindow(w term.Window, f *document.Figure) []string {
	x, z := f.Table.Column(f.X), f.Table.Column(f.Z)
	if x == nil || z == nil || len(f.Y) == 0 || f.Table.Column(f.Y[0]) == nil {
		return InWords(w, f)
	}
	y := f.Table.Column(f.Y[0])
	xs, ys := distinctIn(x), distinctIn(y)
	low, high := math.Inf(1), math.Inf(-1)
	for i := range z.Len() {
		if v := z.Value(i); !math.IsNaN(v) {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	head := w.Clean(bracketed(z.Name, z.Unit))
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
	lines := w.Wrap("", 2, fmt.Sprintf("%s over %s and %s, from %c %s to %c %s", head, w.Clean(x.Name),
		w.Clean(bracketed(y.Name, y.Unit)),
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
		lines = append(lines, term.PadLeft(table.Fixed(ys[r], table.ColumnDigits(ys, max(y.Digits, 1))),
			scale)+" "+w.Frame().Edge+b.String())
	}
	return append(lines, w.Foot(term.XAxis{Name: bracketed(x.Name, x.Unit), Low: xs[0], High: xs[len(xs)-1],
		Columns: width, Margin: scale})...)
}

// distinct gives the different values of a column, rising.
func distinctIn(c *table.Column) []float64 {
	var values []float64
	for i := range c.Len() {
		if v := c.Value(i); !math.IsNaN(v) {
			values = append(values, v)
		}
	}
	slices.Sort(values)
	return slices.Compact(values)
}

// contours draws lines of equal value at round levels, each with its value.
func contours(d *draw.Surface, g grid, x, y draw.Scale, low, high float64) {
	if len(g.xs) < 2 || len(g.ys) < 2 || high <= low {
		return
	}
	step := draw.NiceStep((high - low) / 6)
	placesShown := max(draw.StepDigits(step), 0)
	var labels []string
	for k := range 20 {
		v := (math.Ceil(low/step) + float64(k)) * step
		if v >= high {
			break
		}
		lines := draw.LevelLines(g.xs, g.ys, g.z, v)
		longest, length := -1, 0.
		for i, l := range lines {
			xs, ys := make([]float64, len(l)), make([]float64, len(l))
			for k, p := range l {
				xs[k], ys[k] = x.At(p[0]), y.At(p[1])
			}
			d.Path("contour", draw.Polyline(xs, ys))
			total := 0.
			for k := 1; k < len(xs); k++ {
				total += math.Hypot(xs[k]-xs[k-1], ys[k]-ys[k-1])
			}
			if total > length {
				longest, length = i, total
			}
		}
		if longest >= 0 && length > 50 {
			l := lines[longest]
			p := l[len(l)/2]
			at := fmt.Sprintf("%.0f %.0f", x.At(p[0])/30, y.At(p[1])/14)
			if !slices.Contains(labels, at) {
				labels = append(labels, at)
				d.Text("sm mid halo", math.Max(x.From+14, math.Min(x.At(p[0]), x.To-14)),
					math.Max(y.To+12, math.Min(y.At(p[1])+4, y.From-4)), typeset.Number(v, placesShown))
			}
		}
	}
}
