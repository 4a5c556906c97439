package message

import (
	"fmt"
	"strings"

	"go.starlark.net/resolve"
	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/builtins/session/source"
	"thole/engine/table"
)

// words people bring from elsewhere, and ours for them.
var elsewhere = map[string]string{
	"true": "True", "false": "False", "TRUE": "True", "FALSE": "False",
	"none": "None", "null": "None", "nil": "None", "NULL": "None", "nan": "None", "NaN": "None",
	"pow": "math.pow", "sqrt": "math.sqrt", "pi": "math.pi", "sin": "math.sin_deg", "cos": "math.cos_deg", "exp": "math.exp", "log": "math.log",
	"printf": "print", "println": "print", "echo": "print", "display": "show", "linspace": "steps", "arange": "steps",
	"np": "math", "numpy": "math", "len_": "len", "length": "len", "avg": "mean", "average": "mean", "format": "fmt",
	"map": "[f(x) for x in ...]", "filter": "[x for x in ... if ...]", "input": "param", "open": "read_csv", "eval": "a plain expression",
	"optimize": "find_best", "optimise": "find_best", "solve": "find", "boat": "hull", "shell": "hull", "scull": "oar", "plot_energies": "plot_energy",
}

// unknownName is the message of a name that nothing has.
func (s *Scope) unknownName(name string, u *source.Unit, n syntax.Node) *lang.Error {
	lib := s.Library
	if lib.IsLater(name) {
		return Say("this version of thole does not have "+name+" yet", "it belongs to the language, but comes with a later version", "thole version, and a newer thole")
	}
	if r := lib.Record(name); r != nil && r.Prompt {
		return Say(name+" is a word of the prompt", "a study runs from the top and needs none of it", "thole prompt, or take the line out")
	}
	if u != nil {
		for _, stmt := range u.Tree.Stmts {
			line := 0
			source.Given([]syntax.Stmt{stmt}, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) {
				if id.Name == name && line == 0 {
					line = int(id.NamePos.Line)
				}
			})
			if line > 0 {
				return Say(name+" has no value yet", fmt.Sprintf("it is given further down, in line %d", line), fmt.Sprintf("line %d above this one", line))
			}
		}
	}
	if now, ok := lib.Renamed[name]; ok {
		return s.renamed(name, now, u, n)
	}
	e := Say(fmt.Sprintf("nothing is called %q", name), "a name has to be given above the line that uses it", name+" = ... above")
	if _, isField := lib.Quantity(name); isField {
		e.Why, e.Type = name+" is what a stroke has: it stands behind a stroke's name and a point", s.someStroke()+"."+name
		return e
	}
	near := s.nearestName(name, u)
	if near == "" {
		return e
	}
	e.Why = "the nearest name is " + near
	if r := lib.Record(near); r != nil {
		e.Why += ": " + r.Hint()
	}
	e.Type = near
	// the call as it stands, with the name mended
	if u != nil && n != nil {
		if call := u.CallOf(n); call != nil {
			text := u.Whole(call)
			if i := strings.Index(text, name); i >= 0 {
				e.Type = text[:i] + near + text[i+len(name):]
			}
		}
	}
	return e
}

// nearestName searches the study's names, then the tool's, then words from
// elsewhere.
func (s *Scope) nearestName(name string, u *source.Unit) string {
	if w, ok := elsewhere[name]; ok {
		return w
	}
	lib := s.Library
	if w, ok := lib.Synonym[name]; ok {
		return w
	}
	var names []string
	if u != nil {
		for _, stmt := range u.Tree.Stmts {
			source.Given([]syntax.Stmt{stmt}, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) { names = append(names, id.Name) })
		}
	}
	names = append(names, s.Names()...)
	names = append(names, lib.Names()...)
	for n := range lib.AtPrompt() {
		if s.Start.Has(n) {
			names = append(names, n)
		}
	}
	for n := range starlark.Universe {
		if len(n) > 2 {
			names = append(names, n)
		}
	}
	return table.Nearest(name, sortedUnique(names))
}

// someStroke is the name of a stroke that the session has, "now" where none is.
func (s *Scope) someStroke() string {
	for _, name := range s.Names() {
		if v, ok := s.Value(name); ok && v.Type() == "stroke" && name != "_" {
			return name
		}
	}
	return "now"
}

func sortedUnique(names []string) []string {
	set := map[string]bool{}
	var out []string
	for _, n := range names {
		if !set[n] {
			set[n] = true
			out = append(out, n)
		}
	}
	return out
}

// resolveMessages turns the resolver's list into messages: unknown names of the
// file together, each other cause by itself.
func (s *Scope) ResolveMessages(u *source.Unit, err error) Messages {
	list, ok := err.(resolve.ErrorList)
	if !ok {
		return Messages{{What: plainWords(err.Error()), File: u.Src.Name}}
	}
	var ms Messages
	var unknown []UnknownAt
	seen := map[string]bool{}
	for _, e := range list {
		if name, ok := strings.CutPrefix(e.Msg, "undefined: "); ok {
			name, _, _ = strings.Cut(name, " (")
			if !seen[name] {
				seen[name] = true
				unknown = append(unknown, UnknownAt{name, e.Pos})
			}
			continue
		}
		ms = append(ms, s.resolveMessage(u, e))
	}
	return append(ms, s.UnknownNames(u, unknown)...)
}

// renamed is the message of a function that has another name now: the call as it stands,
// written anew.
func (s *Scope) renamed(name string, now lang.Renamed, u *source.Unit, n syntax.Node) *lang.Error {
	e := Say(name+" is now "+now.As(now.Name+"(...)"), "", now.As(now.Name+"(...)"))
	if r := s.Library.Record(now.Name); r != nil {
		e.Why = now.Name + ": " + r.Hint()
	}
	if u != nil && n != nil {
		if call := u.CallOf(n); call != nil {
			if text, ok := strings.CutPrefix(u.Whole(call), name); ok {
				e.Type = now.As(now.Name + text)
			}
		}
	}
	return e
}

// UnknownAt is a name that nothing has, with its place.
type UnknownAt struct {
	Name string
	Pos  syntax.Position
}

// unknownNames tells names that nothing has: each that belongs to a later
// version by itself, all others in one message.
func (s *Scope) UnknownNames(u *source.Unit, unknown []UnknownAt) Messages {
	var ms Messages
	var rest []UnknownAt
	for _, n := range unknown {
		if _, renamed := s.Library.Renamed[n.Name]; renamed || s.Library.IsLater(n.Name) {
			ms = append(ms, s.oneUnknown(u, n))
			continue
		}
		rest = append(rest, n)
	}
	if len(rest) == 1 {
		return append(ms, s.oneUnknown(u, rest[0]))
	}
	if len(rest) == 0 {
		return ms
	}
	m := &Message{File: u.Src.Name, What: fmt.Sprintf("%d names that neither the study nor the tool knows", len(rest)),
		Why: "a name has to be given above the line that uses it"}
	var nearest []string
	for _, n := range rest {
		line := int(n.Pos.Line)
		near := s.nearestName(n.Name, u)
		if near != "" {
			nearest = append(nearest, near)
		}
		m.Names = append(m.Names, UnknownName{Line: line, Col: u.Src.Column(line, int(n.Pos.Col)), Source: strings.TrimSpace(u.Src.Line(line)), Name: n.Name, Nearest: near})
	}
	m.Type = strings.Join(nearest, ", ")
	if len(nearest) < len(rest) {
		m.Type = strings.TrimPrefix(m.Type+", and a line name = ... above for the others", ", and ")
	}
	return append(ms, m)
}

func (s *Scope) oneUnknown(u *source.Unit, n UnknownAt) *Message {
	node := u.Nodes[source.At(n.Pos)]
	e := s.unknownName(n.Name, u, node)
	m := &Message{What: e.What, Why: e.Why, Type: e.Type}
	m.Put(u, n.Pos, After(n.Pos, n.Name))
	return m
}

// resolveMessage turns one of the resolver's other errors into words.
func (s *Scope) resolveMessage(u *source.Unit, err resolve.Error) *Message {
	m := &Message{What: plainWords(err.Msg), Why: "this is a rule of the language itself", Type: `help("python") tells where it differs`}
	end := After(err.Pos, "x")
	if n := u.Nodes[source.At(err.Pos)]; n != nil {
		_, end = n.Span()
	}
	word := func(w string) { end = After(err.Pos, w) }
	switch msg := err.Msg; {
	case strings.Contains(msg, "return statement not within a function"):
		m.What, m.Why, m.Type = "return stands outside a function", "a study gives its values with answer and result", "answer(\"...\")"
		word("return")
	case strings.Contains(msg, "not in a loop"):
		w, _, _ := strings.Cut(msg, " ")
		m.What, m.Why, m.Type = w+" stands outside a loop", w+" belongs to a for", "for ... in ...:"
		word(w)
	case strings.Contains(msg, "load statement within"):
		m.What, m.Why, m.Type = "load stands inside something", "load belongs to the top of a study, outside functions, loops and ifs", `load("club.star", "our_quad") as the first line`
		word("load")
	case strings.Contains(msg, "leading underscores"):
		m.What, m.Why, m.Type = "a name that begins with _ cannot be loaded", "it is private to its file", "the name without _, in both files"
	case strings.Contains(msg, "is repeated"):
		m.What, m.Why, m.Type = "the same name twice in one call", "each parameter takes one value", "one of the two"
	case strings.Contains(msg, "positional argument may not follow named"):
		m.What, m.Why, m.Type = "a value without a name stands behind one with a name", "first come the values by place, then those by name", "its name= in front"
	case strings.Contains(msg, "may not follow"):
		m.Why, m.Type = "first come the values by place, then those by name, then * and **", "the same in that order"
	case strings.Contains(msg, "required parameter may not follow optional"):
		m.What, m.Why, m.Type = "an input without = stands behind one with =", "inputs that must be given come first", "it first, or with a value: name=0"
	case strings.Contains(msg, "duplicate parameter"):
		m.What, m.Why, m.Type = "the same input twice", "each input of a function has its own name", "another name"
	case strings.Contains(msg, "can't assign to"):
		m.What, m.Why, m.Type = "this cannot stand left of =", "left of = stands the name that is given; things do not change, .change(...) gives a copy", "longer = sculls.change(length=292)"
	case strings.Contains(msg, "augmented assignment"):
		m.What, m.Why, m.Type = "several names cannot stand left of +=", "one name at a time", "a += 1"
	}
	m.Put(u, err.Pos, end)
	return m
}

// ownNames holds a study against the rule of names: outside loops and ifs a
// top-level name is given a value once, and the tool's names never. (The
// resolver's own rule is too strict: it refuses a second loop over the same
// name and the other arm of an if.)
func (s *Scope) OwnNames(u *source.Unit) Messages {
	var ms Messages
	first := map[string]syntax.Position{}
	told := map[string]bool{}
	source.Given(u.Tree.Stmts, false, func(id *syntax.Ident, inside bool, stmt syntax.Stmt) {
		name := id.Name
		if s.IsTools(name) {
			if !told[name] {
				told[name] = true
				ms = append(ms, s.toolsName(u, id, stmt))
			}
			return
		}
		if inside {
			return
		}
		if pos, again := first[name]; again {
			if told[name] {
				return
			}
			told[name] = true
			m := &Message{What: fmt.Sprintf("%s was given in line %d", name, pos.Line),
				Why: "a study gives a name once, so that every line means one thing", Type: renamed(u, id, stmt, name+"_2")}
			m.Put(u, id.NamePos, After(id.NamePos, name))
			ms = append(ms, m)
			return
		}
		first[name] = id.NamePos
	})
	return ms
}

// isTools tells whether a name is the tool's or the language's own.
func (s *Scope) IsTools(name string) bool {
	lib := s.Library
	if r := lib.Record(name); r != nil && !r.Prompt || lib.IsLater(name) || starlark.Universe.Has(name) {
		return true
	}
	_, ok := lib.Values[name]
	return ok
}

func (s *Scope) toolsName(u *source.Unit, id *syntax.Ident, stmt syntax.Stmt) *Message {
	name := id.Name
	m := &Message{What: name + " is the tool's own name", Why: "after this line " + name + " could not be called any more", Type: renamed(u, id, stmt, "my_"+name)}
	if r := s.Library.Record(name); r != nil && r.Makes != "" {
		m.Why = fmt.Sprintf("%s makes %s; after this line it could not make another", name, r.Makes)
	}
	m.Put(u, id.NamePos, After(id.NamePos, name))
	return m
}

// renamed gives the line with another name, to be pasted.
func renamed(u *source.Unit, id *syntax.Ident, stmt syntax.Stmt, name string) string {
	if a, ok := stmt.(*syntax.AssignStmt); ok && a.Op == syntax.EQ {
		if a.LHS == syntax.Expr(id) {
			return name + " = " + u.Whole(a.RHS)
		}
	}
	return name
}

func NoSuchName(file, name string, names []string) *lang.Error {
	e := Say(file+" has no "+name, "it defines "+lang.Listed(names, "and", 12), "")
	if near := table.Nearest(name, names); near != "" {
		e.Type = `load("` + file + `", "` + near + `")`
	} else {
		e.Type = name + " = ... in " + file
	}
	return e
}
