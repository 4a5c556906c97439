package lang

import (
	"fmt"

	"go.starlark.net/starlark"

	"thole/engine/table"
)

// TableRecord is the function table.
var TableRecord = &Record{
	Name: "table", Summary: "a table out of lines", Says: "it makes a table out of lines", Makes: "tables",
	Topic: "things",
	Params: []Param{
		{Name: "lines", Is: List, Needed: true, Help: `a list of dicts, {"name (unit)": value}, one a line`},
	},
	Gives: `t["speed"] the values, t[0] a line, for line in t, len(t), .names .units .where() .one() ` +
		`.sort() .only() .rename() .add() .join() .per() .highest() .lowest() .complete() .with_line()`,
	Example: `table([{"crew": "Otters", "mass (kg)": 78}, {"crew": "Herons", "mass (kg)": 71}])`,
	Do: func(c *Call) (starlark.Value, error) {
		return makeTable(c)
	},
}

// makeTable lays dicts out as lines; a name that a line does not have is blank.
func makeTable(c *Call) (starlark.Value, error) {
	lines := c.Items("lines")
	if err := HostOf(c.Thread).Check("table", len(lines)); err != nil {
		return nil, err
	}
	var headings []string
	place := map[string]int{}
	var dicts [][]starlark.Tuple
	for i, v := range lines {
		d, ok := v.(starlark.IterableMapping)
		if !ok {
			return nil, c.Wrong("lines", Mistake("each line is a dict: names with their values",
				`table([{"crew": "Otters", "mass (kg)": 78}])`, "line %d is no dict, but %s", i, KindOf(v)))
		}
		items := d.Items()
		for _, kv := range items {
			name, ok := starlark.AsString(kv[0])
			if !ok {
				return nil, c.Wrong("lines", Mistake("a column has a name", `"`+kv[0].String()+`"`,
					"the name %s is no text", Briefly(kv[0])))
			}
			if _, seen := place[name]; !seen {
				place[name] = len(headings)
				headings = append(headings, name)
			}
		}
		dicts = append(dicts, items)
	}
	columns := make([][]any, len(headings))
	for k := range columns {
		columns[k] = make([]any, len(dicts))
	}
	for i, items := range dicts {
		for _, kv := range items {
			name, _ := starlark.AsString(kv[0])
			cell, ok := Cell(kv[1])
			if !ok {
				return nil, c.Wrong("lines", noCell(name, kv[1]))
			}
			columns[place[name]][i] = cell
		}
	}
	t := &table.Table{}
	for k, h := range headings {
		col, err := table.ColumnOf(heading(c.Thread, h, columns[k]), columns[k])
		if err != nil {
			return nil, err
		}
		next, err := t.With(col)
		if err != nil {
			return nil, err
		}
		if len(next.Columns) == len(t.Columns) {
			return nil, c.Wrong("lines", Mistake("a column's name stands once", h+" 2",
				"two columns would be called %q", col.Name))
		}
		t = next
	}
	return NewTable(t), nil
}

func self(c *Call) *Table { return c.Receiver.(*Table) }

// callOne calls a function of the study with one value.
func callOne(c *Call, fn starlark.Value, v starlark.Value) (starlark.Value, error) {
	return starlark.Call(c.Thread, fn, starlark.Tuple{v}, nil)
}

// wanted turns names into conditions.
func wanted(c *Call) ([]table.Wanted, error) {
	var w []table.Wanted
	for _, n := range c.Rest {
		cell, ok := Cell(n.Value)
		if !ok {
			return nil, c.Wrong(n.Name, noCell(n.Name, n.Value))
		}
		w = append(w, table.Wanted{Name: n.Name, Value: cell})
	}
	return w, nil
}

// texts makes Go texts of the values without a name.
func texts(c *Call) ([]string, error) {
	var names []string
	for _, v := range c.More {
		s, ok := starlark.AsString(v)
		if !ok {
			return nil, Mistake("columns are named by texts", fmt.Sprintf(".%s(%q)", c.Record.Name, "speed"),
				"%s is no column's name", Briefly(v))
		}
		names = append(names, s)
	}
	return names, nil
}

func result(of *Table, t *table.Table, err error) (starlark.Value, error) {
	if err != nil {
		return nil, err
	}
	return of.with(t), nil
}

var tableMethods []*Record

func init() {
	columns := &Param{Name: "names", Is: Text, Help: "columns"}
	column := []Param{{Name: "name", Is: Text, Needed: true, Help: "a column of numbers"}}
	conditions := &Param{Name: "names", Help: "columns and the values they must have"}
	tableMethods = []*Record{
		{Name: "where", Summary: "the lines for which a function says True, or with these values",
			Params: []Param{{Name: "fn", Is: Func, Help: "a function of a line"}}, Rest: conditions,
			Gives:   "a table",
			Example: `t.where(lambda line: line.speed > 5)`, Do: doWhere},
		{Name: "one", Summary: "the only line with these values", Rest: conditions, Gives: "a line",
			Errors: []string{"no such line, or more than one"}, Example: `t.one(crew="Otters")`, Do: doOne},
		{Name: "sort", Summary: "the lines in order of these columns, blanks last", More: columns,
			Params: []Param{{Name: "falling", Is: Flag, Default: false, ByName: true,
				Help: "highest first"}},
			Gives:   "a table",
			Example: `t.sort("speed", falling=True)`, Do: func(c *Call) (starlark.Value, error) {
				names, err := texts(c)
				if err != nil {
					return nil, err
				}
				t, err := self(c).T.Sort(c.Flag("falling"), names...)
				return result(self(c), t, err)
			}},
		{Name: "only", Summary: "these columns, in this order", More: columns, Gives: "a table",
			Example: `t.only("outboard", "speed")`, Do: func(c *Call) (starlark.Value, error) {
				names, err := texts(c)
				if err != nil {
					return nil, err
				}
				t, err := self(c).T.Only(names...)
				return result(self(c), t, err)
			}},
		{Name: "rename", Summary: "columns under other names", Rest: &Param{Name: "names", Is: Text,
			Help: `old="new"`}, Gives: "a table",
			Example: `t.rename(set="set_last_year")`, Do: doRename},
		{Name: "add", Summary: "further columns, each from a function of the line",
			Params:  []Param{{Name: "columns", Is: Dict, Needed: true, Help: `{"gain (s)": fn(line)}`}},
			Gives:   "a table",
			Example: `t.add({"pace (s/500 m)": lambda line: 500 / line.speed})`, Do: doAdd},
		{Name: "join", Summary: "the columns of another table beside these, line by line where a column " +
			"is the same",
			Params: []Param{{Name: "other", Is: ThingOf, Types: []string{"table"}, Needed: true,
				Help: "the other table"},
				{Name: "on", Is: Text, Needed: true, Help: "the column both have"}},
			Gives:  "a table, blank where the other has no such line",
			Errors: []string{"the other table has two such lines"}, Example: `t.join(other, on="crew")`,
			Do: func(c *Call) (starlark.Value, error) {
				t, err := self(c).T.Join(c.Value("other").(*Table).T, c.Text("on"))
				return result(self(c), t, err)
			}},
		{Name: "per", Summary: "a line for each group of lines that are alike in these columns",
			Params: []Param{{Name: "names", Is: Text | List, Needed: true,
				Help: "a column, or a list of them"},
				{Name: "columns", Is: Dict, Needed: true, Help: `{"best (cm)": fn(table)}`}},
			Gives:   "a table",
			Example: `t.per("area", {"most (m/s)": lambda g: g.highest("speed").speed})`, Do: doPer},
		{Name: "highest", Summary: "the line with the highest value of a column, blanks passed over",
			Params: column, Gives: "a line",
			Example: `t.highest("speed")`, Do: func(c *Call) (starlark.Value, error) {
				return doExtreme(c, self(c).T.Highest)
			}},
		{Name: "lowest", Summary: "the line with the lowest value of a column, blanks passed over",
			Params: column, Gives: "a line",
			Example: `t.lowest("heaviness")`, Do: func(c *Call) (starlark.Value, error) {
				return doExtreme(c, self(c).T.Lowest)
			}},
		{Name: "with_line", Summary: "the table with a line more beneath: what if there were another",
			Params: []Param{{Name: "like", Is: ThingOf, Types: []string{"line"}, ByName: true,
				Help: "a line, for what is not given; without it that is blank"}},
			Rest:    &Param{Name: "names", Help: "columns and their values, in the columns' units"},
			Gives:   "a table",
			Errors:  []string{"a column that the table does not have"},
			Example: `t.with_line(like=t[0], speed=5.1)`, Do: doWithLine},
		{Name: "complete", Summary: "the lines without blanks", Gives: "a table",
			Example: `t.complete()`, Do: func(c *Call) (starlark.Value, error) {
				return self(c).with(self(c).T.Complete()), nil
			}},
	}
	for _, m := range tableMethods {
		m.Of, m.Topic = "table", "things"
	}
}

func doWhere(c *Call) (starlark.Value, error) {
	t := self(c)
	w, err := wanted(c)
	if err != nil {
		return nil, err
	}
	kept := t.T
	if len(w) > 0 {
		if kept, err = t.T.WhereIs(w...); err != nil {
			return nil, pointAt(err, w)
		}
	}
	fn := c.Func("fn")
	if fn == nil {
		if len(w) == 0 {
			return nil, Mistake("where keeps lines by a function or by values",
				`t.where(lambda line: line.speed > 5), or t.where(crew="Otters")`,
				"where keeps lines by what?")
		}
		return t.with(kept), nil
	}
	of := t.with(kept)
	kept, err = kept.Where(func(i int) (bool, error) {
		v, err := callOne(c, fn, of.Line(i))
		if err != nil {
			return false, err
		}
		return bool(v.Truth()), nil
	})
	return result(t, kept, err)
}

// pointAt points an error about a column at the name it was asked by.
func pointAt(err error, w []table.Wanted) error {
	te, ok := err.(*table.Error)
	if !ok || len(w) == 0 {
		return err
	}
	e := Mistake(te.Why, te.Type, "%s", te.What)
	e.Arg, e.Part = w[0].Name, AtBoth
	return e
}

func doOne(c *Call) (starlark.Value, error) {
	w, err := wanted(c)
	if err != nil {
		return nil, err
	}
	if len(w) == 0 {
		return nil, Mistake("one finds a line by its values", `t.one(crew="Otters")`,
			"one finds the line of what?")
	}
	i, err := self(c).T.One(w...)
	if err != nil {
		return nil, pointAt(err, w)
	}
	return self(c).Line(i), nil
}

func doWithLine(c *Call) (starlark.Value, error) {
	w, err := wanted(c)
	if err != nil {
		return nil, err
	}
	given := w
	if c.Given("like") {
		w = append(likeLine(c.Value("like").(*Line), self(c).T), w...)
	}
	t, err := self(c).T.WithLine(w...)
	if err != nil {
		return nil, pointAt(err, given)
	}
	return self(c).with(t), nil
}

// likeLine gives the cells of a line that a table has columns for.
func likeLine(line *Line, t *table.Table) []table.Wanted {
	var w []table.Wanted
	for _, c := range line.of.T.Columns {
		if mine := t.Column(c.Name); mine != nil && mine.Kind == c.Kind && mine.Unit == c.Unit {
			w = append(w, table.Wanted{Name: c.Name, Value: c.At(line.i)})
		}
	}
	return w
}

func doRename(c *Call) (starlark.Value, error) {
	var pairs []table.Renamed
	for _, n := range c.Rest {
		s, ok := starlark.AsString(n.Value)
		if !ok || !isName(s) {
			return nil, c.Wrong(n.Name, Mistake("the new name is a text: letters, digits and _",
				n.Name+`="new_name"`, "%s is no name for a column", Briefly(n.Value)))
		}
		pairs = append(pairs, table.Renamed{Old: n.Name, New: s})
	}
	t, err := self(c).T.Rename(pairs...)
	return result(self(c), t, err)
}

// dictItems gives the headings and values of a dict parameter.
func dictItems(c *Call, name string) ([]Named, error) {
	var items []Named
	for _, kv := range c.Value(name).(*starlark.Dict).Items() {
		h, ok := starlark.AsString(kv[0])
		if !ok {
			return nil, c.Wrong(name, Mistake("a column has a name and a unit", `"gain (s)"`,
				"%s is no name for a column", Briefly(kv[0])))
		}
		items = append(items, Named{h, kv[1]})
	}
	return items, nil
}

// withColumn puts a column beside those of a table, under a heading as typed.
func withColumn(c *Call, t *table.Table, typed string, cells []any) (*table.Table, error) {
	col, err := table.ColumnOf(heading(c.Thread, typed, cells), cells)
	if err != nil {
		return nil, err
	}
	return t.With(col)
}

func doAdd(c *Call) (starlark.Value, error) {
	t := self(c)
	items, err := dictItems(c, "columns")
	if err != nil {
		return nil, err
	}
	now := t.T
	for _, item := range items {
		cells := make([]any, now.Len())
		of := t.with(now)
		values, isList := Items(item.Value)
		if isList && len(values) != len(cells) {
			return nil, c.Wrong("columns", Mistake("a column has a value for each line",
				"a function of the line: lambda line: ...", "%s has %s for %s", item.Name, count(len(values),
					"value"), count(len(cells), "line")))
		}
		for i := range cells {
			v := item.Value
			switch fn := item.Value.(type) {
			case starlark.Callable:
				if v, err = callOne(c, fn, of.Line(i)); err != nil {
					return nil, err
				}
			default:
				if isList {
					v = values[i]
				}
			}
			cell, ok := Cell(v)
			if !ok {
				return nil, c.Wrong("columns", noCell(item.Name, v))
			}
			cells[i] = cell
		}
		if now, err = withColumn(c, now, item.Name, cells); err != nil {
			return nil, err
		}
	}
	return t.with(now), nil
}

func doPer(c *Call) (starlark.Value, error) {
	t := self(c)
	names, err := c.Texts("names")
	if err != nil {
		return nil, err
	}
	items, err := dictItems(c, "columns")
	if err != nil {
		return nil, err
	}
	groups, err := t.T.Groups(names...)
	if err != nil {
		return nil, err
	}
	// columns are made here and not by Per, so that their headings take the
	// unit of a stroke's field
	keys, err := t.T.Only(names...)
	if err != nil {
		return nil, err
	}
	first := make([]int, len(groups))
	for k, g := range groups {
		first[k] = g.First
	}
	out := keys.Lines(first)
	for _, item := range items {
		fn, ok := item.Value.(starlark.Callable)
		if !ok {
			return nil, c.Wrong("columns", Mistake("each group's value comes from a function of its table",
				`{"most (m/s)": lambda g: g.highest("speed").speed}`, "%s is %s, not a function", item.Name,
				KindOf(item.Value)))
		}
		cells := make([]any, len(groups))
		for k, g := range groups {
			v, err := callOne(c, fn, t.with(t.T.Lines(g.Lines)))
			if err != nil {
				return nil, err
			}
			cell, ok := Cell(v)
			if !ok {
				return nil, c.Wrong("columns", noCell(item.Name, v))
			}
			cells[k] = cell
		}
		if out, err = withColumn(c, out, item.Name, cells); err != nil {
			return nil, err
		}
	}
	return t.with(out), nil
}

func doExtreme(c *Call, find func(string) (int, error)) (starlark.Value, error) {
	i, err := find(c.Text("name"))
	if err != nil {
		if te, ok := err.(*table.Error); ok {
			return nil, c.Wrong("name", NoAnswer(te.Why, te.Type, "%s", te.What))
		}
		return nil, err
	}
	return self(c).Line(i), nil
}

// TableDoc says what a table is, for help and completion.
func TableDoc() ThingDoc {
	return ThingDoc{Name: "table", Methods: tableMethods, Fields: []Field{
		{Name: "names", Help: "the columns"}, {Name: "units", Help: "their units"}}}
}

// EstimateDoc says what an estimate is.
func EstimateDoc() ThingDoc {
	return ThingDoc{Name: "estimate", Fields: []Field{{Name: "value", Help: "middle of the draws"},
		{Name: "low", Help: "2.5 % of the draws lie below"}, {Name: "high",
			Help: "97.5 % of the draws lie below"},
		{Name: "as_set", Help: "with the base values"}, {Name: "unit"}, {Name: "verdict",
			Help: `"more, not weighed", "less, not weighed" or "cannot be told apart"`}}}
}
