package report

import (
	"fmt"
	"html/template"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/figure"
)

// figureView is what the fragment of a figure shows.
type figureView struct {
	ID       string // of one that moves
	Number   int
	Body     template.HTML // of one that moves
	Drawings []drawn
	Turns    bool // from one drawing to the other
	Table    template.HTML
	Caption  string
}

// drawn is one drawing of a figure, for wide and for narrow places, and what stands still
// in it where a key turns from one to the next.
type drawn struct {
	Stays  string
	Widths []template.HTML
}

// figure writes one figure: its drawings for wide and narrow places or what its
// script moves, its table folded, its caption.
func (p *page) figure(f *document.Figure) template.HTML {
	if why := figure.Empty(f); why != "" {
		return fill("no figure", struct{ Title, Why string }{figure.Title(f), why})
	}
	p.figures++
	view := figureView{Number: p.figures, Caption: figure.Caption(f)}
	if live := figure.Of(f).Live; live != nil {
		view.ID = fmt.Sprint(live.Key[:1], len(p.live[live.Key]))
		body, data := live.Body(f, view.ID, p.lesson, p.id)
		view.Body = body
		p.live[live.Key] = append(p.live[live.Key], data)
	}
	for _, part := range figure.Drawings(f) {
		view.Drawings = append(view.Drawings, drawn{part.Stays, p.twice(part)})
		view.Turns = view.Turns || part.Stays == "boat"
	}
	p.turns = p.turns || view.Turns
	if t := figure.Behind(f); t != nil {
		view.Table = p.dataTable(t, fmt.Sprintf("Figure %d as a table", p.figures), captionView{}, "")
	}
	return fill("figure", view)
}

// twice draws a drawing for wide and for narrow places.
func (p *page) twice(part figure.Drawing) (out []template.HTML) {
	for _, place := range p.places() {
		d := &draw.Surface{W: place.width, ID: p.id("g")}
		part.Draw(d)
		out = append(out, d.Finish(place.class, part.Title, part.Description))
	}
	return out
}

type place struct {
	class string
	width float64
}

func (p *page) places() []place {
	if p.lesson {
		return []place{{"lesson", draw.Lesson}}
	}
	return []place{{"wide", draw.Wide}, {"narrow", draw.Narrow}}
}
