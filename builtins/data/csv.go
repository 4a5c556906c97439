package data

import (
	"errors"
	"strconv"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/table"
)

var readCSV = &lang.Record{
	Name: "read_csv", Topic: "data", Summary: "a table out of a file beside the study", Reads: true,
	Params: []lang.Param{
		{Name: "path", Is: lang.Text, Needed: true, Help: "file in the study's folder"},
		{Name: "columns", Is: lang.List, Needed: true, ByName: true,
			Help: `names of columns: bare is text, bracketed a number: ["crew", "rate (1/min)"]`},
		{Name: "optional", Is: lang.List, ByName: true, Help: "columns that may be missing"}},
	Gives: "a table. Headers match without case, their units convert; other columns are left out; #N/A, " +
		"n/a, - and ? are blanks; a unit in a cell converts; a title above the names is skipped: all said " +
		"on stderr",
	Errors: []string{"a column that is not there", "a cell that is no number",
		"all faults of all files are told at once, before anything is rowed"},
	Example: "",
}

var writeCSV = &lang.Record{
	Name: "write_csv", Topic: "data", Summary: "puts a table into the run's folder", Tells: true,
	Params: []lang.Param{
		{Name: "table", Is: lang.ThingOf, Types: []string{"table"}, Needed: true, Help: "a table"},
		{Name: "name", Is: lang.Text, Needed: true, Help: `file name, as "crews.csv"`},
		{Name: "marked", Is: lang.Flag, ByName: true, Default: false,
			Help: "with a byte-order mark in front, for a spreadsheet that shows ² or ü as two signs"}},
	Gives:   "nothing; numbers have all their digits. A run's tables.xlsx opens right in every country",
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
		if c.Flag("marked") {
			b.WriteString("\ufeff")
		}
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
	return readColumns(c, c.Text("path"), func(data []byte, columns, optional []string) (*table.Table,
		[]string, error) {
		return table.ReadCSV(c.Text("path"), data, columns, optional, asker(c))
	})
}

// readColumns reads the columns a call asks for. What is wrong with the file is
// noted, and told with all other faults of the study's data before anything is
// rowed.
func readColumns(c *lang.Call, name string, read func(data []byte, columns, optional []string) (*table.Table,
	[]string, error)) (starlark.Value, error) {
	columns, err := c.Texts("columns")
	if err != nil {
		return nil, err
	}
	optional, err := c.Texts("optional")
	if err != nil {
		return nil, err
	}
	s, path, data, err := FileOf(c)
	if s == nil {
		return nil, err
	}
	if err != nil {
		if _, _, bad := table.ReadCSV(path, nil, columns, optional, ""); !errors.As(bad, new(table.Faults)) {
			return nil, bad // the columns themselves are wrong
		}
		s.Fault(c.Thread, err)
		empty, _, _ := table.ReadCSV(path, nil, columns, optional, "")
		return lang.NewTable(empty), nil
	}
	t, notes, err := read(data, columns, optional)
	switch {
	case errors.As(err, new(table.Faults)):
		s.Fault(c.Thread, err)
	case err != nil:
		return nil, err
	}
	return ReadIn(s, path, name, t, notes)
}

// asker says where a column was asked for, "d_season.star:4": in the study's own
// files, whatever library the call went through.
func asker(c *lang.Call) string {
	for depth := 1; depth < c.Thread.CallStackDepth(); depth++ {
		if pos := c.Thread.CallFrame(depth).Pos; !strings.HasPrefix(pos.Filename(), "@") {
			return pos.Filename() + ":" + strconv.Itoa(int(pos.Line))
		}
	}
	return ""
}
