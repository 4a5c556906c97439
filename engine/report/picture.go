package report

import "fmt"

// Picture is a figure as shapes on a plane, x to the right and y downward, for
// whoever draws it elsewhere than on a page. It is the very drawing of the page,
// so that both show the same.
type Picture struct {
	Width, Height float64
	Title         string // names it
	Description   string // in words, made from the data
	Shapes        []Shape
}

// ShapeKind says which fields of a shape are in use.
type ShapeKind uint8

const (
	Outline   ShapeKind = iota // Path, in SVG's letters M L H V Z l
	Rectangle                  // X, Y, W, H
	Disc                       // X, Y, R
	Words                      // X, Y on the base line, Text
)

// Shape is one stroke of the pen. Class holds the roles it plays, apart by
// blanks, as the page's style names them: "ln s1" a line of series 1, "hair" a
// rule of the grid, "mid" a text centred on its place.
type Shape struct {
	Kind       ShapeKind
	Class      string
	X, Y, W, H float64
	R          float64
	Path       string
	Text       string
	Opacity    float64
}

// Draw draws a figure for a place as wide as a sheet of paper. A figure with
// several drawings (a path and its plan) gives them all, in order. A figure with
// nothing to draw is an error that says why.
func Draw(f *Figure) ([]*Picture, error) {
	draw := draws[f.Kind]
	if draw == nil {
		return nil, fmt.Errorf("a figure of kind %q is drawn on a page only", f.Kind)
	}
	if why := emptiness(f); why != "" {
		return nil, fmt.Errorf("no figure %q: %s", figureTitle(f), why)
	}
	type part struct {
		draw  func(*Figure, *drawing)
		f     *Figure
		title string
	}
	var parts []part
	for _, q := range partsOf(f) {
		parts = append(parts, part{draw, q, figureTitle(q)})
	}
	if f.Kind == Paths {
		parts = append(parts, part{drawPlan, f, planTitle})
	}
	var out []*Picture
	for _, q := range parts {
		d := &drawing{w: wideWidth, id: "g"}
		q.draw(q.f, d)
		out = append(out, &Picture{Width: d.w, Height: d.h, Title: q.title, Description: describe(q.f), Shapes: d.shapes})
	}
	return out, nil
}

const planTitle = "The drive from above"
