package session

import (
	"fmt"

	"go.starlark.net/syntax"
)

// dialect refuses what parses but is not part of the language: while.
func (s *Study) dialect(u *unit) Messages {
	var ms Messages
	for _, stmt := range u.tree.Stmts {
		syntax.Walk(stmt, func(n syntax.Node) bool {
			w, ok := n.(*syntax.WhileStmt)
			if !ok {
				return true
			}
			m := &Message{What: "there is no while", Why: "a study must end by itself: for repeats, find searches", Type: s.insteadOfWhile(u, w)}
			m.put(u, w.While, after(w.While, "while"))
			ms = append(ms, m)
			return true
		})
	}
	return ms
}

// insteadOfWhile writes a search where the loop waits for a field to reach a
// number, else a loop that counts.
func (s *Study) insteadOfWhile(u *unit, w *syntax.WhileStmt) string {
	if c, ok := w.Cond.(*syntax.BinaryExpr); ok && (c.Op == syntax.LT || c.Op == syntax.GT || c.Op == syntax.LE || c.Op == syntax.GE) {
		name := u.whole(c.X)
		if d, ok := c.X.(*syntax.DotExpr); ok {
			name = d.Name.Name
		}
		if _, known := s.cfg.Library.Quantity(name); known {
			fn, axis, span := searched(u)
			return fmt.Sprintf("find(%s, of=%q, target=%s, %s=%s)", fn, name, u.whole(c.Y), axis, span)
		}
	}
	return "for i in range(20):"
}

// searched finds what a search could vary: the study's first def with an input,
// and the span over which vary already goes.
func searched(u *unit) (fn, axis, span string) {
	fn, axis, span = "fn", "outboard", "(190, 206)"
	for _, stmt := range u.tree.Stmts {
		def, ok := stmt.(*syntax.DefStmt)
		if !ok || len(def.Params) == 0 {
			continue
		}
		fn = def.Name.Name
		if id, ok := def.Params[0].(*syntax.Ident); ok {
			axis = id.Name
		}
		break
	}
	for _, call := range u.calls {
		if id, ok := call.Fn.(*syntax.Ident); !ok || id.Name != "vary" || len(call.Args) < 2 {
			continue
		}
		for _, arg := range call.Args[1:] {
			kv, ok := arg.(*syntax.BinaryExpr)
			if !ok || kv.Op != syntax.EQ || u.whole(kv.X) != axis {
				continue
			}
			if steps, ok := kv.Y.(*syntax.CallExpr); ok && u.whole(steps.Fn) == "steps" && len(steps.Args) >= 2 {
				span = fmt.Sprintf("(%s, %s)", u.whole(steps.Args[0]), u.whole(steps.Args[1]))
			}
		}
	}
	return fn, axis, span
}
