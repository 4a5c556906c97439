package telling

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
)

func plotCurvesDo(c *lang.Call) (starlark.Value, error) {
	strokes, names, err := strokesOf(c, 5)
	if err != nil {
		return nil, err
	}
	x := c.Text("x")
	f := &document.Figure{Kind: figure.Curves, X: x, By: "case"}
	if f.Y, err = c.Texts("y"); err != nil {
		return nil, err
	}
	for _, y := range f.Y {
		if !slices.Contains(rowing.Traces, y) {
			near := cmp.Or(table.Nearest(y, rowing.Traces), "handle_force")
			return nil, c.Wrong("y", lang.Mistake("curves are drawn of "+strings.Join(rowing.Traces[2:],
				", "), "y="+starlark.String(near).String(), "a stroke has no curve %q", y))
		}
	}
	for i, s := range strokes {
		var at []float64
		if x == "angle" {
			at = anglesOf(s)
		}
		t, err := s.TraceOf(at, append([]string{x}, f.Y...)...)
		if err != nil {
			return nil, err
		}
		f.Table = stacked(f.Table, t, names[i])
		if s.Perfect() {
			f.References = append(f.References, names[i])
		}
	}
	if x == "angle" {
		f.Guides = []document.Guide{{Axis: "x", At: 0, Label: "square"}}
	}
	name := f.Y[0] + " over the " + map[string]string{"angle": "arc", "time": "stroke"}[x]
	f.Held = rowing.HeldAlike(strokes...)
	return starlark.None, tellFigure(c, f, name)
}

// anglesOf are the oar angles, deg, at which a curve is sampled: every half
// degree near the catch, where the pull begins within a few, else every degree.
func anglesOf(s *rowing.Stroke) []float64 {
	catch, finish := -s.Of("catch"), s.Of("finish")
	at := []float64{catch}
	for a := math.Floor(2*catch)/2 + 0.5; a < finish-1e-6; {
		at = append(at, a)
		if a < catch+10 {
			a += 0.5
		} else {
			a = math.Floor(a) + 1
		}
	}
	return append(at, finish)
}

// stacked puts a table beneath another of the same columns, with the name of
// what it shows in a column "case".
func stacked(above, t *table.Table, name string) *table.Table {
	if above == nil {
		above = &table.Table{Columns: []*table.Column{{Name: "case", Kind: table.Text}}}
		for _, c := range t.Columns {
			copied := *c
			copied.Nums = nil
			above.Columns = append(above.Columns, &copied)
		}
	}
	for range t.Len() {
		above.Columns[0].Texts = append(above.Columns[0].Texts, name)
	}
	for i, c := range t.Columns {
		above.Columns[i+1].Nums = append(above.Columns[i+1].Nums, c.Nums...)
	}
	return above
}

var plotCurves = &lang.Record{
	Name: "plot_curves", Counts: "figure", Topic: "telling", Summary: "force, speed or slip over the stroke",
	Tells: true, Fills: true, Rest: places,
	More: strokesParam,
	Params: []lang.Param{
		{Name: "y", Is: lang.Text | lang.List, ByName: true, Default: "handle_force", Choices: rowing.Traces,
			Help: "one or several of a trace's columns"},
		{Name: "x", Is: lang.Text, ByName: true, Default: "angle", Choices: []string{"angle", "time"},
			Help: "over the angle (the drive) or the time (the whole stroke)"},
		nameParam, captionParam},
	Gives:   "nothing",
	Example: `plot_curves(usual, y=["handle_force", "handle_speed"])`,
	Sources: []string{"model 6"},
}
