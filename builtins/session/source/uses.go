package source

import (
	"sort"

	"go.starlark.net/syntax"
)

// Use is a name that a statement or function reads from outside itself.
type Use struct {
	*syntax.Ident
	Inside bool // inside a function: needed only when that is called
}

// usesOf lists the names a statement reads from outside itself, with their
// places. Names it gives are not among them where they are given, but are where
// they are read: x = x + 1 reads x.
func UsesOf(stmt syntax.Stmt) []Use {
	w := &useWalk{targets: map[spot]bool{}}
	Given([]syntax.Stmt{stmt}, false, func(id *syntax.Ident, _ bool,
		_ syntax.Stmt) {
		w.targets[At(id.NamePos)] = true
	})
	w.visit(stmt, nil, false)
	return w.uses
}

// reads lists the names that a function reads from outside itself: neither its
// inputs nor names it gives. They are what has to be fixed before it is called
// from many threads, and what stands on them stands on the function, too.
func reads(params []syntax.Expr, body []syntax.Stmt, expr syntax.Expr) []string {
	w := &useWalk{}
	w.function(params, body, expr, nil, false)
	found := map[string]bool{}
	for _, id := range w.uses {
		found[id.Name] = true
	}
	return Sorted(found)
}

func Sorted(set map[string]bool) []string {
	names := make([]string, 0, len(set))
	for name := range set {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

// scope is a chain of names that hide those outside.
type scope struct {
	names map[string]bool
	outer *scope
}

func (s *scope) has(name string) bool {
	for ; s != nil; s = s.outer {
		if s.names[name] {
			return true
		}
	}
	return false
}

func (s *scope) add(id *syntax.Ident) { s.names[id.Name] = true }

// inner opens a scope within another.
func inner(outer *scope) *scope { return &scope{names: map[string]bool{}, outer: outer} }

// useWalk collects uses.
type useWalk struct {
	uses    []Use
	targets map[spot]bool // where the statement itself gives names
}

// function walks a def or lambda: its defaults belong outside, all else inside.
func (w *useWalk) function(params []syntax.Expr, body []syntax.Stmt, expr syntax.Expr, outer *scope,
	inside bool) {
	own := inner(outer)
	for _, p := range params {
		switch p := p.(type) {
		case *syntax.Ident:
			own.add(p)
		case *syntax.BinaryExpr: // name=default
			targets(p.X, own.add)
			w.visit(p.Y, outer, inside)
		case *syntax.UnaryExpr: // *args, **kwargs
			if p.X != nil {
				targets(p.X, own.add)
			}
		}
	}
	Given(body, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) { own.add(id) })
	for _, stmt := range body {
		w.visit(stmt, own, true)
	}
	if expr != nil {
		w.visit(expr, own, true)
	}
}

// visit collects the names used in a node that no scope holds.
func (w *useWalk) visit(n syntax.Node, s *scope, inside bool) {
	syntax.Walk(n, func(n syntax.Node) bool {
		switch n := n.(type) {
		case *syntax.Ident:
			if !s.has(n.Name) && !w.targets[At(n.NamePos)] {
				w.uses = append(w.uses, Use{n, inside})
			}
		case *syntax.DotExpr:
			w.visit(n.X, s, inside) // the name after the dot is a field
			return false
		case *syntax.CallExpr:
			w.visit(n.Fn, s, inside)
			for _, arg := range n.Args {
				if kv, ok := arg.(*syntax.BinaryExpr); ok && kv.Op == syntax.EQ {
					w.visit(kv.Y, s, inside) // the name before = is a parameter
					continue
				}
				w.visit(arg, s, inside)
			}
			return false
		case *syntax.DefStmt:
			w.function(n.Params, n.Body, nil, s, inside)
			return false
		case *syntax.LambdaExpr:
			w.function(n.Params, nil, n.Body, s, inside)
			return false
		case *syntax.LoadStmt:
			return false
		case *syntax.Comprehension:
			within := inner(s)
			for _, c := range n.Clauses {
				switch c := c.(type) {
				case *syntax.ForClause:
					w.visit(c.X, within, inside)
					targets(c.Vars, within.add)
				case *syntax.IfClause:
					w.visit(c.Cond, within, inside)
				}
			}
			w.visit(n.Body, within, inside)
			return false
		}
		return true
	})
}
