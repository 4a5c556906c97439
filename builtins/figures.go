package builtins

import (
	"fmt"
	"slices"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/stroke"
	"thole/engine/table"
)

var (
	nameParam    = lang.Param{Name: "name", Is: lang.Text, ByName: true, Help: "names the figure and its files"}
	captionParam = lang.Param{Name: "caption", Is: lang.Text, ByName: true, Help: "a sentence beneath"}
	strokesParam = &lang.Param{Name: "strokes", Is: lang.ThingOf, Types: []string{"stroke"}, Help: "one or several, labelled by their names"}
)

var plotRecord = &lang.Record{
	Name: "plot", Counts: "figure", Topic: "telling", Summary: "a figure of lines out of a table", Tells: true, Fills: true, Rest: places,
	Params: []lang.Param{
		{Name: "table", Is: lang.ThingOf, Types: []string{"table"}, Needed: true, Help: "a table, as from vary"},
		{Name: "x", Is: lang.Text, Needed: true, ByName: true, Help: "column along"},
		{Name: "y", Is: lang.Text | lang.List, Needed: true, ByName: true, Help: "column up, or several; each unit its own panel"},
		{Name: "by", Is: lang.Text, ByName: true, Help: "column that makes the lines, 5 at most"},
		{Name: "panel", Is: lang.Text, ByName: true, Help: "column that makes small multiples, a column each"},
		nameParam, captionParam},
	Gives:   "nothing",
	Errors:  []string{"a column the table does not have", "more than 5 lines"},
	Example: `plot(table([{"outboard (cm)": 198, "speed": 4.9}, {"outboard (cm)": 200, "speed": 5.0}]), x="outboard", y="speed")`,
}

var plotPath = &lang.Record{
	Name: "plot_path", Counts: "figure", Topic: "telling", Summary: "the blade's path through the water, from above", Tells: true, Fills: true, Rest: places,
	More: strokesParam,
	Params: []lang.Param{
		{Name: "perfect", Is: lang.Flag, ByName: true, Default: false, Help: "with the path of the same oar without slip"},
		{Name: "points", Is: lang.Whole, ByName: true, Default: 12, Low: 3, High: 40, Help: "moments marked, equal times apart"},
		nameParam, captionParam},
	Gives:   "nothing",
	Example: `plot_path(usual, perfect=True)`,
	Sources: []string{"model 1 and 2"},
}

var plotCurves = &lang.Record{
	Name: "plot_curves", Counts: "figure", Topic: "telling", Summary: "force, speed or slip over the stroke", Tells: true, Fills: true, Rest: places,
	More: strokesParam,
	Params: []lang.Param{
		{Name: "y", Is: lang.Text | lang.List, ByName: true, Default: "handle_force", Choices: stroke.Traces, Help: "one or several of a trace's columns"},
		{Name: "x", Is: lang.Text, ByName: true, Default: "angle", Choices: []string{"angle", "time"}, Help: "over the angle (the drive) or the time (the whole stroke)"},
		nameParam, captionParam},
	Gives:   "nothing",
	Example: `plot_curves(usual, y=["handle_force", "handle_speed"])`,
	Sources: []string{"model 6"},
}

var plotEnergy = &lang.Record{
	Name: "plot_energy", Counts: "figure", Topic: "telling", Summary: "where the work of one stroke goes", Tells: true, Fills: true, Rest: places,
	More:    strokesParam,
	Params:  []lang.Param{nameParam, captionParam},
	Gives:   "nothing",
	Example: `plot_energy(usual)`,
	Sources: []string{"model 8"},
}

var animateRecord = &lang.Record{
	Name: "animate", Counts: "figure", Topic: "telling", Summary: "the moving picture of one or two strokes", Tells: true, Fills: true, Rest: places,
	More:    strokesParam,
	Params:  []lang.Param{nameParam, captionParam},
	Gives:   "nothing",
	Example: `animate(usual)`,
}

// tellFigure finishes a figure: name, caption, the sentence made from its data.
func tellFigure(c *lang.Call, f *document.Figure, name string) error {
	var err error
	if f.Name, err = filled(c, "name"); err != nil {
		return err
	}
	if f.Caption, err = filled(c, "caption"); err != nil {
		return err
	}
	if f.Name == "" {
		f.Name = name
	}
	if f.Table != nil {
		named := *f.Table
		named.Name = f.Name
		f.Table = &named
	}
	f.Sentence = figure.Sentence(f)
	if s := session.Of(c.Thread); s != nil {
		s.Tell(f)
	}
	return nil
}

func init() {
	plotRecord.Do = plotDo
	plotPath.Do = plotPathDo
	plotCurves.Do = plotCurvesDo
	plotEnergy.Do = plotEnergyDo
	animateRecord.Do = animateDo
}

func plotDo(c *lang.Call) (starlark.Value, error) {
	t := c.Value("table").(*lang.Table).T
	f := &document.Figure{Kind: figure.Lines, Table: t, X: c.Text("x"), By: c.Text("by"), Panel: c.Text("panel")}
	var err error
	if f.Y, err = c.Texts("y"); err != nil {
		return nil, err
	}
	for _, col := range []struct{ param, name string }{{"x", f.X}, {"by", f.By}, {"panel", f.Panel}} {
		if col.name != "" {
			if _, err := column(c, t, col.param, col.name); err != nil {
				return nil, err
			}
		}
	}
	if col := t.Column(f.X); col.Kind != table.Number && t.Len() > 0 {
		return nil, c.Wrong("x", lang.Mistake("lines run over numbers; texts make lines with by=", "by="+starlark.String(f.X).String(), "column %s holds texts", f.X))
	}
	for _, name := range f.Y {
		col, err := column(c, t, "y", name)
		if err != nil {
			return nil, err
		}
		if col.Kind == table.Text && t.Len() > 0 {
			return nil, c.Wrong("y", lang.Mistake("only numbers can be drawn", `y="speed"`, "column %s holds texts", name))
		}
	}
	if n := distinct(t, f.By); n > 5 {
		return nil, c.Wrong("by", lang.Mistake("more than five lines cannot be told apart", "t.where(lambda line: line."+f.By+" in [...]), or panel="+starlark.String(f.By).String(), "%s has %d values, 5 lines at most", f.By, n))
	}
	name := f.Y[0] + " over " + f.X
	return starlark.None, tellFigure(c, f, name)
}

// column finds a column of the table, or names the nearest.
func column(c *lang.Call, t *table.Table, param, name string) (*table.Column, error) {
	col, err := t.Need(name)
	if err != nil {
		if e, ok := err.(*table.Error); ok {
			return nil, c.Wrong(param, lang.Mistake(e.Why, param+"="+starlark.String(e.Type).String(), "%s", e.What))
		}
		return nil, err
	}
	return col, nil
}

// distinct counts the values of a column.
func distinct(t *table.Table, name string) int {
	col := t.Column(name)
	if name == "" || col == nil {
		return 0
	}
	seen := map[any]bool{}
	for i := range t.Len() {
		seen[col.At(i)] = true
	}
	return len(seen)
}

// strokesOf gives the strokes of a call, each with a name of its own.
func strokesOf(c *lang.Call, most int) ([]*strokeValue, []string, error) {
	var out []*strokeValue
	var names []string
	for i, v := range c.More {
		s, ok := strokeType.From(v)
		if !ok {
			return nil, nil, lang.Mistake(c.Record.Name+" takes strokes, as row gives them", c.Record.Name+"(usual)", "value %d of %s is no stroke", i+1, c.Record.Name)
		}
		out, names = append(out, s), append(names, strokeName(s, i, len(c.More)))
	}
	if len(out) == 0 || len(out) > most {
		return nil, nil, lang.Mistake("", c.Record.Name+"(usual)", "%s takes 1 to %d strokes", c.Record.Name, most)
	}
	for i, name := range names { // the same name twice cannot label two lines
		if j := slices.Index(names, name); j < i {
			names[i] = fmt.Sprintf("%s (%d)", name, i+1)
		}
	}
	return out, names, nil
}

func strokeName(s *strokeValue, i, n int) string {
	if s.name != "" {
		return s.name
	}
	if n == 1 {
		return "stroke"
	}
	return fmt.Sprintf("stroke %d", i+1)
}

func plotEnergyDo(c *lang.Call) (starlark.Value, error) {
	strokes, names, err := strokesOf(c, 5)
	if err != nil {
		return nil, err
	}
	item, side := &table.Column{Name: "item", Kind: table.Text}, &table.Column{Name: "side", Kind: table.Text}
	t := &table.Table{Columns: []*table.Column{item, side}}
	for _, name := range names {
		t.Columns = append(t.Columns, &table.Column{Name: name, Unit: "J", Digits: 0, Change: 1, Kind: table.Number})
	}
	who := "what the crew puts in"
	if strokes[0].hull.Seats() == 1 {
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
	return starlark.None, tellFigure(c, &document.Figure{Kind: figure.Bars, Table: t}, "energy of one stroke")
}
