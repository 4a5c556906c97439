package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Widths of a drawing in units of its viewBox. Every figure is drawn for a wide
// and for a narrow place, because text that is scaled down cannot be read.
const (
	wideWidth   = 720
	narrowWidth = 300
	lessonWidth = 520 // wide, in a column of the teaching view
)

// drawing is one SVG in the making. Its methods write shapes in the order they
// are called: what is called later lies on top.
type drawing struct {
	strings.Builder
	w, h float64
	id   string // unique on the page, for ids inside
	defs strings.Builder

	shapes []Shape // the same, for those who draw it otherwise
}

// narrow says whether this is the drawing for a phone.
func (d *drawing) narrow() bool { return d.w <= narrowWidth }

// textSize and smallSize are the page's type in units of the viewBox.
func (d *drawing) textSize() float64 {
	if d.narrow() {
		return 12.5
	}
	return 13.5
}

// num writes a coordinate: one decimal is a tenth of a pixel.
func num(v float64) string {
	if !onSheet(v) {
		return "0"
	}
	s := strconv.FormatFloat(v, 'f', 1, 64)
	s = strings.TrimSuffix(s, ".0")
	if s == "-0" {
		return "0"
	}
	return s
}

func (d *drawing) line(class string, x1, y1, x2, y2 float64) {
	d.path(class, "M"+num(x1)+" "+num(y1)+"L"+num(x2)+" "+num(y2))
}

func (d *drawing) rect(class string, x, y, w, h float64, more string) {
	if w < 0 {
		x, w = x+w, -w
	}
	d.shapes = append(d.shapes, Shape{Kind: Rectangle, Class: class, X: x, Y: y, W: w, H: h, Opacity: 1})
	fmt.Fprintf(d, `<rect class="%s" x="%s" y="%s" width="%s" height="%s"%s/>`, class, num(x), num(y), num(w), num(h), more)
}

// tint draws a cell of a map: the darker, the larger the value.
func (d *drawing) tint(x, y, w, h, opacity float64) {
	// ends rounded, not widths: neighbours then meet without a seam
	tenth := func(v float64) float64 { return math.Round(v*10) / 10 }
	w, h = tenth(x+w)-tenth(x), tenth(y+h)-tenth(y)
	x, y = tenth(x), tenth(y)
	d.rect("heat", x, y, w, h, fmt.Sprintf(` fill-opacity="%.2f"`, opacity))
	d.shapes[len(d.shapes)-1].Opacity = opacity
}

func (d *drawing) text(class string, x, y float64, s string) {
	d.shapes = append(d.shapes, Shape{Kind: Words, Class: class, X: x, Y: y, Text: clean(s), Opacity: 1})
	fmt.Fprintf(d, `<text class="%s" x="%s" y="%s">%s</text>`, class, num(x), num(y), esc(s))
}

func (d *drawing) circle(class string, x, y, r float64) {
	d.shapes = append(d.shapes, Shape{Kind: Disc, Class: class, X: x, Y: y, R: r, Opacity: 1})
	fmt.Fprintf(d, `<circle class="%s" cx="%s" cy="%s" r="%s"/>`, class, num(x), num(y), num(r))
}

func (d *drawing) path(class, path string) {
	if path != "" {
		d.shapes = append(d.shapes, Shape{Kind: Outline, Class: class, Path: path, Opacity: 1})
		fmt.Fprintf(d, `<path class="%s" d="%s"/>`, class, path)
	}
}

// onSheet says whether a coordinate can be drawn at all.
func onSheet(v float64) bool { return math.Abs(v) < 1e6 }

// polyline gives the path through points; a NaN leaves a gap. Points that lie
// within a fifth of a unit of the straight line are left out: nobody can see
// them, and a page has to stay small.
func polyline(xs, ys []float64) string {
	var b strings.Builder
	for i := 0; i < len(xs); {
		if !onSheet(xs[i]) || !onSheet(ys[i]) {
			i++
			continue
		}
		j := i
		for j < len(xs) && onSheet(xs[j]) && onSheet(ys[j]) {
			j++
		}
		for k, p := range simplify(xs[i:j], ys[i:j], .12) {
			b.WriteString([]string{"L", "M"}[b2i(k == 0)])
			b.WriteString(num(xs[i+p]) + " " + num(ys[i+p]))
		}
		i = j
	}
	return b.String()
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// simplify picks the points that a line within tol of all of them needs
// (Douglas and Peucker 1973).
func simplify(xs, ys []float64, tol float64) []int {
	n := len(xs)
	if n < 3 {
		out := make([]int, n)
		for i := range out {
			out[i] = i
		}
		return out
	}
	keep := make([]bool, n)
	keep[0], keep[n-1] = true, true
	stack := [][2]int{{0, n - 1}}
	for len(stack) > 0 {
		a, b := stack[len(stack)-1][0], stack[len(stack)-1][1]
		stack = stack[:len(stack)-1]
		worst, at := tol, -1
		dx, dy := xs[b]-xs[a], ys[b]-ys[a]
		length := math.Hypot(dx, dy)
		for i := a + 1; i < b; i++ {
			off := math.Hypot(xs[i]-xs[a], ys[i]-ys[a])
			if length > 0 {
				off = math.Abs(dy*(xs[i]-xs[a])-dx*(ys[i]-ys[a])) / length
			}
			if off > worst {
				worst, at = off, i
			}
		}
		if at >= 0 {
			keep[at] = true
			stack = append(stack, [2]int{a, at}, [2]int{at, b})
		}
	}
	var out []int
	for i, k := range keep {
		if k {
			out = append(out, i)
		}
	}
	return out
}

// series is how one line or bar looks: a number from 0, or the reference.
type series int

const reference series = -1

func (s series) line() string {
	if s == reference {
		return "ln ref"
	}
	return fmt.Sprintf("ln s%d", int(s)%5+1)
}

func (s series) band() string {
	if s == reference {
		return "band inkfill"
	}
	return fmt.Sprintf("band b%d", int(s)%5+1)
}

// mark draws the series' own mark. A ring of paper keeps crossings legible.
func (d *drawing) mark(s series, x, y float64) { d.markSized(s, x, y, 5) }

func (d *drawing) markSized(s series, x, y, r float64) {
	if s == reference {
		d.circle("fref", x, y, r*.9)
		return
	}
	switch int(s) % 5 {
	case 0:
		d.circle("f1", x, y, r)
	case 1:
		e := r * 1.12
		d.path("f2", fmt.Sprintf("M%s %sl%s %sl%s %sl%s %sZ", num(x), num(y-e), num(e), num(e), num(-e), num(e), num(-e), num(-e)))
	case 2:
		d.rect("f3", x-r*.9, y-r*.9, r*1.8, r*1.8, "")
	case 3:
		e := r * 1.15
		d.path("f4", fmt.Sprintf("M%s %sL%s %sH%sZ", num(x), num(y-e), num(x+e), num(y+e*.8), num(x-e)))
	case 4:
		e := r * .85
		d.path("f5", fmt.Sprintf("M%s %sL%s %sM%s %sL%s %s", num(x-e), num(y-e), num(x+e), num(y+e), num(x-e), num(y+e), num(x+e), num(y-e)))
	}
}

// sample draws a short line with its mark: the key to a series.
func (d *drawing) sample(s series, x, y float64) {
	d.line(s.line(), x, y, x+28, y)
	d.mark(s, x+14, y)
}

// finish wraps the shapes as one image with a name and a description.
func (d *drawing) finish(class, title, desc string) string {
	defs := ""
	if d.defs.Len() > 0 {
		defs = "<defs>" + d.defs.String() + "</defs>"
	}
	return fmt.Sprintf(`<svg class="%s" viewBox="0 0 %s %s" role="img" aria-labelledby="%st %sd"><title id="%st">%s</title><desc id="%sd">%s</desc>%s%s</svg>`,
		class, num(d.w), num(d.h), d.id, d.id, d.id, esc(title), d.id, esc(desc), defs, d.String())
}

// textWidth estimates the width of a text set in the page's sans serif: the real
// one is only known to the browser, so the estimate leans to the wide side.
func textWidth(s string, size float64) float64 {
	w := 0.0
	for _, r := range s {
		switch {
		case strings.ContainsRune("iljt.,:;'|!()[]·"+thin, r):
			w += .32
		case strings.ContainsRune("mwMW%", r):
			w += .88
		case r >= 'A' && r <= 'Z':
			w += .7
		case r == ' ':
			w += .3
		default:
			w += .57
		}
	}
	return w * size
}

// cut shortens a text that would run out of its place.
func cut(s string, size, width float64) string {
	if textWidth(s, size) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 1 && textWidth(string(r)+"…", size) > width {
		r = r[:len(r)-1]
	}
	return strings.TrimSpace(string(r)) + "…"
}
