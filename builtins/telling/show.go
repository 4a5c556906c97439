package telling

import (
	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/views"
	"thole/engine/document"
)

var showRecord = &lang.Record{
	Name: "show", Counts: "table", Topic: "telling",
	Summary: "puts a value on view: a card, a table or a line", Tells: true, Fills: true, Rest: places,
	Params: []lang.Param{
		{Name: "thing", Needed: true, Help: "any value"},
		{Name: "name", Is: lang.Text, ByName: true, Help: "its title, and the name of its file"},
		{Name: "rig", Is: lang.ThingOf, Types: []string{"rig"}, ByName: true,
			Help: "for an oar's overlap and ratios"}},
	Gives:   "nothing",
	Example: `show(usual, name="as rowed")`,
}

func init() {
	showRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		name, err := filled(c, "name")
		if err != nil {
			return nil, err
		}
		rowing.TellOwnLoad(account.BookOf(c.Thread), c.Value("thing"))
		for i, b := range views.Rich(c.Value("thing"), c.Value("rig")) {
			if s, ok := b.(*document.Shown); ok && name != "" && i == 0 {
				s.Name = name
				if s.Table != nil {
					named := *s.Table
					named.Name = name
					s.Table = &named
				}
			}
			tell(c, b)
		}
		return starlark.None, nil
	}
}
