package session

import (
	"sort"

	"go.starlark.net/syntax"
)

// reads lists the names that a function reads from outside itself: neither its
// parameters nor names it gives. They are what has to be fixed before it is
// called from many threads, and what a kept or repeated statement rests on.
func reads(params []syntax.Expr, body []syntax.Stmt, expr syntax.Expr) []string {
	found := map[string]bool{}
	readsOf(params, body, expr, nil, found)
	return sorted(found)
}

func sorted(set map[string]bool) []string {
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

func readsOf(params []syntax.Expr, body []syntax.Stmt, expr syntax.Expr, outer *scope, found map[string]bool) {
	own := &scope{names: map[string]bool{}, outer: outer}
	for _, p := range params {
		switch p := p.(type) {
		case *syntax.Ident:
			own.names[p.Name] = true
		case *syntax.BinaryExpr: // name=default: the default is read outside
			if id, ok := p.X.(*syntax.Ident); ok {
				own.names[id.Name] = true
			}
			readsIn(p.Y, outer, found)
		case *syntax.UnaryExpr: // *args, **kwargs
			if id, ok := p.X.(*syntax.Ident); ok {
				own.names[id.Name] = true
			}
		}
	}
	given(body, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) { own.names[id.Name] = true })
	for _, stmt := range body {
		readsIn(stmt, own, found)
	}
	if expr != nil {
		readsIn(expr, own, found)
	}
}

// readsIn collects the names used in a node that no scope holds.
func readsIn(n syntax.Node, s *scope, found map[string]bool) {
	syntax.Walk(n, func(n syntax.Node) bool {
		switch n := n.(type) {
		case *syntax.Ident:
			if !s.has(n.Name) {
				found[n.Name] = true
			}
		case *syntax.DotExpr:
			readsIn(n.X, s, found) // the name after the dot is a field
			return false
		case *syntax.CallExpr:
			readsIn(n.Fn, s, found)
			for _, arg := range n.Args {
				if kv, ok := arg.(*syntax.BinaryExpr); ok && kv.Op == syntax.EQ {
					readsIn(kv.Y, s, found) // the name before = is a parameter
					continue
				}
				readsIn(arg, s, found)
			}
			return false
		case *syntax.DefStmt:
			readsOf(n.Params, n.Body, nil, s, found)
			return false
		case *syntax.LambdaExpr:
			readsOf(n.Params, nil, n.Body, s, found)
			return false
		case *syntax.LoadStmt:
			return false
		case *syntax.Comprehension:
			inner := &scope{names: map[string]bool{}, outer: s}
			for _, c := range n.Clauses {
				switch c := c.(type) {
				case *syntax.ForClause:
					readsIn(c.X, inner, found)
					targets(c.Vars, func(id *syntax.Ident) { inner.names[id.Name] = true })
				case *syntax.IfClause:
					readsIn(c.Cond, inner, found)
				}
			}
			readsIn(n.Body, inner, found)
			return false
		}
		return true
	})
}
