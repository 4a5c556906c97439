// Package chart makes pictures of figures for other documents: SVG and PNG, one
// look for print and projector. It is the only importer of gonum plot, whose
// canvases it draws on; what is drawn is the page's own drawing (package
// figure), so that a figure in a letter shows what the page shows. Start with
// Write.
package chart

import (
	"bytes"
	"fmt"
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/figure"
)

// Format is a kind of picture file. PDF and EPS are left out: their bytes differ
// between runs.
type Format string

const (
	SVG Format = "svg"
	PNG Format = "png"
)

const (
	unit   = vg.Length(18*72/2.54) / 720 // of the page's drawing: 720 make 18 cm
	margin = 12.                         // units of white about the drawing
	dpi    = 220                         // 1600 points across: sharp on a projector
)

// Write draws a figure as a file of that format, 18 cm wide, black on white.
// Equal figures give equal bytes. A figure with nothing to draw gives a picture
// that says so, because a missing file would look like a mistake of the run.
func Write(f *document.Figure, format Format) ([]byte, error) {
	pictures, err := figure.Pictures(f)
	if err != nil {
		pictures = []*draw.Picture{saying(err.Error())}
	}
	height := 2 * margin
	for _, p := range pictures {
		height += p.Height + gap
	}
	height -= gap
	w, h := vg.Length(720+2*margin)*unit, vg.Length(height)*unit

	var canvas vg.CanvasWriterTo
	switch format {
	case SVG:
		canvas = vgsvg.New(w, h)
	case PNG:
		canvas = vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(w, h), vgimg.UseDPI(dpi),
			vgimg.UseBackgroundColor(color.White))}
	default:
		return nil, fmt.Errorf("no picture files of format %q: svg or png", format)
	}
	pen := &pen{Canvas: canvas, height: height}
	pen.box(0, 0, 720+2*margin, height)
	pen.fill(color.White)
	top := margin
	for _, p := range pictures {
		pen.left, pen.top = margin, top
		for _, s := range p.Shapes {
			pen.draw(s)
		}
		top += p.Height + gap
	}
	var out bytes.Buffer
	if _, err := canvas.WriteTo(&out); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

const gap = 24. // units between two drawings of one figure

// saying is a picture of one sentence.
func saying(s string) *draw.Picture {
	return &draw.Picture{Width: 720, Height: 40, Shapes: []draw.Shape{{Kind: draw.Words, Class: "", X: 0,
		Y: 24, Text: s, Opacity: 1}}}
}
