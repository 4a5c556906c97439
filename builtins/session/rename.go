package session

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/builtins/session/source"
)

// Renaming is a study's text with the names of older versions written anew.
type Renaming struct {
	Text    []byte
	Changes []Renamed // "drag_factor is class_factor"
	Left    []Renamed // what a person has to change, and how
}

// Renamed is one place of a Renaming.
type Renamed struct {
	Line int
	Said string
}

// Rename writes a study's text with today's names, and leaves all else as it stands. A
// text that no study has is left to Check.
func Rename(name string, text []byte, cfg Config) (Renaming, error) {
	same := Renaming{Text: text}
	src, err := source.New(name, text)
	if err != nil {
		return same, err
	}
	u, err := source.Parse(source.StudyOptions, src)
	if err != nil {
		return same, err
	}
	r := renamer{Renaming: same, lib: cfg.Library, u: u, bound: source.BoundNames(u.Tree),
		fields: map[string]string{}, own: map[string]bool{}, called: map[*syntax.Ident]bool{}}
	for old, now := range r.lib.Renamed {
		owner, field, ok := strings.Cut(old, ".")
		if ok && r.lib.Thing(owner) != nil && !strings.Contains(field, "=") {
			r.fields[field] = now.Name
		}
	}
	source.Given(u.Tree.Stmts, false,
		func(id *syntax.Ident, _ bool, _ syntax.Stmt) { r.bound[id.Name] = true })
	r.findOwn()
	for _, stmt := range u.Tree.Stmts {
		syntax.Walk(stmt, r.visit)
	}
	r.prose()
	slices.SortStableFunc(r.Changes,
		func(a, b Renamed) int { return cmp.Or(a.Line-b.Line, strings.Compare(a.Said, b.Said)) })
	if len(r.edits) > 0 {
		end := "\n"
		if strings.Contains(string(text), "\r\n") {
			end = "\r\n"
		}
		r.Text = []byte(strings.Join(source.Edited(src.Lines, r.edits), end))
	}
	return r.Renaming, nil
}

// renamer is the work of renaming one text.
type renamer struct {
	Renaming
	lib    *lang.Library
	u      *source.Unit
	bound  map[string]bool        // names the text itself gives
	fields map[string]string      // of things: old -> new
	own    map[string]bool        // old names of fields that are columns of the study's own
	called map[*syntax.Ident]bool // functions that are called where they stand
	edits  []source.Edit
}

// change puts one name in place of another in the code.
func (r *renamer) change(at syntax.Position, old, now string) {
	r.put(at, len([]rune(old)), now)
	r.Changes = append(r.Changes, Renamed{int(at.Line), old + " is " + now})
}

func (r *renamer) put(at syntax.Position, length int, with string) {
	r.edits = append(r.edits, source.Edit{Line: int(at.Line),
		Col: r.u.Src.Column(int(at.Line), int(at.Col)), Len: length, With: with})
}

// findOwn finds columns that the study gives an old name itself: a key of a line, or a
// column read with its unit.
func (r *renamer) findOwn() {
	note := func(x syntax.Expr) {
		if lit, ok := x.(*syntax.Literal); ok && lit.Token == syntax.STRING {
			name, _, _ := strings.Cut(lit.Value.(string), " (")
			r.own[name] = true
		}
	}
	for _, stmt := range r.u.Tree.Stmts {
		syntax.Walk(stmt, func(n syntax.Node) bool {
			switch n := n.(type) {
			case *syntax.DictEntry:
				note(n.Key)
			case *syntax.BinaryExpr:
				if id, ok := n.X.(*syntax.Ident); ok && n.Op == syntax.EQ && id.Name == "columns" {
					syntax.Walk(n.Y, func(x syntax.Node) bool {
						if lit, ok := x.(*syntax.Literal); ok {
							note(lit)
						}
						return true
					})
				}
			}
			return true
		})
	}
}

func (r *renamer) visit(n syntax.Node) bool {
	switch n := n.(type) {
	case *syntax.CallExpr:
		return r.call(n)
	case *syntax.Ident:
		if now, ok := r.lib.Renamed[n.Name]; ok && !r.called[n] && !r.bound[n.Name] {
			r.Left = append(r.Left,
				Renamed{int(n.NamePos.Line), n.Name + " is handed on by its name; write lambda o: " +
					now.As(now.Name+"(o)")})
		}
	case *syntax.BinaryExpr: // name="stroke_length" is what the study calls something of its own
		id, ok := n.X.(*syntax.Ident)
		return !ok || n.Op != syntax.EQ || id.Name != "name"
	case *syntax.DotExpr:
		if now := r.fields[n.Name.Name]; now != "" && !r.own[n.Name.Name] {
			r.change(n.Name.NamePos, n.Name.Name, now)
		}
	case *syntax.Literal:
		r.text(n)
	}
	return true
}

// call renames a function and its parameters. A result's name stays: last season's run has it.
func (r *renamer) call(n *syntax.CallExpr) bool {
	owner := ""
	switch fn := n.Fn.(type) {
	case *syntax.Ident:
		r.called[fn] = true
		if r.bound[fn.Name] {
			return true
		}
		owner = fn.Name
		if now, ok := r.lib.Renamed[fn.Name]; ok {
			r.change(fn.NamePos, fn.Name, now.Name)
			end := n.Rparen
			end.Col++
			r.put(end, 0, "."+now.Field)
		}
	case *syntax.DotExpr:
		if fn.Name.Name == "change" {
			owner = "change"
		}
	}
	for i, arg := range n.Args {
		kv, ok := arg.(*syntax.BinaryExpr)
		if !ok || kv.Op != syntax.EQ {
			continue
		}
		id, ok := kv.X.(*syntax.Ident)
		if !ok {
			continue
		}
		for old, now := range r.lib.Renamed {
			of, name, _ := strings.Cut(old, ".")
			name, value, gone := strings.Cut(name, "=")
			switch {
			case name != id.Name || r.lib.Record(of) == nil || of != owner && (owner != "change" || gone):
			case !gone:
				r.change(id.NamePos, name, now.Name)
			case fmt.Sprint(literalOf(kv.Y)) == value:
				r.behind(n, i, kv, now.Field)
			}
		}
	}
	if owner == "result" { // what is told is renamed, what it is called by is not
		for i, arg := range n.Args {
			if i > 0 {
				syntax.Walk(arg, r.visit)
			}
		}
		return false
	}
	return true
}

func literalOf(x syntax.Expr) any {
	if lit, ok := x.(*syntax.Literal); ok {
		return lit.Value
	}
	return nil
}

// behind takes an argument out of a call and puts a method behind it.
func (r *renamer) behind(call *syntax.CallExpr, arg int, kv *syntax.BinaryExpr, method string) {
	from, to := kv.Span()
	line := []rune(r.u.Src.CodeLine(int(from.Line)))
	start := len([]rune(strings.TrimRight(string(line[:from.Col-1]), " \t")))
	if arg == 0 || from.Line != to.Line || start == 0 || line[start-1] != ',' {
		r.Left = append(r.Left,
			Renamed{int(from.Line), r.u.Whole(kv) + "; write it as ." + method + " behind the bracket"})
		return
	}
	comma := from
	comma.Col = int32(start)
	r.put(comma, int(to.Col)-start, "")
	end := call.Rparen
	end.Col++
	r.put(end, 0, "."+method)
	r.Changes = append(r.Changes, Renamed{int(from.Line), r.u.Whole(kv) + " is ." + method})
}

// text renames a text that is a field's name, and the fields in a text's places.
func (r *renamer) text(lit *syntax.Literal) {
	if lit.Token != syntax.STRING {
		return
	}
	for i, line := range strings.Split(lit.Raw, "\n") {
		at := lit.TokenPos
		if at.Line += int32(i); i > 0 {
			at.Col = 1
		}
		if now := r.fields[lit.Value.(string)]; now != "" && len(lit.Raw) == len(lit.Value.(string))+2 {
			if _, is := r.lib.Quantity(now); is && !r.own[lit.Value.(string)] {
				at.Col++
				r.change(at, lit.Value.(string), now)
			}
			return
		}
		r.places(line, at)
	}
}

var placeAt = regexp.MustCompile(`\{[^{}]*\}`)

// places renames the fields in the places of one line of a text that begins there.
func (r *renamer) places(line string, at syntax.Position) {
	for _, span := range placeAt.FindAllStringIndex(line, -1) {
		for old, now := range r.fields {
			word := regexp.MustCompile(`\.` + old + `\b`)
			for _, f := range word.FindAllStringIndex(line[span[0]:span[1]], -1) {
				if here := at; !r.own[old] {
					here.Col += int32(len([]rune(line[:span[0]+f[0]])) + 1)
					r.change(here, old, now)
				}
			}
		}
	}
}

// prose renames the fields in the places of a Markdown study's prose.
func (r *renamer) prose() {
	for _, part := range r.u.Src.Prose {
		for i, line := range strings.Split(part.Markdown, "\n") {
			r.places(line, syntax.MakePosition(nil, int32(part.Line+i), 1))
		}
	}
}
