package builtins

import (
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/views"
	"thole/engine/defaults"
	"thole/engine/document"
	"thole/engine/table"
)

// The prompt's own words. They work on the session itself, which only the
// command has, so calling one notes what is wanted; the command carries it out
// when the line has run (Asked).

func promptRecords() []*lang.Record {
	return []*lang.Record{helpRecord, factsRecord, againRecord, undoRecord, keepRecord}
}

var helpRecord = &lang.Record{
	Name: "help", Topic: "prompt", Prompt: true,
	Summary: "where to begin; or all about one word, one value or one topic",
	Params: []lang.Param{{Name: "of", Help: `help(row), help(calm), help("heaviness"), help("gearing"); ` +
		`nothing: where to begin`}},
	Gives:   "nothing",
	Example: `help(oar)`,
	Errors:  []string{"a word there is no help on"},
}

var factsRecord = &lang.Record{
	Name: "facts", Topic: "prompt", Prompt: true,
	Summary: "the defaults in force, with unit, doubt, source and how sure it is",
	Params: []lang.Param{{Name: "thing", Is: lang.Text, Choices: append(factKinds(), "all"),
		Help: "of one kind of thing; nothing: those that your lines rest on"}},
	Gives:   "nothing",
	Example: `facts("blade")`,
}

var againRecord = &lang.Record{
	Name: "again", Topic: "prompt", Prompt: true,
	Summary: "works out once more what stands on a value that was given again",
	Gives:   "nothing", Example: `again()`,
}

var undoRecord = &lang.Record{
	Name: "undo", Topic: "prompt", Prompt: true, Summary: "takes the last statement back",
	Gives: "nothing", Example: `undo()`,
	Notes: []string{"with again() goes the value that made it needed; a list that was changed in place " +
		"stays changed"},
}

var keepRecord = &lang.Record{
	Name: "keep", Topic: "prompt", Prompt: true,
	Summary: "writes the session as a study that reruns to the same values",
	Params: []lang.Param{
		{Name: "name", Is: lang.Text, Needed: true, Help: "of the file, in this folder"},
		{Name: "title", Is: lang.Text, ByName: true, Help: "the question it answers"},
		{Name: "over", Is: lang.Flag, ByName: true, Default: false, Help: "in place of a file of that name"}},
	Gives: "nothing",
	Errors: []string{"a file of that name is there already",
		"a session that gives no study, or not the same values"},
	Example: `keep("headwind.star", title="A headwind day in the single")`,
	Notes: []string{"only what the last values need is written; a name given again stands with its last " +
		"value where it first stood"},
}

func init() {
	helpRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		if !c.Given("of") {
			return account.Ask(c, account.Request{})
		}
		of := c.Value("of")
		if name, ok := starlark.AsString(of); ok {
			if _, ok := Library().Help(name, 80); !ok {
				return nil, c.Wrong("of", noHelp(name))
			}
		}
		return account.Ask(c, account.Request{Of: of})
	}
	factsRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		return account.Ask(c, account.Request{About: c.Text("thing")})
	}
	againRecord.Do = func(c *lang.Call) (starlark.Value, error) { return account.Ask(c, account.Request{}) }
	undoRecord.Do = func(c *lang.Call) (starlark.Value, error) { return account.Ask(c, account.Request{}) }
	keepRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		name := c.Text("name")
		if !strings.HasSuffix(name, ".star") {
			bare, _, _ := strings.Cut(name, ".")
			if bare == "" {
				bare = "my_study"
			}
			return nil, c.Wrong("name", lang.Mistake("a study's file ends in .star",
				"keep("+strconv.Quote(bare+".star")+")", "%q is no name for a study", name))
		}
		if strings.ContainsAny(name, `/\:*?"<>|`) || strings.HasPrefix(name, ".") {
			return nil, c.Wrong("name", lang.Mistake("it is written in this folder, so its name has no path",
				`keep("my_study.star")`, "%q is no name for a study", name))
		}
		return account.Ask(c, account.Request{File: name, Title: c.Text("title"), Over: c.Flag("over")})
	}
}

func noHelp(name string) *lang.Error {
	e := lang.Mistake("there is help on every name, every field and on "+strings.Join(topicNames(), ", "),
		`help("gearing"), or help() to begin`, "there is no help on %q", name)
	if near := NearestHelp(name); near != "" {
		e.Why, e.Type = "the nearest is "+near, "help("+strconv.Quote(near)+")"
	}
	return e
}

func topicNames() []string {
	var names []string
	for _, t := range topics {
		names = append(names, t.Name)
	}
	return names
}

// firstPage is the first page of help: it leads from nothing to a comparison of two
// oars. A test types what it says.
//
//go:embed start.txt
var firstPage string

// HelpPage gives the page that help(of) shows, width columns wide at most.
func HelpPage(of starlark.Value, width int) string {
	l := Library()
	switch of := of.(type) {
	case nil:
		return firstPage
	case starlark.String:
		if page, ok := l.Help(string(of), width); ok {
			return page
		}
		return string(of) + "\n"
	case *starlark.Builtin:
		if of.Receiver() != nil {
			if t := l.Thing(of.Receiver().Type()); t != nil {
				for _, m := range t.Methods {
					if m.Name == of.Name() {
						return l.HelpOn(m, width)
					}
				}
			}
		}
		if r := l.Record(of.Name()); r != nil && of.Receiver() == nil {
			return l.HelpOn(r, width)
		}
		if page, ok := plainWords[of.Name()]; ok {
			return of.Name() + ": " + page + "\n"
		}
		return of.Name() + ": a word of the language. help(\"python\") tells where it differs from others\n"
	case *starlark.Function:
		return helpFunction(of)
	}
	kind := of.Type()
	if page, ok := l.Help(kind, width); ok && l.Thing(kind) != nil {
		if l.Record(kind) != nil { // made by a function: what can be read from it, then how it is made
			page = l.HelpFields(kind, width)
		}
		return page
	}
	switch of.(type) {
	case starlark.Int, starlark.Float:
		return "a number: " + views.Line(of) + "\n  help on a field of a stroke goes by its name, as  " +
			"help(\"heaviness\")\n"
	case *starlark.List, starlark.Tuple:
		return lang.KindOf(of) + ": x[0] is its first value, len(x) how many there are, for v in x: goes " +
			"through them\n"
	case *starlark.Dict:
		return lang.KindOf(of) + ": d[\"name\"] is a value, for name in d: goes through its names\n"
	}
	return lang.KindOf(of) + "\n"
}

// plainWords are words of the language itself.
var plainWords = map[string]string{
	"print":  "writes values on one line, for notes:  print(calm)",
	"len":    "how many there are, of a list, a table or a text:  len(t)",
	"range":  "whole numbers:  range(3) is 0 1 2; for steps that are no whole numbers see help(steps)",
	"sorted": "a list in order:  sorted(t[\"speed\"])",
	"type":   "what kind of value it is:  type(calm)",
	"abs":    "a number without its sign:  abs(-3)",
	"str":    "a value as text:  str(3)",
	"int":    "a whole number:  int(\"3\")",
	"float":  "a number:  float(\"3.5\")",
	"dir":    "the fields of a value:  dir(calm)",
}

// helpFunction tells what one of the user's own functions takes.
func helpFunction(f *starlark.Function) string {
	var takes []string
	for i := range f.NumParams() {
		name, _ := f.Param(i)
		if d := f.ParamDefault(i); d != nil {
			name += "=" + lang.Briefly(d)
		}
		takes = append(takes, name)
	}
	name := f.Name()
	if name == "lambda" {
		name = "a function"
	}
	page := name + "(" + strings.Join(takes, ", ") + "): yours\n"
	if doc := strings.TrimSpace(f.Doc()); doc != "" {
		for _, line := range strings.Split(doc, "\n") {
			page += "  " + strings.TrimSpace(line) + "\n"
		}
	}
	return page + "  rows one thing over many values:  vary(" + name + ", ...)  help(vary)\n"
}

// FactValue writes the value of a default with its unit, FactDoubt what it may
// be in truth, "" where nothing is known.
func FactValue(f defaults.Default) string { return table.WithUnit(table.Fixed(f.Value, -1), f.Unit) }

// FactDoubt writes the span in which the truth may lie.
func FactDoubt(f defaults.Default) string {
	if !f.Spanned() {
		return ""
	}
	return fmt.Sprintf("%s to %s", table.Fixed(f.Low, -1), table.Fixed(f.High, -1))
}

// FactMark says in words how sure a source is.
func FactMark(m defaults.Sureness) string {
	switch m {
	case defaults.Published:
		return "published"
	case defaults.Quoted:
		return "quoted"
	case defaults.MemoryHigh, defaults.Memory, defaults.MemoryLow:
		return "from memory"
	case defaults.Derived, defaults.DerivedLow:
		return "derived"
	case defaults.Practice:
		return "practice"
	}
	return string(m)
}

// factKinds lists the things that have defaults.
func factKinds() []string {
	var kinds []string
	for _, f := range defaults.All() {
		if !slices.Contains(kinds, f.Where) {
			kinds = append(kinds, f.Where)
		}
	}
	return kinds
}

// IsComparison says whether a value is what compare gives, or a part of it.
func IsComparison(v starlark.Value) bool {
	var t *table.Table
	switch v := v.(type) {
	case *lang.Table:
		t = v.T
	case *lang.Line:
		of, _ := v.Of()
		t = of.T
	default:
		return false
	}
	return t.Column("quantity") != nil && t.Column("before") != nil && t.Column("after") != nil
}

// AtPrompt is how a value shows itself at the prompt: as a table, or in a few
// lines.
func AtPrompt(v starlark.Value) (blocks []document.Block, lines []string) {
	if _, ok := v.(*lang.Table); ok {
		return views.Rich(v, nil), nil
	}
	switch v.(type) {
	case *starlark.List, starlark.Tuple, *starlark.Dict, *starlark.Set:
		return nil, []string{listLine(v)}
	case *starlark.Builtin, *starlark.Function:
		page, _, _ := strings.Cut(HelpPage(v, 1000), "\n")
		return nil, []string{page}
	}
	return nil, views.Short(v)
}

// WithUnit writes a field's number with its unit and the trade's digits.
func WithUnit(x float64, f lang.Field) string { return table.Quantity(x, f.Name, f.Unit, f.Digits) }

// mostListed is how many values of a list show themselves.
const mostListed = 60

// listLine writes a list with its numbers in four figures, the first of many.
func listLine(v starlark.Value) string {
	items, ok := lang.Items(v)
	if !ok {
		text, err := lang.Written(nil, v)
		if err != nil {
			return lang.KindOf(v)
		}
		return text
	}
	var parts []string
	for i, item := range items {
		if i == mostListed {
			parts = append(parts, fmt.Sprintf("... %d more", len(items)-i))
			break
		}
		switch item.(type) {
		case starlark.Int, starlark.Float:
			parts = append(parts, views.Line(item))
		case *starlark.List, starlark.Tuple:
			parts = append(parts, listLine(item))
		default:
			text, err := lang.Written(nil, item)
			if err != nil {
				text = lang.KindOf(item)
			}
			parts = append(parts, text)
		}
	}
	if _, isTuple := v.(starlark.Tuple); isTuple {
		return "(" + strings.Join(parts, ", ") + ")"
	}
	return "[" + strings.Join(parts, ", ") + "]"
}
