package session

import (
	"strings"

	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/builtins/session/message"
	"thole/builtins/session/source"
)

// checkFields finds fields that no such thing has, before anything is rowed:
// of names that a study gives once, at its top level, by a function that makes
// things. Whatever is less plain is left to the run.
func (s *Study) checkFields(u *source.Unit) message.Messages {
	k := &kindsOf{lib: s.cfg.Library, values: map[string]syntax.Expr{}, hidden: source.BoundNames(u.Tree),
		shadowed: s.shadowed}
	source.Given(u.Tree.Stmts, false, func(id *syntax.Ident, inside bool, stmt syntax.Stmt) {
		a, plain := stmt.(*syntax.AssignStmt)
		if _, again := k.values[id.Name]; again || inside || !plain || a.Op != syntax.EQ ||
			a.LHS != syntax.Expr(id) {
			k.hidden[id.Name] = true
			return
		}
		k.values[id.Name] = a.RHS
	})
	var ms message.Messages
	refuse := func(kind *lang.ThingDoc, name string) *message.Message {
		e := kind.NoField(name)
		return &message.Message{What: e.What, Why: e.Why, Type: e.Type}
	}
	for _, stmt := range u.Tree.Stmts {
		syntax.Walk(stmt, func(n syntax.Node) bool {
			switch n := n.(type) {
			case *syntax.DotExpr:
				if kind := k.of(n.X, 0); kind != nil && !hasField(kind, n.Name.Name) {
					m := refuse(kind, n.Name.Name)
					from, to := n.Name.Span()
					m.Put(u, from, to)
					ms = append(ms, m)
				}
			case *syntax.CallExpr:
				ms = append(ms, s.placeFields(u, n, k, refuse)...)
			}
			return true
		})
	}
	return ms
}

// placeFields checks the fields in places of a call's texts.
func (s *Study) placeFields(u *source.Unit, call *syntax.CallExpr, k *kindsOf,
	refuse func(*lang.ThingDoc, string) *message.Message) message.Messages {
	id, ok := call.Fn.(*syntax.Ident)
	if !ok {
		return nil
	}
	r := s.cfg.Library.Record(id.Name)
	if r == nil || !r.Fills {
		return nil
	}
	own := map[string]syntax.Expr{}
	var texts []*syntax.Literal
	for _, arg := range call.Args {
		if kv, ok := arg.(*syntax.BinaryExpr); ok && kv.Op == syntax.EQ {
			own[u.Whole(kv.X)] = kv.Y
			arg = kv.Y
		}
		texts = append(texts, source.LiteralTexts(arg)...)
	}
	var ms message.Messages
	for _, lit := range texts {
		places, _ := lang.Places(lit.Value.(string))
		for _, p := range places {
			x, mine := own[p.Path[0]]
			kind := k.named(p.Path[0], 0)
			if mine {
				kind = k.of(x, 0)
			}
			for i, name := range p.Path[1:] {
				if kind == nil {
					break
				}
				if !hasField(kind, name) {
					m := refuse(kind, name)
					m.PutInText(u, lit, p.Start+1, len([]rune(strings.Join(p.Path[:i+2], "."))))
					ms = append(ms, m)
					break
				}
				kind = k.field(name)
			}
		}
	}
	return ms
}

// kindsOf tells which kind of thing an expression gives, where that is plain.
type kindsOf struct {
	lib      *lang.Library
	values   map[string]syntax.Expr // names given once at the top level
	hidden   map[string]bool        // names that may mean something else somewhere
	shadowed func(string) bool
}

func (k *kindsOf) named(name string, depth int) *lang.ThingDoc {
	if x, ok := k.values[name]; ok && !k.hidden[name] {
		return k.of(x, depth)
	}
	return nil
}

// of gives the kind of an expression, or nil.
func (k *kindsOf) of(x syntax.Expr, depth int) *lang.ThingDoc {
	if depth > 20 {
		return nil
	}
	switch x := x.(type) {
	case *syntax.ParenExpr:
		return k.of(x.X, depth+1)
	case *syntax.Ident:
		return k.named(x.Name, depth+1)
	case *syntax.DotExpr:
		if kind := k.of(x.X, depth+1); kind != nil && hasField(kind, x.Name.Name) {
			return k.field(x.Name.Name)
		}
	case *syntax.CallExpr:
		switch fn := x.Fn.(type) {
		case *syntax.Ident:
			r := k.lib.Record(fn.Name)
			if r == nil || r.Makes == "" || k.hidden[fn.Name] || k.shadowed(fn.Name) {
				return nil
			}
			if r.Makes == "tables" {
				return nil // a table may have further fields, and says more itself
			}
			return k.lib.Thing(strings.TrimSuffix(r.Makes, "s"))
		case *syntax.DotExpr:
			if fn.Name.Name == "change" {
				return k.of(fn.X, depth+1)
			}
		}
	}
	return nil
}

// field gives the kind of a field that is a thing itself, as stroke.oar.
func (k *kindsOf) field(name string) *lang.ThingDoc { return k.lib.Thing(name) }

func namesOf(kind *lang.ThingDoc) []string {
	var names []string
	for _, f := range kind.Fields {
		names = append(names, f.Name)
	}
	for _, m := range kind.Methods {
		names = append(names, m.Name)
	}
	return names
}

func hasField(kind *lang.ThingDoc, name string) bool {
	for _, n := range namesOf(kind) {
		if n == name {
			return true
		}
	}
	return false
}
