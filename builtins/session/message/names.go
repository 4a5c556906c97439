package message

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"go.starlark.net/resolve"
	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/builtins/session/source"
	"thole/engine/table"
)

// Say makes an error of its four parts but the place.
func Say(what, why, typ string) *lang.Error { return lang.Mistake(why, typ, "%s", what) }

// elsewhere are words people bring from elsewhere, and ours for them.
var elsewhere = map[string]string{
	"true": "True", "false": "False", "TRUE": "True", "FALSE": "False",
	"none": "None", "null": "None", "nil": "None", "NULL": "None", "nan": "None", "NaN": "None",
	"pow": "math.pow", "sqrt": "math.sqrt", "pi": "math.pi", "sin": "math.sin_deg", "cos": "math.cos_deg",
	"exp": "math.exp", "log": "math.log", "printf": "print", "println": "print", "echo": "print",
	"display": "show", "linspace": "steps", "arange": "steps", "np": "math", "numpy": "math", "len_": "len",
	"length": "len", "avg": "mean", "average": "mean", "format": "fmt", "map": "[f(x) for x in ...]",
	"filter": "[x for x in ... if ...]", "input": "param", "open": "read_csv", "eval": "a plain expression",
	"optimize": "find_best", "optimise": "find_best", "solve": "find", "boat": "hull", "shell": "hull",
	"scull": "oar", "plot_energies": "plot_energy",
}

// unknownName is the message of a name that nothing has: the cases of [names].
func (s *Scope) unknownName(name string, u *source.Unit, n syntax.Node) said {
	near := s.nearestName(name, u)
	return find("names", func(piece string) string {
		switch piece {
		case "name":
			return name
		case "later":
			return yes(s.Library.IsLater(name))
		case "prompt":
			r := s.Library.Record(name)
			return yes(r != nil && r.Prompt)
		case "now":
			return s.renamed(name, "(...)")
		case "nowhint":
			if r := s.Library.Record(s.Library.Renamed[name].Name); r != nil {
				return r.Name + ": " + r.Hint()
			}
		case "anew":
			if text, ok := strings.CutPrefix(mended(name, name, u, n), name); ok && text != "" {
				return s.renamed(name, text)
			}
			return s.renamed(name, "(...)")
		case "below":
			return givenBelow(name, u)
		case "field":
			_, is := s.Library.Quantity(name)
			return yes(is)
		case "stroke":
			return s.someStroke()
		case "topic":
			if t := s.Library.TopicOf(name); t != nil && s.Library.Synonym[name] == "" &&
				elsewhere[name] == "" {
				return t.Name + ", " + t.Summary
			}
		case "near":
			return near
		case "hint":
			if r := s.Library.Record(near); r != nil {
				return ": " + r.Hint()
			}
		case "mended":
			return mended(name, near, u, n)
		}
		return ""
	})
}

// renamed writes what a function of an older version is called now, behind it the call's
// brackets; "" where it has no other name.
func (s *Scope) renamed(name, brackets string) string {
	now, ok := s.Library.Renamed[name]
	if !ok {
		return ""
	}
	return now.As(now.Name + brackets)
}

// givenBelow gives the line in which the study itself gives a name.
func givenBelow(name string, u *source.Unit) (line string) {
	if u == nil {
		return ""
	}
	source.Given(u.Tree.Stmts, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) {
		if id.Name == name && line == "" {
			line = fmt.Sprint(id.NamePos.Line)
		}
	})
	return line
}

// mended gives the call as it stands, with the name mended.
func mended(name, near string, u *source.Unit, n syntax.Node) string {
	if u == nil || n == nil {
		return near
	}
	call := u.CallOf(n)
	if call == nil {
		return near
	}
	text := u.Whole(call)
	i := strings.Index(text, name)
	if i < 0 {
		return near
	}
	return text[:i] + near + text[i+len(name):]
}

// nearestName searches words from elsewhere, then the study's names, the tool's
// and the language's.
func (s *Scope) nearestName(name string, u *source.Unit) string {
	for _, ours := range []map[string]string{elsewhere, s.Library.Synonym} {
		if w, ok := ours[name]; ok {
			return w
		}
	}
	var names []string
	if u != nil {
		source.Given(u.Tree.Stmts, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) {
			names = append(names, id.Name)
		})
	}
	names = append(append(names, s.Names()...), s.Library.Names()...)
	for _, n := range slices.Sorted(maps.Keys(s.Library.AtPrompt())) {
		if s.Start.Has(n) {
			names = append(names, n)
		}
	}
	for _, n := range slices.Sorted(maps.Keys(starlark.Universe)) {
		if len(n) > 2 {
			names = append(names, n)
		}
	}
	return table.Nearest(name, names)
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

// ResolveMessages turns the resolver's list into messages: unknown names of the
// file together, each other cause by itself (the cases of [resolving]).
func (s *Scope) ResolveMessages(u *source.Unit, err error) Messages {
	list, ok := err.(resolve.ErrorList)
	if !ok {
		return Messages{{What: plainWords(err.Error()), File: u.Src.Name}}
	}
	var ms Messages
	var unknown []UnknownAt
	seen := map[string]bool{}
	for _, e := range list {
		name, undefined := strings.CutPrefix(e.Msg, "undefined: ")
		if !undefined {
			ms = append(ms, resolveMessage(u, e))
			continue
		}
		if name, _, _ = strings.Cut(name, " ("); !seen[name] {
			seen[name] = true
			unknown = append(unknown, UnknownAt{name, e.Pos})
		}
	}
	return append(ms, s.UnknownNames(u, unknown)...)
}

// UnknownAt is a name that nothing has, with its place.
type UnknownAt struct {
	Name string
	Pos  syntax.Position
}

// UnknownNames tells names that nothing has: each that belongs to another
// version by itself, all others in one message.
func (s *Scope) UnknownNames(u *source.Unit, unknown []UnknownAt) Messages {
	var ms Messages
	var rest []UnknownAt
	for _, n := range unknown {
		if s.Library.IsLater(n.Name) || s.renamed(n.Name, "") != "" {
			ms = append(ms, s.oneUnknown(u, n))
			continue
		}
		rest = append(rest, n)
	}
	switch len(rest) {
	case 0:
		return ms
	case 1:
		return append(ms, s.oneUnknown(u, rest[0]))
	}
	m := &Message{File: u.Src.Name, Why: "a name has to be given above the line that uses it",
		What: fmt.Sprintf("%d names that neither the study nor the tool knows", len(rest))}
	var nearest []string
	for _, n := range rest {
		line := int(n.Pos.Line)
		near := s.nearestName(n.Name, u)
		if near != "" {
			nearest = append(nearest, near)
		}
		m.Names = append(m.Names, UnknownName{Line: line, Col: u.Src.Column(line, int(n.Pos.Col)),
			Source: strings.TrimSpace(u.Src.Line(line)), Name: n.Name, Nearest: near})
	}
	m.Type = strings.Join(nearest, ", ")
	if len(nearest) < len(rest) {
		m.Type = strings.TrimPrefix(m.Type+", and a line name = ... above for the others", ", and ")
	}
	return append(ms, m)
}

func (s *Scope) oneUnknown(u *source.Unit, n UnknownAt) *Message {
	e := s.unknownName(n.Name, u, u.Nodes[source.At(n.Pos)])
	m := e.message()
	m.Put(u, n.Pos, After(n.Pos, n.Name))
	return m
}

// resolveMessage words one of the resolver's other errors.
func resolveMessage(u *source.Unit, err resolve.Error) *Message {
	told := find("resolving", func(piece string) string {
		if piece == "plain" {
			return plainWords(err.Msg)
		}
		return err.Msg
	})
	m := told.message()
	end := After(err.Pos, "x")
	if n := u.Nodes[source.At(err.Pos)]; n != nil {
		_, end = n.Span()
	}
	if told.mark != "" {
		end = After(err.Pos, told.mark)
	}
	m.Put(u, err.Pos, end)
	return m
}

// OwnNames holds a study against the rule of names (the cases of [rules]):
// outside loops and ifs a top-level name is given a value once, and the tool's
// names never. (The resolver's own rule is too strict: it refuses a second loop
// over the same name and the other arm of an if.)
func (s *Scope) OwnNames(u *source.Unit) Messages {
	var ms Messages
	first := map[string]syntax.Position{}
	told := map[string]bool{}
	source.Given(u.Tree.Stmts, false, func(id *syntax.Ident, inside bool, stmt syntax.Stmt) {
		name := id.Name
		rule, another := "", ""
		pos, again := first[name]
		switch {
		case s.IsTools(name):
			rule, another = "tools", "my_"+name
		case inside:
			return
		case again:
			rule, another = "twice", name+"_2"
		default:
			first[name] = id.NamePos
			return
		}
		if told[name] {
			return
		}
		told[name] = true
		makes := ""
		if r := s.Library.Record(name); r != nil {
			makes = r.Makes
		}
		pieces := map[string]string{"rule": rule, "name": name, "line": fmt.Sprint(pos.Line), "makes": makes,
			"renamed": renamed(u, id, stmt, another)}
		m := find("rules", func(piece string) string { return pieces[piece] }).message()
		m.Put(u, id.NamePos, After(id.NamePos, name))
		ms = append(ms, m)
	})
	return ms
}

// IsTools tells whether a name is the tool's or the language's own.
func (s *Scope) IsTools(name string) bool {
	lib := s.Library
	if r := lib.Record(name); r != nil && !r.Prompt || lib.IsLater(name) || starlark.Universe.Has(name) {
		return true
	}
	_, ok := lib.Values[name]
	return ok
}

// renamed gives the line with another name, to be pasted.
func renamed(u *source.Unit, id *syntax.Ident, stmt syntax.Stmt, name string) string {
	if a, ok := stmt.(*syntax.AssignStmt); ok && a.Op == syntax.EQ && a.LHS == syntax.Expr(id) {
		return name + " = " + u.Whole(a.RHS)
	}
	return name
}

// NoSuchName is the message of a name that a loaded file does not give.
func NoSuchName(file, name string, names []string) *Message {
	return noSuchName(file, name, names).message()
}

func noSuchName(file, name string, names []string) said {
	// names that begin with _ are the file's own
	names = slices.DeleteFunc(slices.Clone(names), func(n string) bool { return strings.HasPrefix(n, "_") })
	pieces := map[string]string{"file": file, "name": name, "near": table.Nearest(name, names),
		"defined": lang.Listed(names, "and", 12)}
	return find("loading", func(piece string) string { return pieces[piece] })
}
