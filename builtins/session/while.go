package session

import (
	"fmt"

	"go.starlark.net/syntax"

	"thole/builtins/session/message"
	"thole/builtins/session/source"
)

// dialect refuses what parses but is not part of the language: while.
func (s *Study) dialect(u *source.Unit) message.Messages {
	var ms message.Messages
	for _, stmt := range u.Tree.Stmts {
		syntax.Walk(stmt, func(n syntax.Node) bool {
			w, ok := n.(*syntax.WhileStmt)
			if !ok {
				return true
			}
			m := &message.Message{What: "there is no while", Why: "a study must end by itself: for repeats, find searches", Type: s.insteadOfWhile(u, w)}
			m.Put(u, w.While, message.After(w.While, "while"))
			ms = append(ms, m)
			return true
		})
	}
	return ms
}

// insteadOfWhile writes a search where the loop waits for a field to reach a
// number, else a loop that counts.
func (s *Study) insteadOfWhile(u *source.Unit, w *syntax.WhileStmt) string {
	if c, ok := w.Cond.(*syntax.BinaryExpr); ok && (c.Op == syntax.LT || c.Op == syntax.GT || c.Op == syntax.LE || c.Op == syntax.GE) {
		name := u.Whole(c.X)
		if d, ok := c.X.(*syntax.DotExpr); ok {
			name = d.Name.Name
		}
		if _, known := s.cfg.Library.Quantity(name); known {
			fn, axis, span := searched(u)
			return fmt.Sprintf("find(%s, of=%q, target=%s, %s=%s)", fn, name, u.Whole(c.Y), axis, span)
		}
	}
	return "for i in range(20):"
}

// searched finds what a search could vary: the study's first def with an input,
// and the span over which vary already goes.
func searched(u *source.Unit) (fn, axis, span string) {
	fn, axis, span = "fn", "outboard", "(190, 206)"
	for _, stmt := range u.Tree.Stmts {
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
	for _, call := range u.Calls {
		if id, ok := call.Fn.(*syntax.Ident); !ok || id.Name != "vary" || len(call.Args) < 2 {
			continue
		}
		for _, arg := range call.Args[1:] {
			kv, ok := arg.(*syntax.BinaryExpr)
			if !ok || kv.Op != syntax.EQ || u.Whole(kv.X) != axis {
				continue
			}
			if steps, ok := kv.Y.(*syntax.CallExpr); ok && u.Whole(steps.Fn) == "steps" && len(steps.Args) >= 2 {
				span = fmt.Sprintf("(%s, %s)", u.Whole(steps.Args[0]), u.Whole(steps.Args[1]))
			}
		}
	}
	return fn, axis, span
}
