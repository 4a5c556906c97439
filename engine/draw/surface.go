// Package draw is the paper and the pen of every figure: a surface that takes
// lines, marks and texts and gives them back as SVG or as shapes, scales with
// round ticks, series that can be told apart without colour. Start with Surface.
// Lengths are units of the drawing's viewBox, x to the right, y downward.
//
// It knows no figure and no table: what is drawn is said in package figure.
package draw

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"

	"thole/engine/typeset"
)

// Widths of a drawing in units of its viewBox. Every figure is drawn for a wide
// and for a narrow place, because text that is scaled down cannot be read.
const (
	Wide   = 720
	Narrow = 300
	Lesson = 520 // wide, in a column of the teaching view
)

// Surface is one SVG in the making. Its methods write shapes in the order they
// are called: what is called later lies on top.
type Surface struct {
	strings.Builder
	W, H float64
	ID   string // unique on the page, for ids inside
	Defs strings.Builder

	Shapes []Shape // the same, for those who draw it otherwise
}

// Narrow says whether this is the drawing for a phone.
func (d *Surface) Narrow() bool { return d.W <= Narrow }

// TextSize and smallSize are the page's type in units of the viewBox.
func (d *Surface) TextSize() float64 {
	if d.Narrow() {
		return 12.5
	}
	return 13.5
}

// Coord writes a coordinate: one decimal is a tenth of a pixel.
func Coord(v float64) string {
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

func (d *Surface) Line(class string, x1, y1, x2, y2 float64) {
	d.Path(class, "M"+Coord(x1)+" "+Coord(y1)+"L"+Coord(x2)+" "+Coord(y2))
}

func (d *Surface) Rect(class string, x, y, w, h float64, more string) {
	if w < 0 {
		x, w = x+w, -w
	}
	d.Shapes = append(d.Shapes, Shape{Kind: Rectangle, Class: class, X: x, Y: y, W: w, H: h, Opacity: 1})
	fmt.Fprintf(d, `<rect class="%s" x="%s" y="%s" width="%s" height="%s"%s/>`, class, Coord(x), Coord(y), Coord(w), Coord(h), more)
}

// Tint draws a cell of a map: the darker, the larger the value.
func (d *Surface) Tint(x, y, w, h, opacity float64) {
	// ends rounded, not widths: neighbours then meet without a seam
	tenth := func(v float64) float64 { return math.Round(v*10) / 10 }
	w, h = tenth(x+w)-tenth(x), tenth(y+h)-tenth(y)
	x, y = tenth(x), tenth(y)
	d.Rect("heat", x, y, w, h, fmt.Sprintf(` fill-opacity="%.2f"`, opacity))
	d.Shapes[len(d.Shapes)-1].Opacity = opacity
}

func (d *Surface) Text(class string, x, y float64, s string) {
	d.Shapes = append(d.Shapes, Shape{Kind: Words, Class: class, X: x, Y: y, Text: typeset.Clean(s), Opacity: 1})
	fmt.Fprintf(d, `<text class="%s" x="%s" y="%s">%s</text>`, class, Coord(x), Coord(y), escape(s))
}

func (d *Surface) Circle(class string, x, y, r float64) {
	d.Shapes = append(d.Shapes, Shape{Kind: Disc, Class: class, X: x, Y: y, R: r, Opacity: 1})
	fmt.Fprintf(d, `<circle class="%s" cx="%s" cy="%s" r="%s"/>`, class, Coord(x), Coord(y), Coord(r))
}

func (d *Surface) Path(class, path string) {
	if path != "" {
		d.Shapes = append(d.Shapes, Shape{Kind: Outline, Class: class, Path: path, Opacity: 1})
		fmt.Fprintf(d, `<path class="%s" d="%s"/>`, class, path)
	}
}

// Finish wraps the shapes as one image with a name and a description.
func (d *Surface) Finish(class, title, desc string) string {
	defs := ""
	if d.Defs.Len() > 0 {
		defs = "<defs>" + d.Defs.String() + "</defs>"
	}
	return fmt.Sprintf(`<svg class="%s" viewBox="0 0 %s %s" role="img" aria-labelledby="%st %sd"><title id="%st">%s</title><desc id="%sd">%s</desc>%s%s</svg>`,
		class, Coord(d.W), Coord(d.H), d.ID, d.ID, d.ID, escape(title), d.ID, escape(desc), defs, d.String())
}

// escape makes any text safe between tags and inside quoted attributes. Every
// text of a drawing passes through it exactly once.
func escape(s string) string { return html.EscapeString(typeset.Clean(s)) }
