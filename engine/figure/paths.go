package figure

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/term"
	"thole/engine/typeset"
)

// Paths of blades: Paths.
const Paths document.Kind = "paths"

var pathsKind = &Kind{
	Name: Paths,
	Lacks: func(f *document.Figure) string {
		for _, q := range f.Paths {
			if realNumbers(q.CentreX) > 1 {
				return ""
			}
		}
		return "it has no path"
	},
	Title:    func(*document.Figure) string { return "Blade path in the water" },
	Describe: func(f *document.Figure) string { return describePaths(f.Paths) },
	Reading: func(*document.Figure) string {
		return "Numbers count moments equally far apart in time. Shaded is the gap at equal oar angles: " +
			"travel of the boat lost."
	},
	Parts: func(f *document.Figure) []Drawing {
		plan := drawing(f, "The drive from above", drawPlan)
		plan.Aside = true
		return []Drawing{drawing(f, "Blade path in the water", drawPath), plan}
	},
	Table:  func(f *document.Figure) *table.Table { return momentsTable(f.Paths) },
	Window: func(w term.Window, f *document.Figure) []string { return pathsInWindow(w, f.Paths, f.Every) },
}

// realNumbers counts the values that can be drawn.
func realNumbers(values []float64) (n int) {
	for _, v := range values {
		if draw.Drawable(v) {
			n++
		}
	}
	return n
}

// looksOfPaths numbers the paths, those aside that nobody can own.
func looksOfPaths(paths []document.Path) []draw.Series {
	looks := make([]draw.Series, len(paths))
	for k := range paths {
		looks[k] = draw.Of(k, func(i int) bool { return paths[i].Reference })
	}
	return looks
}

// momentsTable gives the numbered times of every path.
func momentsTable(paths []document.Path) *table.Table {
	t := &table.Table{}
	add := func(name, unit string, digits int, vs []float64) {
		t.Columns = append(t.Columns, &table.Column{Name: name, Unit: unit, Digits: digits, Nums: vs})
	}
	var n int
	for _, q := range paths {
		n = max(n, len(q.CentreX))
	}
	var count []float64
	for i := range n {
		count = append(count, float64(i+1))
	}
	add("moment", "", 0, count)
	padded := func(vs []float64) []float64 {
		out := make([]float64, n)
		for i := range out {
			out[i] = math.NaN()
		}
		copy(out, vs)
		return out
	}
	for _, q := range paths {
		prefix := ""
		if len(paths) > 1 {
			prefix = q.Name + ": "
		}
		add(prefix+"time", "s", 3, padded(q.Time))
		add(prefix+"angle", "deg", 1, padded(q.Angle))
		add(prefix+"along", "cm", 1, padded(q.CentreX))
		add(prefix+"out", "cm", 1, padded(q.CentreY))
	}
	return t
}

func describePaths(paths []document.Path) string {
	var parts []string
	for _, q := range paths {
		n := len(q.CentreX)
		if n < 2 {
			continue
		}
		s := fmt.Sprintf("%s: the blade’s middle goes in at %s along the course and leaves %s ahead of it",
			q.Name, typeset.Quantity(q.CentreX[0], 0, "cm"),
			typeset.Quantity(q.CentreX[n-1]-q.CentreX[0], 0, "cm"))
		if len(q.Time) == n {
			s += ", after " + typeset.Quantity(q.Time[n-1], 2, "s")
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, "; ") + "."
}

// drawPlan draws the drive from above: pin's line, oars at the catch, square and
// the finish, the blades' ways, and the boat's travel as a rule.
func drawPlan(f *document.Figure, d *draw.Surface) {
	var xs, ys []float64
	for i := range f.Paths {
		q := &f.Paths[i]
		xs = append(append(append(xs, q.TipX...), q.HandleX...), q.PinX...)
		ys = append(append(ys, q.TipY...), q.HandleY...)
	}
	lx, hx := draw.Extent(xs)
	ly, hy := draw.Extent(ys)
	ly = math.Min(ly, 0)
	side := 10.
	k := (d.W - 2*side) / (hx - lx)
	if most := 330.; (hy-ly)*k > most && !d.Narrow() {
		k = most / (hy - ly)
	}
	left := (d.W - (hx-lx)*k) / 2
	top := 30.
	height := (hy - ly) * k
	m := draw.Plane{LowX: lx, LowY: ly, K: k, Left: left, Bottom: top + height}
	for v := math.Ceil(lx/100) * 100; v <= hx; v += 100 {
		d.Line("hair", m.X(v), top-6, m.X(v), m.Y(ly))
		d.Text("sm t2 mid", m.X(v), top-11, typeset.Number(v/100, 0)+typeset.Thin+"m")
	}
	d.Line("axis", m.X(lx), m.Y(0), m.X(hx), m.Y(0))
	looks := looksOfPaths(f.Paths)
	a, b := pair(f.Paths)
	gap(d, a, b, m)
	for i := len(f.Paths) - 1; i >= 0; i-- {
		q := &f.Paths[i]
		look := looks[i]
		n := len(q.CentreX)
		if len(q.PinX) == n && len(q.HandleX) == n {
			for _, j := range []int{0, squareMoment(q), n - 1} {
				d.Line("shaft "+look.Stroke(), m.X(q.HandleX[j]), m.Y(q.HandleY[j]), m.X(q.NeckX[j]),
					m.Y(q.NeckY[j]))
				d.Line("blade "+look.Stroke(), m.X(q.NeckX[j]), m.Y(q.NeckY[j]), m.X(q.TipX[j]),
					m.Y(q.TipY[j]))
			}
			for j := range n {
				d.MarkSized(look, m.X(q.PinX[j]), m.Y(0), 3.2)
			}
		}
		px, py := wayOf(q)
		d.Path(look.Line()+" thin", m.Polyline(px, py))
	}
	y := m.Y(ly) + 14
	for i := range f.Paths {
		q := &f.Paths[i]
		n := len(q.PinX)
		if n == 0 {
			continue
		}
		travel := q.PinX[n-1] - q.PinX[0]
		x0, x1 := m.X(q.PinX[0]), m.X(q.PinX[n-1])
		d.Rule(x0, x1, y)
		label := q.Name + ": the boat travels " + typeset.Quantity(travel/100, 2, "m") + " in the drive →"
		if d.Narrow() {
			label = q.Name + ": " + typeset.Quantity(travel/100, 2, "m") + " in the drive →"
		}
		d.Text("sm", math.Max(0, math.Min(x0, d.W-draw.TextWidth(label, 12.5))), y+17,
			draw.Cut(label, 12.5, d.W))
		y += 32
	}
	d.H = y + 2
}

// squareMoment is the moment nearest to square.
func squareMoment(q *document.Path) int {
	best := 0
	for j, a := range q.Angle {
		if math.Abs(a) < math.Abs(q.Angle[best]) {
			best = j
		}
	}
	return best
}
