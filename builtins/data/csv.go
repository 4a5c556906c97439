package data

import (
	"strconv"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/builtins/session/message"
	"thole/engine/table"
)

var readCSV = &lang.Record{
	Name: "read_csv", Topic: "data", Summary: "a table out of a file beside the study", Reads: true,
	Params: []lang.Param{
		{Name: "path", Is: lang.Text, Needed: true, Help: "file in the study's folder"},
		{Name: "columns", Is: lang.List, Needed: true, ByName: true,
			Help: `names of columns: bare is text, bracketed a number: ["crew", "rate (1/min)"]`},
		{Name: "optional", Is: lang.List, ByName: true, Help: "columns that may be missing"}},
	Gives: "a table. Headers match without case, their units convert; other columns are left out; both " +
		"said on stderr",
	Errors:  []string{"a column that is not there", "a cell that is no number"},
	Example: "",
}

var writeCSV = &lang.Record{
	Name: "write_csv", Topic: "data", Summary: "puts a table into the run's folder", Tells: true,
	Params: []lang.Param{
		{Name: "table", Is: lang.ThingOf, Types: []string{"table"}, Needed: true, Help: "a table"},
		{Name: "name", Is: lang.Text, Needed: true, Help: `file name, as "crews.csv"`}},
	Gives:   "nothing",
	Example: `write_csv(table([{"crew": "Otters", "speed": 5.0}]), "speeds.csv")`,
}

func init() {
	readCSV.Do = readCSVDo
	writeCSV.Do = func(c *lang.Call) (starlark.Value, error) {
		name := c.Text("name")
		if name == "" || strings.ContainsAny(name, `/\:`) || strings.HasPrefix(name, ".") {
			return nil, c.Wrong("name", lang.Mistake("a study writes into its run's folder only",
				`write_csv(t, "crews.csv")`, "%q is no file name", name))
		}
		if !strings.HasSuffix(strings.ToLower(name), ".csv") {
			name += ".csv"
		}
		var b strings.Builder
		if err := table.WriteCSV(&b, c.Value("table").(*lang.Table).T); err != nil {
			return nil, err
		}
		if s := session.Of(c.Thread); s != nil {
			s.Write(name, []byte(b.String()))
		}
		return starlark.None, nil
	}
}

func readCSVDo(c *lang.Call) (starlark.Value, error) {
	s := session.Of(c.Thread)
	if s == nil {
		return nil, lang.Mistake("there is no folder here to read from", "", "%s cannot be read",
			c.Text("path"))
	}
	columns, err := c.Texts("columns")
	if err != nil {
		return nil, err
	}
	optional, err := c.Texts("optional")
	if err != nil {
		return nil, err
	}
	path := c.Text("path")
	data, err := s.ReadFile(path)
	if err != nil {
		if e := lang.AsError(err); e != nil {
			return nil, c.Wrong("path", e)
		}
		return nil, err
	}
	t, notes, err := table.ReadCSV(path, data, columns, optional, asker(c))
	if err != nil {
		return nil, err
	}
	if err := s.Check("a table", t.Len()*len(t.Columns)); err != nil {
		return nil, err
	}
	s.NoteTable(path, t)
	for _, note := range notes {
		s.Remark(message.Message{File: path, What: note})
	}
	return lang.NewTable(t), nil
}

// asker says where a column was asked for, "d_season.star:4".
func asker(c *lang.Call) string {
	if c.Thread.CallStackDepth() < 2 {
		return ""
	}
	pos := c.Thread.CallFrame(1).Pos
	return pos.Filename() + ":" + strconv.Itoa(int(pos.Line))
}
