package data

import (
	"errors"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/table"
)

var readSheet = &lang.Record{
	Name: "read_sheet", Topic: "data", Summary: "a table out of a sheet of a workbook (.xlsx)", Reads: true,
	Params: []lang.Param{
		{Name: "path", Is: lang.Text, Needed: true, Help: "workbook in the study's folder"},
		{Name: "sheet", Is: lang.Text, Needed: true, Help: "the sheet's name"},
		{Name: "columns", Is: lang.List, Needed: true, ByName: true,
			Help: `names of columns, as read_csv takes them: ["crew", "rate (1/min)"]`},
		{Name: "optional", Is: lang.List, ByName: true, Help: "columns that may be missing"}},
	Gives: "a table, read with the rules of read_csv; of a formula the value that was saved last. Faults " +
		"name " +
		"sheet and cell",
	Errors: []string{"a workbook with macros or a password", "a sheet that is not there",
		"a formula that went wrong", "heads joined over columns"},
	Notes:   []string{`read_sheet("boathouse.xlsx", "crews", columns=["crew", "rate (1/min)"])`},
	Example: "",
}

func init() { readSheet.Do = readSheetDo }

func readSheetDo(c *lang.Call) (starlark.Value, error) {
	open := session.Of(c.Thread).Config().Sheet
	if open == nil {
		return nil, lang.Mistake("workbooks are read where thole runs as a command",
			`read_csv("crews.csv", columns=[...]), the sheet saved as CSV`, "a workbook cannot be read here")
	}
	path, sheet := c.Text("path"), c.Text("sheet")
	return readColumns(c, path+", sheet "+sheet, func(data []byte, columns, optional []string) (*table.Table,
		[]string, error) {
		grid, err := open(path, data, sheet)
		fault := new(table.Error)
		switch {
		case errors.As(err, &fault):
			empty, _, bad := table.ReadGrid(&table.Grid{File: path, Sheet: sheet}, columns, optional, "")
			if !errors.As(bad, new(table.Faults)) {
				return nil, nil, bad // the columns themselves are wrong
			}
			return empty, nil, table.Faults{fault}
		case err != nil:
			return nil, nil, err
		}
		return table.ReadGrid(grid, columns, optional, asker(c))
	})
}
