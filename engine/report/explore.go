package report

import (
	"fmt"
	"html/template"
	"strings"

	"thole/engine/document"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// exploreView is what the fragment of the sliders shows: the sliders, what
// follows them in figures and in a sentence, and a drawing. Without scripts it
// is the base case and a table.
type exploreView struct {
	ID, Base string // Base is the state that the sliders begin with, in words
	Sliders  []sliderView
	Outs     []outView
	Says     string
	Drawn    int // field drawn first
	Drawings []template.HTML
	Number   int    // of the figure
	Fixed    string // what the table holds fixed
	Table    template.HTML
	Caption  string
}

// sliderView is one slider. Named is its label with its unit; a slider of numbers
// has a box to type in.
type sliderView struct {
	ID, Label, Named, Unit, Value string
	Last, Base                    int
	Numbers                       bool
}

// outView is one value that follows the sliders.
type outView struct {
	Label, Name, Value, Unit string
	Degrees                  bool
}

// explore writes sliders over computed states, with what follows them.
func (p *page) explore(e *document.Explore) template.HTML {
	if why := exploreFault(e); why != "" {
		return fill("no sliders", why)
	}
	id := fmt.Sprint("e", len(p.live["explores"]))
	data := exploreDataOf(e, id)
	p.figures++
	view := exploreView{ID: id, Base: placeWords(data, e.Base), Says: stateWords(e, e.Base, data),
		Drawn:  data.Drawn,
		Number: p.figures, Fixed: sliceWords(e), Caption: exploreCaption(e)}
	for i, a := range data.Axes {
		s := sliderView{ID: fmt.Sprintf("%sa%d", id, i), Label: a.Label, Named: typeset.Head(a.Label, a.Unit),
			Unit:  a.Unit,
			Value: a.Shown[e.Base[i]], Last: len(a.Shown) - 1, Base: e.Base[i], Numbers: a.Nums != nil}
		if s.Numbers {
			s.Value = table.Fixed(a.Nums[e.Base[i]], table.AutoDigits)
		}
		view.Sliders = append(view.Sliders, s)
	}
	for k, f := range data.Fields {
		view.Outs = append(view.Outs, outView{Label: f.Label, Name: words.Capital(f.Label),
			Value: fieldText(e, e.Index(e.Base), k, data),
			Unit:  fieldUnit(f), Degrees: f.Unit == "deg"})
	}
	for k, place := range p.places() {
		drawing, plot := fan(e, data, fmt.Sprintf("%sp%d", id, k), place)
		view.Drawings, data.Plots = append(view.Drawings, drawing), append(data.Plots, plot)
	}
	view.Table = p.dataTable(sliceOf(e), fmt.Sprintf("Figure %d as a table", p.figures), captionView{}, "")
	p.live["explores"] = append(p.live["explores"], data)
	return fill("explore", view)
}

// exploreFault says why there are no sliders, or "".
func exploreFault(e *document.Explore) string {
	switch n := e.Size(); {
	case len(e.Axes) == 0 || len(e.Fields) == 0 || n == 0:
		return "there is nothing to explore"
	case len(e.States) != n || len(e.Base) != len(e.Axes):
		return fmt.Sprintf("the grid has %d states and %d were computed", n, len(e.States))
	}
	return ""
}

func exploreCaption(e *document.Explore) string {
	s := "Every point is a computed stroke; nothing lies between them."
	if len(e.Axes) > 1 {
		s = "One line for each " + words.Spaced(e.Axes[1].Name) + ", the chosen one strong. " + s
	}
	return s
}

// placeWords says where the sliders stand.
func placeWords(d exploreData, at []int) string {
	var where []string
	for i, a := range d.Axes {
		where = append(where, words.Spaced(a.Name)+" "+a.Shown[at[i]]+typeset.UnitAfter(a.Unit))
	}
	return strings.Join(where, ", ")
}
