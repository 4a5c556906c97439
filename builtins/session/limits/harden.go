package limits

import (
	"slices"
	"strings"

	"go.starlark.net/syntax"
)

// The interpreter bounds neither the memory nor the time of a single operation:
// "a" * (1 << 29) is one step. So before a text is compiled, the operations that
// can make something of any size at once are replaced by calls of guards with the
// same meaning, which ask first how large the result will be. Guards have names
// that nobody can type; their calls stand where the operator stood, so that
// messages point at it.
const Mark = "·"

var assigned = map[syntax.Token]syntax.Token{
	syntax.STAR_EQ: syntax.STAR, syntax.PERCENT_EQ: syntax.PERCENT, syntax.LTLT_EQ: syntax.LTLT,
}

// greedyMethods are methods of texts, lists, dicts and sets that make something
// as large as what they are called on, or larger.
var greedyMethods = strings.Fields(`
	replace join format extend upper lower title capitalize split rsplit splitlines elems codepoints
	elem_ords codepoint_ords keys values items update union difference intersection symmetric_difference
	get setdefault pop add discard remove index count`)

// harden rewrites a tree in place.
func Harden(tree *syntax.File) { hardenStmts(tree.Stmts) }

func hardenStmts(stmts []syntax.Stmt) {
	for _, stmt := range stmts {
		switch s := stmt.(type) {
		case *syntax.ExprStmt:
			s.X = hardened(s.X)
		case *syntax.AssignStmt:
			hardenAssign(s)
		case *syntax.IfStmt:
			s.Cond = hardened(s.Cond)
			hardenStmts(s.True)
			hardenStmts(s.False)
		case *syntax.ForStmt:
			s.Vars, s.X = hardened(s.Vars), hardened(s.X)
			hardenStmts(s.Body)
		case *syntax.WhileStmt:
			s.Cond = hardened(s.Cond)
			hardenStmts(s.Body)
		case *syntax.DefStmt:
			hardenParams(s.Params)
			hardenStmts(s.Body)
		case *syntax.ReturnStmt:
			if s.Result != nil {
				s.Result = hardened(s.Result)
			}
		}
	}
}

// hardenAssign makes x *= y into x = times(x, y), and x += y into x += part(y):
// += changes a list in place, so only what is added is measured.
func hardenAssign(s *syntax.AssignStmt) {
	s.RHS = hardened(s.RHS)
	if op, ok := assigned[s.Op]; ok && simple(s.LHS) {
		s.RHS = Guard(operators[op].name, s.OpPos, s.LHS, s.RHS)
		s.LHS = hardenedTarget(s.LHS)
		s.Op = syntax.EQ
		return
	}
	if s.Op != syntax.EQ {
		s.RHS = Guard("part", s.OpPos, s.RHS)
	}
	s.LHS = hardenedTarget(s.LHS)
}

// simple tells whether a target can be read twice with the same meaning.
func simple(n syntax.Expr) bool {
	ok := true
	syntax.Walk(n, func(n syntax.Node) bool {
		if _, call := n.(*syntax.CallExpr); call {
			ok = false
		}
		return ok
	})
	return ok
}

// hardenedTarget rewrites what stands inside a target, never the target itself.
func hardenedTarget(n syntax.Expr) syntax.Expr {
	switch n := n.(type) {
	case *syntax.IndexExpr:
		return &syntax.IndexExpr{X: hardened(n.X), Lbrack: n.Lbrack, Y: key(n.Y), Rbrack: n.Rbrack}
	case *syntax.DotExpr:
		return &syntax.DotExpr{X: hardened(n.X), Dot: n.Dot, NamePos: n.NamePos, Name: n.Name}
	}
	return n
}

// guard makes the call of a guard at an operator's place.
func Guard(name string, pos syntax.Position, args ...syntax.Expr) *syntax.CallExpr {
	return &syntax.CallExpr{Fn: &syntax.Ident{NamePos: pos, Name: Mark + name}, Lparen: pos, Args: args,
		Rparen: pos}
}

func hardenAll(list []syntax.Expr) {
	for i, x := range list {
		list[i] = hardened(x)
	}
}

func hardenParams(params []syntax.Expr) {
	for _, p := range params {
		if b, ok := p.(*syntax.BinaryExpr); ok {
			b.Y = hardened(b.Y)
		}
	}
}

func hardenEntry(e *syntax.DictEntry) {
	e.Key, e.Value = key(e.Key), hardened(e.Value)
}

// key rewrites what is looked up. What is written out needs no guard.
func key(x syntax.Expr) syntax.Expr {
	switch x := x.(type) {
	case *syntax.Literal:
		return x
	case *syntax.UnaryExpr:
		if _, ok := x.X.(*syntax.Literal); ok {
			return x
		}
	}
	y := hardened(x)
	return Guard("key", syntax.Start(x), y)
}

// hardened rewrites an expression and gives what stands in its place.
func hardened(x syntax.Expr) syntax.Expr {
	switch x := x.(type) {
	case *syntax.ParenExpr:
		x.X = hardened(x.X)
	case *syntax.ListExpr:
		hardenAll(x.List)
	case *syntax.TupleExpr:
		hardenAll(x.List)
	case *syntax.DictExpr:
		for _, entry := range x.List {
			hardenEntry(entry.(*syntax.DictEntry))
		}
	case *syntax.CondExpr:
		x.Cond, x.True, x.False = hardened(x.Cond), hardened(x.True), hardened(x.False)
	case *syntax.IndexExpr:
		x.X, x.Y = hardened(x.X), key(x.Y)
	case *syntax.SliceExpr:
		x.X = Guard("weigh", x.Lbrack, hardened(x.X)) // a slice is a copy
		for _, part := range []*syntax.Expr{&x.Lo, &x.Hi, &x.Step} {
			if *part != nil {
				*part = hardened(*part)
			}
		}
	case *syntax.UnaryExpr:
		if x.X != nil {
			x.X = hardened(x.X)
		}
	case *syntax.LambdaExpr:
		hardenParams(x.Params)
		x.Body = hardened(x.Body)
	case *syntax.Comprehension:
		if entry, ok := x.Body.(*syntax.DictEntry); ok {
			hardenEntry(entry)
		} else {
			x.Body = hardened(x.Body)
		}
		for _, c := range x.Clauses {
			switch c := c.(type) {
			case *syntax.ForClause:
				c.Vars, c.X = hardened(c.Vars), hardened(c.X)
			case *syntax.IfClause:
				c.Cond = hardened(c.Cond)
			}
		}
	case *syntax.DotExpr:
		x.X = hardened(x.X)
		if slices.Contains(greedyMethods, x.Name.Name) {
			name := &syntax.Literal{Token: syntax.STRING, TokenPos: x.NamePos, Raw: `"` + x.Name.Name + `"`,
				Value: x.Name.Name}
			return Guard("method", x.Dot, x.X, name)
		}
	case *syntax.CallExpr:
		x.Fn = hardened(x.Fn)
		for i, arg := range x.Args {
			if kv, ok := arg.(*syntax.BinaryExpr); ok && kv.Op == syntax.EQ {
				kv.Y = hardened(kv.Y)
				continue
			}
			x.Args[i] = hardened(arg)
		}
	case *syntax.BinaryExpr:
		if x.Op == syntax.IN || x.Op == syntax.NOT_IN {
			x.X, x.Y = key(x.X), hardened(x.Y)
			return x
		}
		x.X, x.Y = hardened(x.X), hardened(x.Y)
		if o, ok := operators[x.Op]; ok {
			return Guard(o.name, x.OpPos, x.X, x.Y)
		}
	}
	return x
}
