package session

import (
	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
)

// The interpreter bounds neither the memory nor the time of a single operation:
// "a" * (1 << 29) is one step. So before a text is compiled, the operations that
// can swallow the world in one gulp are replaced by calls of guards with the
// same meaning, which ask first how large the result will be. Guards have names
// that nobody can type; their calls stand where the operator stood, so that
// messages point at it.
const guardMark = "·"

var operators = map[syntax.Token]string{
	syntax.STAR: "times", syntax.PLUS: "plus", syntax.PERCENT: "percent", syntax.LTLT: "shift", syntax.PIPE: "union",
}

var assigned = map[syntax.Token]syntax.Token{
	syntax.STAR_EQ: syntax.STAR, syntax.PERCENT_EQ: syntax.PERCENT, syntax.LTLT_EQ: syntax.LTLT,
}

// greedyMethods are methods of texts, lists, dicts and sets that make something
// as large as what they are called on, or larger.
var greedyMethods = setOf("replace", "join", "format", "extend", "upper", "lower", "title", "capitalize", "split", "rsplit",
	"splitlines", "elems", "codepoints", "elem_ords", "codepoint_ords", "keys", "values", "items", "update", "union",
	"difference", "intersection", "symmetric_difference", "get", "setdefault", "pop", "add", "discard", "remove", "index", "count")

func setOf(names ...string) map[string]bool {
	set := map[string]bool{}
	for _, n := range names {
		set[n] = true
	}
	return set
}

// harden rewrites a tree in place.
func harden(tree *syntax.File) { hardenStmts(tree.Stmts) }

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
		s.RHS = guard(operators[op], s.OpPos, s.LHS, s.RHS)
		s.LHS = hardenedTarget(s.LHS)
		s.Op = syntax.EQ
		return
	}
	if s.Op != syntax.EQ {
		s.RHS = guard("part", s.OpPos, s.RHS)
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
func guard(name string, pos syntax.Position, args ...syntax.Expr) *syntax.CallExpr {
	return &syntax.CallExpr{Fn: &syntax.Ident{NamePos: pos, Name: guardMark + name}, Lparen: pos, Args: args, Rparen: pos}
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
	return guard("key", syntax.Start(x), y)
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
		x.X = guard("weigh", x.Lbrack, hardened(x.X)) // a slice is a copy
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
		if greedyMethods[x.Name.Name] {
			name := &syntax.Literal{Token: syntax.STRING, TokenPos: x.NamePos, Raw: `"` + x.Name.Name + `"`, Value: x.Name.Name}
			return guard("method", x.Dot, x.X, name)
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
		if name, ok := operators[x.Op]; ok {
			return guard(name, x.OpPos, x.X, x.Y)
		}
	}
	return x
}

// guards are the functions behind those names, and the language's own functions
// that would otherwise run without bound.
var guards = starlark.StringDict{}

func addGuard(name string, f func(s *Study, thread *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error)) {
	guards[name] = starlark.NewBuiltin(name, func(thread *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
		return f(Of(thread), thread, args, kwargs)
	})
}

// binary makes the guard of an operator: size says how large the result would
// be, "" where it is a plain number.
func binary(name string, op syntax.Token, size func(s *Study, x, y starlark.Value) error) {
	guards[guardMark+name] = starlark.NewBuiltin(guardMark+name, func(thread *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
		x, y := args[0], args[1]
		if _, isFloat := x.(starlark.Float); !isFloat {
			if _, isFloat := y.(starlark.Float); !isFloat || op == syntax.PERCENT {
				if err := size(Of(thread), x, y); err != nil {
					return nil, err
				}
			}
		}
		return starlark.Binary(op, x, y)
	})
}

func init() {
	binary("times", syntax.STAR, repeatSize)
	binary("plus", syntax.PLUS, sumSize)
	binary("shift", syntax.LTLT, func(s *Study, x, y starlark.Value) error { return wholeSize(x) })
	binary("union", syntax.PIPE, func(s *Study, x, y starlark.Value) error {
		return s.Check("dict", max(0, starlark.Len(x))+max(0, starlark.Len(y)))
	})
	binary("percent", syntax.PERCENT, func(s *Study, x, y starlark.Value) error {
		text, ok := x.(starlark.String)
		if !ok {
			return nil
		}
		n, err := s.writing(y)
		if err != nil {
			return err
		}
		return s.Check("text", len(text)+n*max(1, countByte(string(text), '%')))
	})
	addGuard(guardMark+"part", func(s *Study, _ *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
		v := args[0]
		if text, ok := v.(starlark.String); ok {
			return v, s.Check("text", len(text))
		}
		if n := starlark.Len(v); n > 0 {
			return v, s.Check("list", n)
		}
		return v, wholeSize(v)
	})
	addGuard(guardMark+"weigh", func(s *Study, _ *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
		return args[0], s.make(bulk(args[0]))
	})
	addGuard(guardMark+"key", func(s *Study, _ *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
		return args[0], asKey(args[0])
	})
	addGuard(guardMark+"method", guardedMethod)
	addGuard("getattr", func(s *Study, thread *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
		if len(args) >= 2 {
			if name, ok := starlark.AsString(args[1]); ok && greedyMethods[name] {
				return guardedMethod(s, thread, args[:2], nil)
			}
		}
		v, err := starlark.Call(thread, starlark.Universe["getattr"], args, kwargs)
		return v, plainError(thread, err)
	})
	addGuard("hash", func(s *Study, thread *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
		for _, a := range args {
			if err := asKey(a); err != nil {
				return nil, err
			}
		}
		v, err := starlark.Call(thread, starlark.Universe["hash"], args, kwargs)
		return v, plainError(thread, err)
	})
	for _, name := range []string{"list", "tuple", "set", "sorted", "reversed", "enumerate", "zip", "dict", "any", "all"} {
		guardUniverse(name, "list", func(v starlark.Value) int { return starlark.Len(v) })
	}
	for _, name := range []string{"str", "repr", "fail", "print"} {
		own := starlark.Universe[name]
		addGuard(name, func(s *Study, thread *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
			total := 0
			for _, a := range args {
				n, err := s.writing(a)
				if err != nil {
					return nil, err
				}
				total += n
			}
			if err := s.Check("text", total); err != nil {
				return nil, err
			}
			v, err := starlark.Call(thread, own, args, kwargs)
			return v, plainError(thread, err)
		})
	}
	addGuard("range", func(s *Study, thread *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
		whole := make(starlark.Tuple, len(args))
		for i, a := range args {
			whole[i] = a
			if f, ok := a.(starlark.Float); ok && f == starlark.Float(int64(f)) {
				whole[i] = starlark.MakeInt64(int64(f)) // 12.0 counts as well as 12
			}
		}
		v, err := starlark.Call(thread, starlark.Universe["range"], whole, kwargs)
		if err != nil {
			return nil, plainError(thread, err)
		}
		return v, s.Check("range", starlark.Len(v))
	})
}

// guardUniverse bounds the size of what one of the language's own functions is
// given.
func guardUniverse(name, what string, size func(starlark.Value) int) {
	own := starlark.Universe[name]
	addGuard(name, func(s *Study, thread *starlark.Thread, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
		for _, a := range args {
			if n := size(a); n > 0 {
				if err := s.Check(what, n); err != nil {
					return nil, err
				}
				if err := keysOf(name, a); err != nil {
					return nil, err
				}
			}
		}
		v, err := starlark.Call(thread, own, args, kwargs)
		return v, plainError(thread, err)
	})
}

// keysOf holds the parts of a list against what can be a key, where they become
// keys.
func keysOf(name string, v starlark.Value) error {
	if name != "set" && name != "dict" && name != "hash" {
		return nil
	}
	items, _ := lang.Items(v)
	for _, x := range items {
		if err := asKey(x); err != nil {
			return err
		}
	}
	return nil
}

// repeatSize measures x * y where one is a text or list; products of whole
// numbers must not grow without end either.
func repeatSize(s *Study, x, y starlark.Value) error {
	if _, ok := x.(starlark.Int); ok {
		x, y = y, x
	}
	n, ok := y.(starlark.Int)
	if !ok {
		return nil
	}
	if _, both := x.(starlark.Int); both {
		if err := wholeSize(x); err != nil {
			return err
		}
		return wholeSize(y)
	}
	times, exact := n.Int64()
	if n.Sign() <= 0 {
		return nil
	}
	if !exact || times > 1<<40 {
		times = 1 << 40
	}
	switch x := x.(type) {
	case starlark.String:
		return s.Check("text", int(min(times*int64(len(x)), 1<<60)))
	case *starlark.List, starlark.Tuple:
		return s.Check("list", int(min(times*int64(starlark.Len(x)), 1<<60)))
	}
	return nil
}

// sumSize measures x + y of texts and lists.
func sumSize(s *Study, x, y starlark.Value) error {
	switch x := x.(type) {
	case starlark.String:
		if y, ok := y.(starlark.String); ok {
			return s.Check("text", len(x)+len(y))
		}
	case *starlark.List, starlark.Tuple:
		if n := starlark.Len(y); n >= 0 {
			return s.Check("list", starlark.Len(x)+n)
		}
	}
	return nil
}

// bulk is about how many bytes a copy of a value takes.
func bulk(v starlark.Value) int {
	if text, ok := v.(starlark.String); ok {
		return len(text)
	}
	return 24 * max(0, starlark.Len(v))
}

// wholeSize refuses whole numbers of thousands of digits.
func wholeSize(v starlark.Value) error {
	if i, ok := v.(starlark.Int); ok {
		if _, small := i.Int64(); !small && i.BigInt().BitLen() > 4096 {
			return lang.Mistake("no quantity of a boat has so many digits", "a smaller one", "this number is too large")
		}
	}
	return nil
}

func countByte(s string, b byte) int {
	n := 0
	for i := 0; i < len(s); i++ {
		if s[i] == b {
			n++
		}
	}
	return n
}

// writing measures how long a value is when written out. Lists within lists
// that share their parts can be short to hold and endless to write.
func (s *Study) writing(v starlark.Value) (int, error) {
	n, ok := lang.Measure(v, max(s.limits.Text, s.limits.Items))
	if !ok {
		return 0, lang.TooLong()
	}
	return n, nil
}

// asKey refuses a key that would take for ever to be looked up: tuples within
// tuples are hashed part by part.
func asKey(v starlark.Value) error {
	if t, ok := v.(starlark.Tuple); ok {
		if _, ok := lang.Measure(t, 1<<20); !ok {
			return lang.Mistake("a key is a text, a number or a short list of them in round brackets", "a text as the key", "this value is too large for a key")
		}
	}
	return nil
}

// guardedMethod gives a method of a text or list that measures its result first.
func guardedMethod(s *Study, thread *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
	recv, name := args[0], string(args[1].(starlark.String))
	own, err := starlark.Call(thread, starlark.Universe["getattr"], starlark.Tuple{recv, args[1]}, nil)
	if err != nil {
		return nil, plainError(thread, err)
	}
	switch recv.(type) {
	case starlark.String, *starlark.List, *starlark.Dict, *starlark.Set:
	default:
		return own, nil
	}
	guarded := starlark.NewBuiltin(name, func(thread *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kwargs []starlark.Tuple) (starlark.Value, error) {
		if err := methodSize(s, recv, name, args, kwargs); err != nil {
			return nil, err
		}
		v, err := starlark.Call(thread, own, args, kwargs)
		return v, plainError(thread, err)
	})
	return guarded, nil
}

// methodSize measures what a method would make.
func methodSize(s *Study, recv starlark.Value, name string, args starlark.Tuple, kwargs []starlark.Tuple) error {
	for _, a := range args {
		if err := asKey(a); err != nil {
			return err
		}
	}
	switch name {
	case "get", "setdefault", "pop", "add", "discard", "remove", "index", "count":
		return nil
	}
	if name == "extend" && len(args) == 1 {
		return s.Check("list", starlark.Len(recv)+max(0, starlark.Len(args[0])))
	}
	text, isText := starlark.AsString(recv)
	if !isText {
		return s.make(bulk(recv))
	}
	switch name {
	case "join":
		if len(args) != 1 {
			return nil
		}
		total := 0
		if items, ok := lang.Items(args[0]); ok {
			for _, x := range items {
				if t, ok := x.(starlark.String); ok {
					total += len(t) + len(text)
				}
			}
		}
		return s.Check("text", total)
	case "replace":
		if len(args) < 2 {
			return nil
		}
		old, ok1 := starlark.AsString(args[0])
		with, ok2 := starlark.AsString(args[1])
		if ok1 && ok2 && len(with) > len(old) {
			places := len(text) + 1
			if len(old) > 0 {
				places = len(text)/len(old) + 1
			}
			return s.Check("text", len(text)+min(places, 1<<30)*(len(with)-len(old)))
		}
	case "format":
		longest := 0
		for _, a := range args {
			n, err := s.writing(a)
			if err != nil {
				return err
			}
			longest = max(longest, n)
		}
		for _, kv := range kwargs {
			n, err := s.writing(kv[1])
			if err != nil {
				return err
			}
			longest = max(longest, n)
		}
		return s.Check("text", len(text)+countByte(text, '{')*longest)
	case "split", "rsplit", "splitlines", "elems", "codepoints", "elem_ords", "codepoint_ords":
		return s.make(16 * len(text))
	}
	return s.make(len(text))
}

// plainError takes the frame of a guard's own call off an error, so that the
// message is that of the operation itself. Errors of functions of the study
// that were called on the way keep their place.
func plainError(thread *starlark.Thread, err error) error {
	if e, ok := err.(*starlark.EvalError); ok && len(e.CallStack) == thread.CallStackDepth()+1 {
		if cause := e.Unwrap(); cause != nil {
			return cause
		}
	}
	return err
}
