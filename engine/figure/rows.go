package figure

import (
	"math"
	"slices"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// curve is one line: its places, and the ends of its band where it has one.
type curve struct {
	name      string
	look      draw.Series
	xs, ys    []float64
	low, high []float64
}

// facet is one panel: what it is for, and its lines.
type facet struct {
	title  string
	curves []curve
}

// facetRow is one quantity: its panels share an axis.
type facetRow struct {
	name, unit string
	digits     int
	facets     []facet
	difference bool // differences from the first line
	runsOff    bool // of which some lie beyond the axis
}

func (r facetRow) title() string {
	if r.difference {
		return typeset.Head("Difference from "+r.name, r.unit)
	}
	return words.Capital(typeset.Head(words.Spaced(r.name), r.unit))
}

// values are all that has to fit on the row's axis.
func (r facetRow) values() []float64 {
	var out []float64
	for _, f := range r.facets {
		for _, c := range f.curves {
			out = append(append(append(out, c.ys...), c.low...), c.high...)
		}
	}
	return out
}

func (r facetRow) axis(about int) draw.Scale { return draw.Axis(r.values(), about) }

// rowsOf reads a figure's table into rows of panels with lines. Quantities of
// one unit share a row where nothing else makes the lines.
func rowsOf(f *document.Figure) []facetRow {
	by := byColumn(f)
	var rows []facetRow
	for _, name := range f.Y {
		y := f.Table.Column(name)
		if y == nil || y.Kind == table.Text {
			continue
		}
		row := facetRow{name: name, unit: y.Unit, digits: y.Digits, facets: facetsOf(f, y, by)}
		if n := len(rows); n > 0 && by == "" && rows[n-1].unit == y.Unit && y.Unit != "" &&
			len(row.facets) == len(rows[n-1].facets) {
			join(&rows[n-1], row)
			continue
		}
		rows = append(rows, row)
	}
	return rows
}

// join lays a quantity of the same unit into the same panels, each line under
// its quantity's name.
func join(into *facetRow, row facetRow) {
	for i := range into.facets {
		for j := range into.facets[i].curves {
			if into.facets[i].curves[j].name == "" {
				into.facets[i].curves[j].name = words.Spaced(into.name)
			}
		}
		for _, c := range row.facets[i].curves {
			c.name = words.Spaced(row.name)
			c.look = draw.Series(len(into.facets[i].curves))
			into.facets[i].curves = append(into.facets[i].curves, c)
		}
	}
	into.name += " and " + row.name
}

// facetsOf makes the panels of one quantity. Lines and panels stand in the order
// in which they first appear; a line keeps its look in every panel.
func facetsOf(f *document.Figure, y *table.Column, by string) []facet {
	t := f.Table
	panels, lines := f.Table.Column(f.Panel), t.Column(by)
	xs := axisPlaces(t.Column(f.X))
	var out []facet
	var looks []string
	index := map[string]int{}
	for i := range t.Len() {
		panel := label(panels, i)
		at, ok := index[panel]
		if !ok {
			at = len(out)
			index[panel] = at
			title := ""
			if panels != nil {
				title = panel
				if panels.Kind != table.Text {
					title = words.Spaced(f.Panel) + " " + panel
				}
			}
			out = append(out, facet{title: title})
		}
		name := label(lines, i)
		look := slices.Index(looks, name)
		if look < 0 {
			looks = append(looks, name)
			look = len(looks) - 1
		}
		c := out[at].named(name, draw.Of(look, func(i int) bool {
			return slices.Contains(f.References,
				looks[i])
		}))
		c.xs = append(c.xs, xs[i])
		c.ys = append(c.ys, y.Value(i))
		if y.Kind == table.Measured {
			low, high := math.NaN(), math.NaN()
			if e := y.Estimates[i]; e != nil {
				low, high = e.Low, e.High
			}
			c.low, c.high = append(c.low, low), append(c.high, high)
		}
	}
	return out
}

func (fc *facet) named(name string, look draw.Series) *curve {
	for i := range fc.curves {
		if fc.curves[i].name == name {
			return &fc.curves[i]
		}
	}
	fc.curves = append(fc.curves, curve{name: name, look: look})
	return &fc.curves[len(fc.curves)-1]
}

// label writes a cell as the name of a line or panel, with its unit.
func label(c *table.Column, i int) string {
	if c == nil {
		return ""
	}
	if c.Kind == table.Text {
		return c.Texts[i]
	}
	return typeset.Cells(c)[i] + typeset.UnitAfter(c.Unit)
}

// axisPlaces gives where each line stands on the x axis: its number, or for texts
// the order in which they first appear.
func axisPlaces(c *table.Column) []float64 {
	out := make([]float64, c.Len())
	seen := map[string]int{}
	for i := range out {
		if c.Kind != table.Text {
			out[i] = c.Value(i)
			continue
		}
		if _, ok := seen[c.Texts[i]]; !ok {
			seen[c.Texts[i]] = len(seen)
		}
		out[i] = float64(seen[c.Texts[i]])
	}
	return out
}

// nearlyEqual is the part of an axis that lines have to differ by somewhere
// before an eye can follow them: below it a second panel shows the difference.
const nearlyEqual = .07

// differences gives the row of differences from the first line, where the lines
// of a single panel lie nearly on top of each other, else nil.
func differences(r facetRow) *facetRow {
	if len(r.facets) != 1 || len(r.facets[0].curves) < 2 || len(r.facets[0].curves[0].low) > 0 {
		return nil
	}
	first := r.facets[0].curves[0]
	if len(first.xs) < 3 {
		return nil
	}
	axis := r.axis(6)
	out := facetRow{name: first.name, unit: r.unit, digits: r.digits, difference: true, facets: []facet{{}}}
	if out.name == "" {
		out.name = "the first"
	}
	for i, c := range r.facets[0].curves {
		d := curve{name: c.name, look: c.look, xs: first.xs, ys: make([]float64, len(first.xs))}
		sum, n := 0., 0.
		for j, x := range first.xs {
			d.ys[j] = interpolate(c.xs, c.ys, x) - first.ys[j]
			if !math.IsNaN(d.ys[j]) {
				sum += d.ys[j] * d.ys[j]
				n++
			}
		}
		if i > 0 && n > 0 && math.Sqrt(sum/n) < nearlyEqual*(axis.High-axis.Low) {
			out.facets[0].curves = append(out.facets[0].curves, d)
		}
	}
	if len(out.facets[0].curves) == 0 {
		return nil
	}
	out.runsOff = cutSpikes(out.facets[0].curves)
	return &out
}

// cutSpikes leaves out what lies far beyond the rest of the differences, such as
// the first degrees after catches that differ: they would flatten all that
// follows. It says whether it left out anything.
func cutSpikes(curves []curve) bool {
	var sizes []float64
	for _, c := range curves {
		for _, v := range c.ys {
			if !math.IsNaN(v) {
				sizes = append(sizes, math.Abs(v))
			}
		}
	}
	slices.Sort(sizes)
	usual := sizes[len(sizes)*94/100]
	if len(sizes) < 40 || usual <= 0 || sizes[len(sizes)-1] < 2.5*usual {
		return false
	}
	for i := range curves {
		for j, v := range curves[i].ys {
			if math.Abs(v) > 1.4*usual {
				curves[i].ys[j] = math.NaN()
			}
		}
	}
	return true
}

// interpolate reads a line at x, straight between its points; NaN outside.
func interpolate(xs, ys []float64, x float64) float64 {
	for i := 1; i < len(xs); i++ {
		a, b := xs[i-1], xs[i]
		if a <= x && x <= b || b <= x && x <= a {
			if a == b {
				return ys[i]
			}
			return ys[i-1] + (ys[i]-ys[i-1])*(x-a)/(b-a)
		}
	}
	if len(xs) == 1 && xs[0] == x {
		return ys[0]
	}
	return math.NaN()
}
