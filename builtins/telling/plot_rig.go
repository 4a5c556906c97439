package telling

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/engine/document"
	"thole/engine/figure"
)

var plotRig = &lang.Record{
	Name: "plot_rig", Counts: "figure", Topic: "telling",
	Summary: "the rig to scale, from above and from the stern", Tells: true, Fills: true, Rest: places,
	More: &lang.Param{Name: "strokes", Is: lang.ThingOf, Types: []string{"stroke"},
		Help: "one, or two: then what changes is drawn over it"},
	Params: []lang.Param{
		{Name: "seat", Is: lang.Whole, ByName: true, Default: 1, Low: 1, High: 8,
			Help: "whose seat, from bow"},
		nameParam, captionParam},
	Gives:  "nothing",
	Errors: []string{"a stroke without a rig", "a scull over a sweep oar"},
	Notes: []string{"without a height there is no view from the stern; at a terminal the dimensions " +
		"stand as a list"},
	Example: `plot_rig(rigged)`,
	Sources: []string{"model 12"},
	Also:    []string{"draw_rig", "drawing"},
}

func init() { plotRig.Do = plotRigDo }

func plotRigDo(c *lang.Call) (starlark.Value, error) {
	strokes, names, err := strokesOf(c, 2)
	if err != nil {
		return nil, err
	}
	f := &document.Figure{Kind: figure.Rig}
	for i, s := range strokes {
		seat := c.Whole("seat")
		if seat > s.Hull.Seats() {
			return nil, c.Wrong("seat", lang.Mistake("seats count from bow", "seat=1",
				"a %s has no seat %d",
				s.Hull.Boat, seat))
		}
		r, ok := s.Rigged(seat-1, names[i])
		if !ok {
			return nil, lang.Mistake("pins, stretcher and gates are drawn as the rig says",
				"rig=rig(...) in row", "%s has no rig to draw", names[i])
		}
		if i > 0 && r.Sculling != f.Rigs[0].Sculling {
			return nil, lang.Mistake("a sculler has two pins, a sweep rower one",
				"plot_rig(a), and plot_rig(b)", "sculls and sweep oars do not lie over each other")
		}
		if _, measured := s.Hull.SeatHeight(); !measured && !math.IsNaN(r.Height) {
			account.Used(c, "hull", s.Hull.Boat, "seat_over_water")
		}
		f.Rigs = append(f.Rigs, r)
	}
	f.Table = figure.RigTable(f.Rigs)
	return starlark.None, tellFigure(c, f, "the rig")
}
