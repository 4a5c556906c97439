// Package draw is the paper and the pen of every figure: a surface that takes
// lines, marks and texts and gives them back as SVG or as shapes, scales with
// round ticks, series that can be told apart without colour. Start with Surface.
// Lengths are units of the drawing's viewBox, x to the right, y downward.
//
// It knows no figure and no table: what is drawn is said in package figure.
package draw

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"thole/engine/typeset"
)

// Widths of a drawing in units of its viewBox. Every figure is drawn for a wide
// and for a narrow place, because text that is scaled down cannot be read.
const (
	Wide   = 720
	Narrow = 300
	Lesson = 272 // half a projector's screen: words in it are read from the last row
)

// Surface is one drawing in the making. Its methods add shapes in the order they
// are called: what is called later lies on top. A drawing function sets H.
type Surface struct {
	W, H float64
	ID   string // unique on the page, for ids inside

	Shapes []Shape // so far, for those who draw them otherwise than as SVG

	svg, defs strings.Builder
	id        string // of the next shape, for a script that moves it
	hidden    bool   // the next shape is hidden at first
}

// Narrow says whether this is the drawing for a phone.
func (d *Surface) Narrow() bool { return d.W <= Narrow }

// Projected says whether this is the drawing for a projector's screen, at most as high as wide.
func (d *Surface) Projected() bool { return d.W == Lesson }

// TextSize is the size of plain text in units of the viewBox.
func (d *Surface) TextSize() float64 {
	if d.Narrow() {
		return 12.5
	}
	return 13.5
}

// Named gives the next shape an id, made of the drawing's own and what is given.
func (d *Surface) Named(more any) *Surface {
	d.id = fmt.Sprint(d.ID, more)
	return d
}

// Hidden hides the next shape until a script shows it.
func (d *Surface) Hidden(is bool) *Surface {
	d.hidden = is
	return d
}

// Group puts what is drawn meanwhile into a group with an id.
func (d *Surface) Group(more string, draw func()) {
	fmt.Fprintf(&d.svg, `<g id="%s">`, escape(d.ID+more))
	draw()
	d.svg.WriteString("</g>")
}

// About groups what measures something, which it names for whoever reads the drawing.
func (d *Surface) About(what string, draw func()) {
	fmt.Fprintf(&d.svg, `<g data-of="%s">`, escape(what))
	draw()
	d.svg.WriteString("</g>")
}

// shape adds a shape: for others as data, and as an SVG element whose geometry
// is numbers, written here, never text from data.
func (d *Surface) shape(s Shape, element, geometry, inside string) {
	d.Shapes = append(d.Shapes, s)
	fmt.Fprintf(&d.svg, `<%s class="%s"`, element, s.Class)
	if d.id != "" {
		fmt.Fprintf(&d.svg, ` id="%s"`, escape(d.id))
	}
	d.svg.WriteString(geometry)
	if d.hidden {
		d.svg.WriteString(` visibility="hidden"`)
	}
	d.id, d.hidden = "", false
	if inside == "" && element != "text" {
		d.svg.WriteString("/>")
		return
	}
	d.svg.WriteString(">" + inside + "</" + element + ">")
}

// Line draws a straight line.
func (d *Surface) Line(class string, x1, y1, x2, y2 float64) {
	d.Path(class, Pathf("M%s %sL%s %s", x1, y1, x2, y2))
}

// Rect draws a rectangle; a negative width reaches to the left.
func (d *Surface) Rect(class string, x, y, w, h float64) { d.rect(class, x, y, w, h, 1, "") }

func (d *Surface) rect(class string, x, y, w, h, opacity float64, more string) {
	if w < 0 {
		x, w = x+w, -w
	}
	d.shape(Shape{Kind: Rectangle, Class: class, X: x, Y: y, W: w, H: h, Opacity: opacity},
		"rect", Pathf(` x="%s" y="%s" width="%s" height="%s"`, x, y, w, h)+more, "")
}

// Tint draws a cell of a map: the darker, the larger the value.
func (d *Surface) Tint(x, y, w, h, opacity float64) {
	// ends rounded, not widths: neighbours then meet without a seam
	tenth := func(v float64) float64 { return math.Round(v*10) / 10 }
	w, h = tenth(x+w)-tenth(x), tenth(y+h)-tenth(y)
	d.rect("heat", tenth(x), tenth(y), w, h, opacity, fmt.Sprintf(` fill-opacity="%.2f"`, opacity))
}

// Text sets a text on its base line.
func (d *Surface) Text(class string, x, y float64, s string) {
	d.shape(Shape{Kind: Words, Class: class, X: x, Y: y, Text: typeset.Clean(s), Opacity: 1},
		"text", Pathf(` x="%s" y="%s"`, x, y), escape(s))
}

// Circle draws a disc. One whose x is NaN has no place yet: a script gives it one.
func (d *Surface) Circle(class string, x, y, r float64) {
	place := ""
	if !math.IsNaN(x) {
		place = Pathf(` cx="%s" cy="%s"`, x, y)
	}
	d.shape(Shape{Kind: Disc, Class: class, X: x, Y: y, R: r, Opacity: 1}, "circle",
		place+Pathf(` r="%s"`, r), "")
}

// Path draws an outline in SVG's letters, as Pathf and Polyline write it. An
// empty one is left out, unless it has an id: then a script will draw it.
func (d *Surface) Path(class, path string) {
	geometry := ""
	switch {
	case path != "":
		geometry = ` d="` + path + `"`
	case d.id == "":
		return
	}
	d.shape(Shape{Kind: Outline, Class: class, Path: path, Opacity: 1}, "path", geometry, "")
}

// Inside is what was drawn so far, to stand within an svg element.
func (d *Surface) Inside() template.HTML {
	defs := ""
	if d.defs.Len() > 0 {
		defs = "<defs>" + d.defs.String() + "</defs>"
	}
	return template.HTML(defs + d.svg.String()) // every text in it passed through escape
}

// Finish gives the drawing as one image with a name and a description.
func (d *Surface) Finish(class, title, desc string) template.HTML {
	id := escape(d.ID)
	return template.HTML(`<svg class="`+escape(class)+Pathf(`" viewBox="0 0 %s %s" role="img"`, d.W, d.H)+
		` aria-labelledby="`+id+`t `+id+`d"><title id="`+id+`t">`+escape(title)+
		`</title><desc id="`+id+`d">`+escape(desc)+`</desc>`) +
		d.Inside() + "</svg>"
}

// escape makes any text safe between tags and inside quoted attributes. Every
// text of a drawing passes through it exactly once; nothing else of a page does,
// because templates escape their own.
func escape(s string) string { return template.HTMLEscapeString(typeset.Clean(s)) }
