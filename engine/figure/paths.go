package figure

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
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
		return "Numbers count moments equally far apart in time. Shaded is the gap at equal oar angles: travel of the boat lost."
	},
	Parts: func(f *document.Figure) []Drawing {
		plan := drawing(f, "The drive from above", drawPlan)
		plan.Aside = true
		return []Drawing{drawing(f, "Blade path in the water", drawPath), plan}
	},
	Table: func(f *document.Figure) *table.Table { return momentsTable(f.Paths) },
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
		s := fmt.Sprintf("%s: the blade’s middle goes in at %s along the course and leaves %s ahead of it", q.Name, typeset.Quantity(q.CentreX[0], 0, "cm"), typeset.Quantity(q.CentreX[n-1]-q.CentreX[0], 0, "cm"))
		if len(q.Time) == n {
			s += ", after " + typeset.Quantity(q.Time[n-1], 2, "s")
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, "; ") + "."
}
