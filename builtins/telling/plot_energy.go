package telling

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/stroke"
	"thole/engine/table"
)

var plotEnergy = &lang.Record{
	Name: "plot_energy", Counts: "figure", Topic: "telling", Summary: "where the work of one stroke goes",
	Tells: true, Fills: true, Rest: places,
	More:    strokesParam,
	Params:  []lang.Param{nameParam, captionParam},
	Gives:   "nothing",
	Example: `plot_energy(usual)`,
	Sources: []string{"model 8"},
}

func plotEnergyDo(c *lang.Call) (starlark.Value, error) {
	strokes, names, err := strokesOf(c, 5)
	if err != nil {
		return nil, err
	}
	item, side := &table.Column{Name: "item", Kind: table.Text}, &table.Column{Name: "side", Kind: table.Text}
	t := &table.Table{Columns: []*table.Column{item, side}}
	for _, name := range names {
		t.Columns = append(t.Columns, &table.Column{Name: name, Unit: "J", Digits: 0, Change: 1,
			Kind: table.Number})
	}
	who := "what the crew puts in"
	if strokes[0].Hull.Seats() == 1 {
		who = "what the rower puts in"
	}
	for _, f := range stroke.EnergyFields {
		any := false
		for _, s := range strokes {
			any = any || f.Of(&s.Energy) != 0
		}
		if !any { // no shaft bends
			continue
		}
		item.Texts = append(item.Texts, f.Help)
		side.Texts = append(side.Texts, map[bool]string{true: who, false: "where it goes"}[f.In])
		for i, s := range strokes {
			t.Columns[2+i].Nums = append(t.Columns[2+i].Nums, f.Of(&s.Energy))
		}
	}
	f := &document.Figure{Kind: figure.Bars, Table: t, Held: rowing.HeldAlike(strokes...)}
	return starlark.None, tellFigure(c, f, "energy of one stroke")
}
