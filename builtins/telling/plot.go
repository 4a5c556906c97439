package telling

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
)

var plotRecord = &lang.Record{
	Name: "plot", Counts: "figure", Topic: "telling", Summary: "a figure of lines out of a table",
	Tells: true, Fills: true, Rest: places,
	Params: []lang.Param{
		{Name: "table", Is: lang.ThingOf, Types: []string{"table"}, Needed: true,
			Help: "a table, as from vary"},
		{Name: "x", Is: lang.Text, Needed: true, ByName: true, Help: "column along"},
		{Name: "y", Is: lang.Text | lang.List, Needed: true, ByName: true,
			Help: "column up, or several; each unit its own panel"},
		{Name: "by", Is: lang.Text, ByName: true, Help: "column that makes the lines, 5 at most"},
		{Name: "panel", Is: lang.Text, ByName: true,
			Help: "column that makes small multiples, a column each"},
		nameParam, captionParam},
	Gives:  "nothing",
	Errors: []string{"a column the table does not have", "more than 5 lines"},
	Example: `plot(table([{"outboard (cm)": 198, "speed": 4.9}, {"outboard (cm)": 200, "speed": 5.0}]), ` +
		`x="outboard", y="speed")`,
}

func plotDo(c *lang.Call) (starlark.Value, error) {
	t := c.Value("table").(*lang.Table).T
	f := &document.Figure{Kind: figure.Lines, Table: t, Held: t.Held, X: c.Text("x"), By: c.Text("by"),
		Panel: c.Text("panel")}
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
		return nil, c.Wrong("x", lang.Mistake("lines run over numbers; texts make lines with by=",
			"by="+starlark.String(f.X).String(), "column %s holds texts", f.X))
	}
	for _, name := range f.Y {
		col, err := column(c, t, "y", name)
		if err != nil {
			return nil, err
		}
		if col.Kind == table.Text && t.Len() > 0 {
			return nil, c.Wrong("y", lang.Mistake("only numbers can be drawn", `y="speed"`,
				"column %s holds texts", name))
		}
	}
	if n := distinct(t, f.By); n > 5 {
		return nil, c.Wrong("by", lang.Mistake("more than five lines cannot be told apart",
			"t.where(lambda line: line."+f.By+" in [...]), or panel="+starlark.String(f.By).String(),
			"%s has %d values, 5 lines at most", f.By, n))
	}
	name := f.Y[0] + " over " + f.X
	return starlark.None, tellFigure(c, f, name)
}

// column finds a column of the table, or names the nearest.
func column(c *lang.Call, t *table.Table, param, name string) (*table.Column, error) {
	col, err := t.Need(name)
	if err != nil {
		if e, ok := err.(*table.Error); ok {
			return nil, c.Wrong(param, lang.Mistake(e.Why, param+"="+starlark.String(e.Type).String(), "%s",
				e.What))
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
