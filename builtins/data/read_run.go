package data

import (
	"errors"
	"fmt"
	"path"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/record"
	"thole/engine/table"
)

// runValue is an earlier run, read from its record.
type runValue struct {
	name string // the folder
	*record.Run
}

// runType is an earlier run: .result() .table() .params.
var runType = &lang.Type[*runValue]{
	Name:  "run",
	Label: func(r *runValue) string { return path.Base(r.name) },
	Line: func(r *runValue) string {
		return fmt.Sprintf("run %s of %s: %d results, tables %s", path.Base(r.name), r.Study, r.Results.Len(),
			lang.FirstOf(12, r.tableNames()))
	},
}

func (r *runValue) tableNames() []string {
	var names []string
	for _, t := range r.Tables {
		names = append(names, t.Name)
	}
	return names
}

var readRunRecord = &lang.Record{
	Name: "read_run", Topic: "data",
	Summary: "an earlier run, from its folder",
	Params: []lang.Param{
		{Name: "folder", Is: lang.Text, Needed: true, Help: "the run's folder, beside the study or in runs/"},
	},
	Gives: "a run: .result(name) .table(name) .params .made_by",
	Errors: []string{"no such run", "a run that was cut off before its record was written",
		"a record of a later version"},
	Example: `last_run = param("last_run", "")` + "\n" +
		`old = read_run(last_run).table("allocation") if last_run else None`,
	Reads: true,
}

var runResult = &lang.Record{
	Name: "result", Of: "run", Topic: "data",
	Summary: "a named result of an earlier run",
	Params:  []lang.Param{{Name: "name", Is: lang.Text, Needed: true, Help: "as the study gave it"}},
	Gives:   "a number, a text or an estimate",
	Example: `read_run("last_year").result("Otters heaviness")`,
}

var runTable = &lang.Record{
	Name: "table", Of: "run", Topic: "data",
	Summary: "a table of an earlier run",
	Params: []lang.Param{{Name: "name", Is: lang.Text, Needed: true,
		Help: "under which it was shown or plotted"}},
	Gives:   "table",
	Example: `read_run("last_year").table("allocation")`,
}

func init() {
	readRunRecord.Do = readRun
	runResult.Do = runResultDo
	runTable.Do = runTableDo
	runType.Fields = []lang.FieldOf[*runValue]{
		lang.TextField("name", "the run's folder", func(r *runValue) string { return path.Base(r.name) }),
		lang.TextField("made_by", "the version of thole that made it and the mark of its equations",
			func(r *runValue) string { return r.Version + ", equations " + r.Engine }),
		lang.ValueField("params", "a dict of the parameters it was run with",
			func(r *runValue) starlark.Value { return r.paramDict() }),
	}
	runType.Methods = []*lang.Record{runResult, runTable}
}

func readRun(c *lang.Call) (starlark.Value, error) {
	folder := strings.TrimSuffix(c.Text("folder"), "/")
	if folder == "" {
		return nil, c.Wrong("folder", lang.Mistake("in the first year there is no earlier run to read",
			`if last_run: ...`, "no folder is named"))
	}
	data, err := session.Of(c.Thread).ReadFile(folder + "/" + record.FileName)
	if err != nil {
		return nil, c.Wrong("folder", lang.AsError(err))
	}
	r, err := record.Decode(data)
	switch {
	case errors.Is(err, record.ErrLater):
		return nil, c.Wrong("folder", lang.Mistake("it was "+err.Error(),
			"the thole that made it, or a newer one", "the record of %s cannot be read", folder))
	case err != nil:
		return nil, c.Wrong("folder", lang.Mistake("its "+record.FileName+" "+err.Error(),
			"the command that made it, once more", "the record of %s cannot be read", folder))
	}
	return runType.New(&runValue{folder, r}), nil
}

func runResultDo(c *lang.Call) (starlark.Value, error) {
	r, _ := runType.From(c.Receiver)
	asked := c.Text("name")
	found, ok := r.Results.Get(asked)
	if !ok { // a result is named with its unit where it is told, and may be asked for so
		name, _, _ := table.Heading(asked)
		for _, have := range r.Results.Names() {
			if strings.ReplaceAll(have, " ", "_") == strings.ReplaceAll(name, " ", "_") {
				found, ok = r.Results.Get(have)
			}
		}
	}
	if !ok {
		return nil, c.Wrong("name", notKept("result", asked, path.Base(r.name), r.Results.Names()))
	}
	switch v := found.Value.(type) {
	case string:
		return starlark.String(v), nil
	case float64:
		if found.Low != nil && found.High != nil {
			return lang.NewEstimate(&table.Estimate{Value: v, Low: *found.Low, High: *found.High, AsSet: v,
				Unit: found.Unit, Digits: found.Digits, Verdict: found.Verdict}), nil
		}
		return lang.Num(v), nil
	}
	return starlark.None, nil
}

func runTableDo(c *lang.Call) (starlark.Value, error) {
	r, _ := runType.From(c.Receiver)
	asked := c.Text("name")
	for _, t := range r.Tables {
		if t.Name == asked {
			out, err := t.ToTable()
			if errors.Is(err, record.ErrTall) {
				return nil, c.Wrong("name", lang.Mistake(fmt.Sprintf("it has %d lines, which lie in %s",
					t.Tall.Lines, path.Join(r.name, t.Tall.File)),
					fmt.Sprintf("show(t.where(...), name=%q) in that study, with the lines that are needed",
						asked+" in short"),
					"a table as long as %s is not kept in its run's record", asked))
			}
			if err != nil {
				return nil, c.Wrong("name", lang.Mistake(err.Error(), "the command that made it, once more",
					"the table of that run cannot be read"))
			}
			return lang.NewTable(out), nil
		}
	}
	return nil, c.Wrong("name", notKept("table", asked, path.Base(r.name), r.tableNames()))
}

func notKept(what, asked, run string, names []string) *lang.Error {
	near := table.Nearest(asked, names)
	switch {
	case len(names) == 0:
		return lang.Mistake("a run keeps what its study told with a name",
			fmt.Sprintf("%s(%q, ...) in that study", map[string]string{"result": "result",
				"table": "show"}[what], asked),
			"%s keeps no %s", run, what)
	case near == "":
		near = names[0]
	}
	return lang.Mistake("it has "+lang.FirstOf(12, names), fmt.Sprintf("%s(%q)", what, near),
		"%s has no %s %q", run, what, asked)
}

func (r *runValue) paramDict() starlark.Value {
	d := starlark.NewDict(r.Params.Len())
	for _, name := range r.Params.Names() {
		p, _ := r.Params.Get(name)
		var v starlark.Value = starlark.None
		switch x := p.Value.(type) {
		case float64:
			v = lang.Num(x)
		case string:
			v = starlark.String(x)
		case bool:
			v = starlark.Bool(x)
		}
		d.SetKey(starlark.String(name), v)
	}
	d.Freeze()
	return d
}
