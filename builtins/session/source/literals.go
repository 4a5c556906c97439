package source

import (
	"go.starlark.net/syntax"

	"thole/builtins/lang"
)

// What stands written out in a study's text, and can be known without running it.

// literal reads a value that is written out: float64, string, bool, nil, []any.
func Literal(x syntax.Expr) (any, bool) {
	switch x := x.(type) {
	case *syntax.Literal:
		switch v := x.Value.(type) {
		case string:
			return v, true
		case int64:
			return float64(v), true
		case float64:
			return v, true
		}
	case *syntax.Ident:
		switch x.Name {
		case "True":
			return true, true
		case "False":
			return false, true
		case "None":
			return nil, true
		}
	case *syntax.ParenExpr:
		return Literal(x.X)
	case *syntax.UnaryExpr:
		if v, ok := Literal(x.X); ok && x.Op == syntax.MINUS {
			if n, ok := v.(float64); ok {
				return -n, true
			}
		}
	case *syntax.ListExpr:
		return literals(x.List)
	case *syntax.TupleExpr:
		return literals(x.List)
	}
	return nil, false
}

func literals(list []syntax.Expr) (any, bool) {
	var all []any
	for _, x := range list {
		v, ok := Literal(x)
		if !ok {
			return nil, false
		}
		all = append(all, v)
	}
	return all, true
}

// literalTexts finds the written-out texts of an argument: a text, texts joined
// by +, texts in brackets.
func LiteralTexts(x syntax.Expr) []*syntax.Literal {
	switch x := x.(type) {
	case *syntax.Literal:
		if x.Token == syntax.STRING {
			return []*syntax.Literal{x}
		}
	case *syntax.ParenExpr:
		return LiteralTexts(x.X)
	case *syntax.BinaryExpr:
		if x.Op == syntax.PLUS {
			return append(LiteralTexts(x.X), LiteralTexts(x.Y)...)
		}
	case *syntax.CondExpr:
		return append(LiteralTexts(x.True), LiteralTexts(x.False)...)
	}
	return nil
}

// boundNames gives the names that functions and comprehensions give: there a
// name of the tool may mean something else.
func BoundNames(tree *syntax.File) map[string]bool {
	own := map[string]bool{}
	add := func(id *syntax.Ident) { own[id.Name] = true }
	params := func(list []syntax.Expr) {
		for _, p := range list {
			switch p := p.(type) {
			case *syntax.Ident:
				add(p)
			case *syntax.BinaryExpr:
				targets(p.X, add)
			case *syntax.UnaryExpr:
				if p.X != nil {
					targets(p.X, add)
				}
			}
		}
	}
	for _, stmt := range tree.Stmts {
		syntax.Walk(stmt, func(n syntax.Node) bool {
			switch n := n.(type) {
			case *syntax.DefStmt:
				params(n.Params)
				Given(n.Body, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) { add(id) })
			case *syntax.LambdaExpr:
				params(n.Params)
			case *syntax.ForClause:
				targets(n.Vars, add)
			}
			return true
		})
	}
	return own
}

// PlaceNames gives the names in the places of a call's written-out texts.
func PlaceNames(call *syntax.CallExpr) []string {
	var names []string
	for _, arg := range call.Args {
		if kv, ok := arg.(*syntax.BinaryExpr); ok && kv.Op == syntax.EQ {
			arg = kv.Y
		}
		for _, lit := range LiteralTexts(arg) {
			places, _ := lang.Places(lit.Value.(string))
			for _, p := range places {
				names = append(names, p.Path[0])
			}
		}
	}
	return names
}
