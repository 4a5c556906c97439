package report

import (
	"fmt"
	"math"

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
func (p *page) fan(e *document.Explore, d exploreData, id string, width float64, class string) plotData {
	w := &draw.Surface{W: width, ID: id}
	left, right, height := 50., 84., 230.
	if w.Narrow() {
		left, right, height = 42, 62, 180
	}
	second := ""
	if len(e.Axes) < 2 {
		right = 14
	} else {
		second = words.Spaced(d.Axes[1].Name)
		if d.Axes[1].Unit != "" {
			second += ", " + typeset.UnitName(d.Axes[1].Unit)
		}
		right = math.Max(right, math.Max(draw.TextWidth(second, 12.5), draw.TextWidth(longest(d.Axes[1].Shown), 13.5))+10)
		if most := .3 * w.W; right > most {
			right, second = most, draw.Cut(second, 12.5, most-10)
		}
	}
	f := d.Fields[d.Drawn]
	top := 28.
	pl := plotData{ID: id, X0: left, X1: w.W - right, Y0: top + height, Y1: top}
	y := draw.Scale{Low: f.Axis.Low, High: f.Axis.High, From: pl.Y0, To: pl.Y1}
	fmt.Fprintf(w, `<text class="b" x="0" y="14" id="%stitle">%s</text><text class="sm t2 end" x="%s" y="14" id="%sspan">%s</text><g id="%sticks">`, id, esc(f.Axis.Title), draw.Coord(pl.X1), id, esc(f.Axis.Span), id)
	for i, t := range f.Axis.Ticks {
		w.Line("hair", pl.X0, y.At(t), pl.X1, y.At(t))
		w.Text("t2 end", pl.X0-7, y.At(t)+4.4, f.Axis.Labels[i])
	}
	w.WriteString("</g>")
	a := d.Axes[0]
	x := fanX(a, pl)
	step := max(1, int(math.Ceil(float64(len(a.Shown))*draw.TextWidth(longest(a.Shown), 14)/(pl.X1-pl.X0))))
	for i := 0; i < len(a.Shown); i += step {
		w.Line("axis", x[i], pl.Y0, x[i], pl.Y0+4)
		w.Text("t2 mid", x[i], pl.Y0+18, a.Shown[i])
	}
	title := words.Spaced(a.Name)
	if a.Unit != "" {
		title += ", " + typeset.UnitName(a.Unit)
	}
	w.Text("t2 end", pl.X1, pl.Y0+36, title)
	lines := 1
	if len(e.Axes) > 1 {
		lines = e.Axes[1].Len()
	}
	ends := make([]float64, lines)
	paths := make([]string, lines)
	on := 0
	if len(e.Axes) > 1 {
		on = e.Base[1]
	}
	for j := range lines {
		at := append([]int(nil), e.Base...)
		ends[j] = math.NaN()
		var ys []float64
		for i := range a.Shown {
			at[0] = i
			if len(at) > 1 {
				at[1] = j
			}
			ys = append(ys, y.At(e.Value(e.Index(at), d.Drawn)))
			if v := ys[len(ys)-1]; !math.IsNaN(v) {
				ends[j] = v
			}
		}
		paths[j] = draw.Polyline(x, ys)
	}
	for _, j := range chosenLast(lines, on) {
		class := map[bool]string{true: "fan on", false: "fan"}[j == on]
		fmt.Fprintf(w, `<path class="%s" id="%sl%d" d="%s"/>`, class, id, j, paths[j])
	}
	if len(e.Axes) > 1 {
		free := namesWithRoom(ends, on)
		for j := range lines {
			class := map[bool]string{true: "fanl on", false: "fanl"}[j == on]
			hidden := map[bool]string{false: ` visibility="hidden"`}[free[j]]
			fmt.Fprintf(w, `<text class="%s" id="%st%d" x="%s" y="%s"%s>%s</text>`, class, id, j, draw.Coord(pl.X1+8), draw.Coord(ends[j]+4), hidden, esc(d.Axes[1].Shown[j]))
		}
	}
	w.Text("sm t2 end", w.W, 14, second)
	here := y.At(e.Value(e.Index(e.Base), d.Drawn))
	fmt.Fprintf(w, `<circle class="f1" id="%shere" cx="%s" cy="%s" r="6"/>`, id, draw.Coord(x[e.Base[0]]), draw.Coord(here))
	w.H = pl.Y0 + 42
	p.put(w.Finish(class, f.Axis.Title+" against "+words.Spaced(a.Name), stateWords(e, e.Base, d)), "\n")
	return pl
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
