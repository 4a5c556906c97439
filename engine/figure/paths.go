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
	"thole/engine/words"
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
	Reading:  readPaths,
	Parts: func(f *document.Figure) []Drawing {
		parts := []Drawing{drawing(f, "The drive seen from above, the water standing still", drawPath)}
		if len(aboard(f.Paths)) > 0 {
			fromBoat := drawing(f, "The drive seen from above, the boat standing still", drawAboard)
			parts[0].Stays, fromBoat.Stays = "water", "boat"
			parts = append(parts, fromBoat)
		}
		return parts
	},
	Table:  func(f *document.Figure) *table.Table { return momentsTable(f.Paths) },
	Window: func(w term.Window, f *document.Figure) []string { return pathsInWindow(w, f.Paths, f.Every) },
}

// readPaths says what the marks and the shading mean. Only beside a perfect grip is travel
// lost: two ordinary strokes differ, and neither is the other's loss.
func readPaths(f *document.Figure) string {
	marks := "Marks stand equally far apart in time on each path, so the same mark of two paths is not the " +
		"same moment."
	switch {
	case f.Every == .1:
		marks = "Marks stand every tenth of a second after the catch, the same number at the same moment " +
			"on every path."
	case f.Every > 0:
		marks = "Marks stand every " + typeset.Quantity(f.Every, 2, "s") +
			" after the catch, the same number at the same moment on every path."
	}
	if a, b := pair(f.Paths); a != nil && b != nil && b.Reference {
		marks += " Shaded is the travel lost to slip, between the two blades at equal oar angles."
	}
	return marks
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

// momentsTable gives the numbered times of every path, counted from the catch, 0.
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
		count = append(count, float64(i))
	}
	add("mark", "", 0, count)
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

// travel is how far the boat goes in a drive, cm, and how long that takes, s; NaN where the
// path does not say.
func travel(q *document.Path) (far, time float64) {
	far, time = math.NaN(), math.NaN()
	if n := len(q.PinX); n > 1 {
		far = q.PinX[n-1] - q.PinX[0]
	}
	if n := len(q.Time); n > 0 {
		time = q.Time[n-1]
	}
	return far, time
}

// travelWords says a drive in a breath: "3.45 m in 0.90 s".
func travelWords(q *document.Path) string {
	far, time := travel(q)
	if math.IsNaN(far) || math.IsNaN(time) {
		return ""
	}
	return typeset.Quantity(far/100, 2, "m") + " in " + typeset.Quantity(time, 2, "s")
}

// describePaths tells the one story of the figure: how far the boat goes in each drive, how
// long it takes, and what slip costs beside a perfect grip.
func describePaths(paths []document.Path) string {
	var parts []string
	for i := range paths {
		if said := travelWords(&paths[i]); said != "" {
			parts = append(parts, fmt.Sprintf("with %s the boat travels %s of drive", paths[i].Name, said))
		}
	}
	if len(parts) == 0 {
		return "The way of the blade’s middle through the water."
	}
	out := words.Capital(strings.Join(parts, "; ")) + "."
	if lost := lostWords(paths); lost != "" {
		out += " " + words.Capital(lost) + "."
	}
	return out
}

// lostWords says what slip costs beside a perfect grip, or how two strokes differ; "" for
// what no two paths tell.
func lostWords(paths []document.Path) string {
	a, b := pair(paths)
	if a == nil || b == nil {
		return ""
	}
	far, time := travel(a)
	farther, longer := travel(b)
	if math.IsNaN(farther-far) || math.IsNaN(longer-time) {
		return ""
	}
	if b.Reference {
		return fmt.Sprintf("slip costs %s of the boat’s travel; the drive is %s shorter",
			typeset.Quantity((farther-far)/100, 2, "m"), typeset.Quantity(longer-time, 2, "s"))
	}
	return fmt.Sprintf("the travel differs by %s; the drive by %s",
		typeset.Quantity(math.Abs(farther-far)/100, 2, "m"),
		typeset.Quantity(math.Abs(longer-time), 2, "s"))
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
