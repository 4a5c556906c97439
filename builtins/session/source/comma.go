package source

import "go.starlark.net/syntax"

// DecimalComma is the error of a number written with a comma, at the digits behind it.
const DecimalComma = "a decimal comma"

// decimalComma finds 372,5 where it can only be meant as one number: as a whole value that
// is given or shown, or behind a name in a call. With a blank behind the comma, or in
// brackets, it is two.
func decimalComma(tree *syntax.File) (at syntax.Position, is bool) {
	find := func(x, y syntax.Expr) {
		before, ok := x.(*syntax.Literal)
		behind, also := y.(*syntax.Literal)
		if is || !ok || !also || before.Token != syntax.INT || behind.Token != syntax.INT {
			return
		}
		_, end := before.Span()
		if end.Col++; end == behind.TokenPos {
			at, is = end, true
		}
	}
	pair := func(x syntax.Expr) {
		if t, ok := x.(*syntax.TupleExpr); ok && !t.Lparen.IsValid() && len(t.List) == 2 {
			find(t.List[0], t.List[1])
		}
	}
	for _, stmt := range tree.Stmts {
		syntax.Walk(stmt, func(n syntax.Node) bool {
			switch n := n.(type) {
			case *syntax.AssignStmt:
				pair(n.RHS)
			case *syntax.ExprStmt:
				pair(n.X)
			case *syntax.CallExpr:
				for i := 1; i < len(n.Args); i++ {
					if kv, ok := n.Args[i-1].(*syntax.BinaryExpr); ok && kv.Op == syntax.EQ {
						find(kv.Y, n.Args[i])
					}
				}
			}
			return true
		})
	}
	return at, is
}
