package lang

import (
	"fmt"
	"slices"
	"strings"

	"go.starlark.net/starlarkstruct"
)

// Stubs writes the language as a Python stub file (.pyi), which editors with
// Python support read for completion and help: every function with its parameters
// and defaults, every kind of thing with its fields and methods. Units, windows
// and usual ranges stand in the docstrings, for Python's types know none.
//
// It is made from the records alone; a study is not Python, and nothing here runs.
func (l *Library) Stubs() string {
	var b strings.Builder
	b.WriteString("\"\"\"The language of thole's studies, for editors. Made by: thole reference " +
		"--stubs\"\"\"\n\n" +
		"from typing import Any, Callable, Literal\n")
	for i := range l.Things {
		l.stubThing(&b, &l.Things[i])
	}
	b.WriteString("\nclass Line:\n    \"\"\"A line of a table: line.speed or line[\"speed\"], None where " +
		"blank.\"\"\"\n" +
		"    def __getattr__(self, name: str) -> Any: ...\n    def __getitem__(self, name: str) -> Any: " +
		"...\n")
	for _, name := range l.Values.Keys() {
		if m, ok := l.Values[name].(*starlarkstruct.Module); ok {
			stubModule(&b, m)
		}
	}
	for _, r := range l.Records {
		l.stubRecord(&b, r, "")
	}
	return b.String()
}

// stubModule writes math: its functions take numbers by their place.
func stubModule(b *strings.Builder, m *starlarkstruct.Module) {
	fmt.Fprintf(b, "\nclass %s:\n", m.Name)
	for _, name := range m.Members.Keys() {
		switch {
		case m.Members[name].Type() == "float":
			fmt.Fprintf(b, "    %s: float\n", name)
		case name == "pow":
			b.WriteString("    @staticmethod\n    def pow(x: float, y: float) -> float: ...\n")
		default:
			fmt.Fprintf(b, "    @staticmethod\n    def %s(x: float) -> float: ...\n", name)
		}
	}
}

// className is how the stubs call a kind of thing: Oar, Uncertainty.
func className(kind string) string {
	name := ""
	for _, word := range strings.Fields(kind) {
		name += strings.ToUpper(word[:1]) + word[1:]
	}
	return name
}

func (l *Library) stubThing(b *strings.Builder, t *ThingDoc) {
	fmt.Fprintf(b, "\nclass %s:\n", className(t.Name))
	if t.Name == "table" {
		b.WriteString("    def __len__(self) -> int: ...\n    def __iter__(self) -> Any: ...\n" +
			"    def __getitem__(self, name: str | int) -> Any: ...\n")
	}
	if len(t.Fields)+len(t.Methods) == 0 {
		b.WriteString("    ...\n")
	}
	for _, f := range t.Fields {
		kind := "Any"
		if l.Thing(f.Name) != nil {
			kind = className(f.Name)
		} else if f.Digits >= 0 && (f.Unit != "" || f.Digits > 0) {
			kind = "float"
		}
		help := strings.Trim(f.Unit+": "+f.Help, ": ")
		fmt.Fprintf(b, "    %s: %s\n", f.Name, kind)
		if help != "" {
			fmt.Fprintf(b, "    %s\n", docstring(help))
		}
	}
	for _, m := range t.Methods {
		l.stubRecord(b, m, "    ")
	}
}

// stubRecord writes a function, or with an indent a method.
func (l *Library) stubRecord(b *strings.Builder, r *Record, indent string) {
	fmt.Fprintf(b, "\n%sdef %s(", indent, r.Name)
	sep, star := "", false
	put := func(text string) { b.WriteString(sep + text); sep = ", " }
	if indent != "" {
		put("self")
	}
	for i := range r.Params {
		p := &r.Params[i]
		if p.ByName && !star {
			star = true
			if r.More != nil {
				put("*" + r.More.Name + ": Any")
			} else {
				put("*")
			}
		}
		put(p.Name + ": " + l.stubType(p) + p.stubDefault())
	}
	if r.More != nil && !star {
		put("*" + r.More.Name + ": Any")
	}
	if r.Rest != nil {
		put("**" + r.Rest.Name + ": Any")
	}
	fmt.Fprintf(b, ") -> %s:\n%s    %s\n", l.stubGives(r), indent,
		docstring(strings.Join(r.stubDoc(indent+"    "), "\n")))
}

// stubDoc is the docstring: summary, a line a parameter, what it gives.
func (r *Record) stubDoc(indent string) []string {
	doc := []string{strings.ToUpper(r.Summary[:1]) + r.Summary[1:] + "."}
	for i, h := range r.HelpLines() {
		if i == 0 {
			doc = append(doc, "")
		}
		line := h.Name
		if h.Unit != "" {
			line += " (" + h.Unit + ")"
		}
		if h.Default != "none" {
			line += ", " + h.Default
		}
		doc = append(doc, strings.TrimSuffix(indent+line+": "+h.Says, ": "))
	}
	if r.Gives != "" {
		doc = append(doc, "", indent+"Gives "+r.Gives+".")
	}
	return append(doc, indent)
}

// docstring quotes a text as Python does, between three quotes.
func docstring(text string) string {
	text = strings.ReplaceAll(strings.ReplaceAll(text, `\`, `\\`), `"""`, `\"""`)
	if strings.HasSuffix(text, `"`) {
		text += " "
	}
	return `"""` + text + `"""`
}

// stubDefault is what stands behind a parameter: nothing where it is needed, its
// default, or None.
func (p *Param) stubDefault() string {
	switch {
	case p.Needed:
		return ""
	case p.Default != nil:
		return " = " + p.say()
	}
	return " = None"
}

// stubType is the Python type of a parameter.
func (l *Library) stubType(p *Param) string {
	var kinds []string
	add := func(k Kind, name string) {
		if p.Is&k != 0 {
			kinds = append(kinds, name)
		}
	}
	add(Number, "float")
	if p.Is&Number == 0 {
		add(Whole, "int")
	}
	if p.Is == Text && len(p.Choices) > 0 {
		add(Text, "Literal["+strings.Join(quoted(p.Choices), ", ")+"]")
	} else {
		add(Text, "str")
	}
	add(Flag, "bool")
	add(List, "list | tuple")
	add(Dict, "dict")
	add(Func, "Callable[..., Any]")
	for _, t := range p.Types {
		if l.Thing(t) == nil {
			kinds = append(kinds, "Any")
			continue
		}
		kinds = append(kinds, className(t))
	}
	if p.Each {
		kinds = append(kinds, "list")
	}
	switch {
	case len(kinds) == 0 || slices.Contains(kinds, "Any"):
		return "Any"
	case !p.Needed && p.Default == nil || p.None:
		kinds = append(kinds, "None")
	}
	return strings.Join(kinds, " | ")
}

// stubGives is the Python type of what a function gives, read off the sentence
// that says so; Any where it says something else.
func (l *Library) stubGives(r *Record) string {
	gives := strings.TrimSuffix(r.Gives, ".")
	switch {
	case r.Name == "change":
		return className(r.Of)
	case strings.HasPrefix(gives, "nothing"):
		return "None"
	case strings.HasPrefix(gives, "a line"):
		return "Line"
	case gives == "a text" || gives == "the text":
		return "str"
	case gives == "a number" || gives == "a bare number" || gives == "seconds":
		return "float"
	case gives == "a list of numbers":
		return "list[float]"
	}
	if r.Of == "" && l.Thing(r.Name) != nil {
		return className(r.Name)
	}
	for _, t := range l.Things {
		for _, head := range []string{t.Name, Article(t.Name)} {
			rest, ok := strings.CutPrefix(gives, head)
			if ok && (rest == "" || strings.ContainsAny(rest[:1], ":,;. ")) && !strings.HasPrefix(rest,
				" for") && !strings.HasPrefix(rest, ", an") {
				return className(t.Name)
			}
		}
	}
	return "Any"
}
