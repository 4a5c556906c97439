package message

import (
	"fmt"

	"go.starlark.net/syntax"

	"thole/builtins/session/source"
)

// NoWhile refuses what parses but is not part of the language: while.
func (s *Scope) NoWhile(u *source.Unit) Messages {
	var ms Messages
	for _, stmt := range u.Tree.Stmts {
		syntax.Walk(stmt, func(n syntax.Node) bool {
			if w, ok := n.(*syntax.WhileStmt); ok {
				pieces := map[string]string{"rule": "while", "instead": s.insteadOfWhile(u, w)}
				m := find("rules", func(piece string) string { return pieces[piece] }).message()
				m.Put(u, w.While, After(w.While, "while"))
				ms = append(ms, m)
			}
			return true
		})
	}
	return ms
}

// insteadOfWhile writes a search where the loop waits for a field to reach a
// number, else a loop that counts.
func (s *Scope) insteadOfWhile(u *source.Unit, w *syntax.WhileStmt) string {
	c, ok := w.Cond.(*syntax.BinaryExpr)
	if ok && (c.Op == syntax.LT || c.Op == syntax.GT || c.Op == syntax.LE || c.Op == syntax.GE) {
		name := u.Whole(c.X)
		if d, ok := c.X.(*syntax.DotExpr); ok {
			name = d.Name.Name
		}
		if _, known := s.Library.Quantity(name); known {
			fn, axis, span := searched(u)
			return fmt.Sprintf("find(%s, of=%q, target=%s, %s=%s)", fn, name, u.Whole(c.Y), axis, span)
		}
	}
	return "for i in range(20):"
}

// searched finds what a search could vary: the study's first def with an input,
// and the span over which the last vary of it goes.
func searched(u *source.Unit) (fn, axis, span string) {
	fn, axis, span = "fn", "outboard", "(190, 206)"
	for _, stmt := range u.Tree.Stmts {
		if def, ok := stmt.(*syntax.DefStmt); ok && len(def.Params) > 0 {
			fn = def.Name.Name
			if id, ok := def.Params[0].(*syntax.Ident); ok {
				axis = id.Name
			}
			break
		}
	}
	for _, stmt := range u.Tree.Stmts {
		syntax.Walk(stmt, func(n syntax.Node) bool {
			call, ok := n.(*syntax.CallExpr)
			if !ok || u.Whole(call.Fn) != "vary" || len(call.Args) < 2 {
				return true
			}
			for _, arg := range call.Args[1:] {
				kv, ok := arg.(*syntax.BinaryExpr)
				if !ok || kv.Op != syntax.EQ || u.Whole(kv.X) != axis {
					continue
				}
				if steps, ok := kv.Y.(*syntax.CallExpr); ok && u.Whole(steps.Fn) == "steps" &&
					len(steps.Args) >= 2 {
					span = fmt.Sprintf("(%s, %s)", u.Whole(steps.Args[0]), u.Whole(steps.Args[1]))
				}
			}
			return true
		})
	}
	return fn, axis, span
}
