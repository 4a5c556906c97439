package report

import (
	"fmt"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/figure"
)

// Draw draws a figure for a place as wide as a sheet of paper. A figure with
// several drawings (a path and its plan) gives them all, in order. A figure with
// nothing to draw is an error that says why.
func Draw(f *document.Figure) ([]*draw.Picture, error) {
	with := draws[f.Kind]
	if with == nil {
		return nil, fmt.Errorf("a figure of kind %q is drawn on a page only", f.Kind)
	}
	if why := emptiness(f); why != "" {
		return nil, fmt.Errorf("no figure %q: %s", figureTitle(f), why)
	}
	type part struct {
		with  func(*document.Figure, *draw.Surface)
		f     *document.Figure
		title string
	}
	var parts []part
	for _, q := range partsOf(f) {
		parts = append(parts, part{with, q, figureTitle(q)})
	}
	if f.Kind == figure.Paths {
		parts = append(parts, part{drawPlan, f, planTitle})
	}
	var out []*draw.Picture
	for _, q := range parts {
		d := &draw.Surface{W: draw.Wide, ID: "g"}
		q.with(q.f, d)
		out = append(out, &draw.Picture{Width: d.W, Height: d.H, Title: q.title, Description: describe(q.f), Shapes: d.Shapes})
	}
	return out, nil
}

const planTitle = "The drive from above"
