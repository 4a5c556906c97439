package report

import (
	"fmt"
	"html/template"
	"math"
	"slices"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/typeset"
	"thole/engine/words"
)

type plotData struct {
	ID string  `json:"id"`
	X0 float64 `json:"x0"`
	X1 float64 `json:"x1"`
	Y0 float64 `json:"y0"`
	Y1 float64 `json:"y1"`
}

// fan draws one field against the first axis, a line for each value of the
// second, the chosen one lit. The script redraws it from the same places.
func fan(e *document.Explore, data exploreData, id string, place place) (template.HTML, plotData) {
	d := &draw.Surface{W: place.width, ID: id}
	left, right, height := 50., 84., 230.
	if d.Narrow() {
		left, right, height = 42, 62, 180
	}
	lines, on, second, names := 1, 0, "", []string{""}
	if len(e.Axes) < 2 {
		right = 14
	} else {
		a := data.Axes[1]
		lines, on, names = len(a.Shown), e.Base[1], a.Shown
		second = typeset.Head(words.Spaced(a.Name), a.Unit)
		right = math.Max(right, math.Max(draw.TextWidth(second, 12.5),
			draw.TextWidth(longest(names), 13.5))+10)
		if most := .3 * d.W; right > most {
			right, second = most, draw.Cut(second, 12.5, most-10)
		}
	}
	f, a := data.Fields[data.Drawn], data.Axes[0]
	const top = 28.
	plot := plotData{ID: id, X0: left, X1: d.W - right, Y0: top + height, Y1: top}
	y := draw.Scale{Low: f.Axis.Low, High: f.Axis.High, From: plot.Y0, To: plot.Y1}
	d.Named("title").Text("b", 0, 14, f.Axis.Title)
	d.Named("span").Text("sm t2 end", plot.X1, 14, f.Axis.Span)
	d.Group("ticks", func() {
		for i, t := range f.Axis.Ticks {
			d.Line("hair", plot.X0, y.At(t), plot.X1, y.At(t))
			d.Text("t2 end", plot.X0-7, y.At(t)+4.4, f.Axis.Labels[i])
		}
	})
	x := fanX(a, plot)
	step := max(1, int(math.Ceil(float64(len(a.Shown))*draw.TextWidth(longest(a.Shown),
		14)/(plot.X1-plot.X0))))
	for i := 0; i < len(a.Shown); i += step {
		d.Line("axis", x[i], plot.Y0, x[i], plot.Y0+4)
		d.Text("t2 mid", x[i], plot.Y0+18, a.Shown[i])
	}
	d.Text("t2 end", plot.X1, plot.Y0+36, typeset.Head(words.Spaced(a.Name), a.Unit))
	places, ends := make([][]float64, lines), make([]float64, lines)
	for j := range lines {
		at := slices.Clone(e.Base)
		if len(at) > 1 {
			at[1] = j
		}
		ends[j] = math.NaN()
		for at[0] = range a.Shown {
			v := y.At(e.Value(e.Index(at), data.Drawn))
			places[j] = append(places[j], v)
			if !math.IsNaN(v) {
				ends[j] = v
			}
		}
	}
	lit := func(class string, j int) string {
		if j == on {
			return class + " on"
		}
		return class
	}
	for _, j := range chosenLast(lines, on) {
		d.Named(fmt.Sprint("l", j)).Path(lit("fan", j), draw.Polyline(x, places[j]))
	}
	if len(e.Axes) > 1 {
		free := namesWithRoom(ends, on)
		for j, name := range names {
			d.Named(fmt.Sprint("t", j)).Hidden(!free[j]).Text(lit("fanl", j), plot.X1+8, ends[j]+4, name)
		}
	}
	d.Text("sm t2 end", d.W, 14, second)
	d.Named("here").Circle("f1", x[e.Base[0]], y.At(e.Value(e.Index(e.Base), data.Drawn)), 6)
	d.H = plot.Y0 + 42
	return d.Finish(place.class, f.Axis.Title+" against "+words.Spaced(a.Name), stateWords(e, e.Base, data)),
		plot
}

func longest(texts []string) string {
	out := ""
	for _, t := range texts {
		if len(t) > len(out) {
			out = t
		}
	}
	return out + "  "
}

// fanX places an axis' values over the drawing: numbers in proportion, names at
// equal distances.
func fanX(a axisData, pl plotData) []float64 {
	n := len(a.Shown)
	out := make([]float64, n)
	for i := range out {
		u := .5
		if n > 1 {
			u = float64(i) / float64(n-1)
			if a.Nums != nil && a.Nums[n-1] != a.Nums[0] {
				u = (a.Nums[i] - a.Nums[0]) / (a.Nums[n-1] - a.Nums[0])
			}
		}
		out[i] = pl.X0 + u*(pl.X1-pl.X0)
	}
	return out
}

// chosenLast gives the lines in drawing order: the chosen one lies on top.
func chosenLast(lines, on int) []int {
	var out []int
	for j := range lines {
		if j != on {
			out = append(out, j)
		}
	}
	return append(out, on)
}

// namesWithRoom says which lines can bear their names: the chosen one always,
// the outermost next, the others where they touch none of them. The script keeps
// the same rule.
func namesWithRoom(ends []float64, on int) []bool {
	free := make([]bool, len(ends))
	var taken []float64
	for _, j := range append([]int{on, 0, len(ends) - 1}, chosenLast(len(ends), on)...) {
		room := !free[j] && !math.IsNaN(ends[j])
		for _, y := range taken {
			room = room && math.Abs(y-ends[j]) >= 14
		}
		if room {
			free[j] = true
			taken = append(taken, ends[j])
		}
	}
	return free
}
