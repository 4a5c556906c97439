package session

import (
	"sort"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/builtins/session/message"
	"thole/builtins/session/source"
)

// checkCalls holds written-out arguments of the tool's functions against their
// records: a slip in the last line should not cost the run before it.
func (s *Study) checkCalls(u *source.Unit) message.Messages {
	own := source.BoundNames(u.Tree)
	var ms message.Messages
	var walk func(n syntax.Node, inside bool)
	walk = func(n syntax.Node, inside bool) {
		syntax.Walk(n, func(n syntax.Node) bool {
			switch n := n.(type) {
			case *syntax.DefStmt:
				if !inside {
					for _, stmt := range n.Body {
						walk(stmt, true)
					}
					return false
				}
			case *syntax.LambdaExpr:
				if !inside {
					walk(n.Body, true)
					return false
				}
			case *syntax.IfStmt:
				if !inside { // a branch that is not taken may hold what would be refused
					walk(n.Cond, false)
					for _, stmt := range append(append([]syntax.Stmt(nil), n.True...), n.False...) {
						walk(stmt, true)
					}
					return false
				}
			case *syntax.CallExpr:
				if id, ok := n.Fn.(*syntax.Ident); ok && !own[id.Name] && !s.shadowed(id.Name) {
					if r := s.cfg.Library.Record(id.Name); r != nil {
						if e := checkCall(r, n, !inside); e != nil {
							m := &message.Message{What: e.What, Why: e.Why, Type: e.Type}
							from, to := message.Target(u, n.Lparen, e, true)
							m.Put(u, from, to)
							ms = append(ms, m)
							return false
						}
					}
				}
			}
			return true
		})
	}
	for _, stmt := range u.Tree.Stmts {
		walk(stmt, false)
	}
	sort.SliceStable(ms, func(i, j int) bool { return ms[i].Line < ms[j].Line })
	return ms
}

// checkCall checks one call.
func checkCall(r *lang.Record, call *syntax.CallExpr, windows bool) *lang.Error {
	var args []lang.Literal
	whole := true
	for _, arg := range call.Args {
		switch a := arg.(type) {
		case *syntax.UnaryExpr:
			if a.Op == syntax.STAR || a.Op == syntax.STARSTAR {
				whole = false
				continue
			}
		case *syntax.BinaryExpr:
			if a.Op == syntax.EQ {
				args = append(args, lang.Literal{Name: a.X.(*syntax.Ident).Name, Value: literalValue(a.Y)})
				continue
			}
		}
		args = append(args, lang.Literal{Value: literalValue(arg)})
	}
	return r.CheckLiterals(args, whole, windows)
}

// literalValue gives the value of what is written out, nil otherwise.
func literalValue(x syntax.Expr) starlark.Value {
	if id, ok := x.(*syntax.Ident); ok && id.Name != "True" && id.Name != "False" && id.Name != "None" {
		return nil
	}
	v, ok := source.Literal(x)
	if !ok {
		return nil
	}
	switch v := v.(type) {
	case float64:
		return lang.Num(v)
	case string:
		return starlark.String(v)
	case bool:
		return starlark.Bool(v)
	case nil:
		return starlark.None
	}
	return nil // lists are held against their parameter when the study runs
}
