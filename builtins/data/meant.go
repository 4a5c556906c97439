package data

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/table"
)

var meantRecord = &lang.Record{
	Name: "meant", Topic: "data", Summary: "the name on a list that one written by hand stands for",
	Params: []lang.Param{
		{Name: "name", Is: lang.Text, Needed: true, Help: "as it was written"},
		{Name: "names", Is: lang.List, Needed: true, Help: "the names there are"},
		{Name: "letters", Is: lang.Flag, ByName: true, Default: true,
			Help: "False: only case and accents may differ"}},
	Gives: "the name itself where it is on the list, else the one that differs only by case or accents, " +
		"else, in " +
		"four letters and more, by one letter (two in eight and more); None where there is none",
	Example: `meant("dacce", ["Dace", "Rudd"])`,
	Do: func(c *lang.Call) (starlark.Value, error) {
		names, err := c.Texts("names")
		if err != nil {
			return nil, err
		}
		if name := table.Meant(c.Text("name"), names, c.Flag("letters")); name != "" {
			return starlark.String(name), nil
		}
		return starlark.None, nil
	},
}
