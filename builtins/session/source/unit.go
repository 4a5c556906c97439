package source

import (
	"strings"

	"go.starlark.net/syntax"
)

// options of the language: if and for at the top level, set; no while, no
// recursion. That a name is given once is checked by our own walk, since with
// GlobalReassign off a second loop with the same name would be refused.
var StudyOptions = &syntax.FileOptions{Set: true, TopLevelControl: true, GlobalReassign: true}

// lineOptions are those of lines typed one by one: names may be given again, and
// load gives names for good.
var LineOptions = &syntax.FileOptions{
	Set: true, TopLevelControl: true, GlobalReassign: true, LoadBindsGlobally: true,
}

// unit is one parsed text. The tree is never changed: it answers what stands
// where. What runs is made from a second parse (see harden).
type Unit struct {
	Src  *Text
	Tree *syntax.File

	Calls   map[spot]*syntax.CallExpr // by their bracket
	Nodes   map[spot]syntax.Expr      // operators, dots, brackets and names by their place
	Makers  map[spot]*maker           // defs and lambdas by where they begin
	globals map[string]syntax.Position
}

// spot is a place in a file.
type spot struct{ line, col int32 }

func At(p syntax.Position) spot { return spot{p.Line, p.Col} }

// maker is a def or lambda, with the names it reads from outside.
type maker struct {
	name  string
	Reads []string
}

// newUnit parses a text. The error is the parser's own.
func Parse(options *syntax.FileOptions, src *Text) (*Unit, error) {
	tree, err := options.Parse(src.Name, src.Code, 0)
	if err != nil {
		return nil, err
	}
	if at, is := decimalComma(tree); is {
		return nil, syntax.Error{Pos: at, Msg: DecimalComma}
	}
	u := &Unit{Src: src, Tree: tree,
		Calls: map[spot]*syntax.CallExpr{}, Nodes: map[spot]syntax.Expr{}, Makers: map[spot]*maker{},
		globals: map[string]syntax.Position{}}
	for _, stmt := range tree.Stmts {
		u.index(stmt)
	}
	return u, nil
}

// index notes where things stand.
func (u *Unit) index(n syntax.Node) {
	syntax.Walk(n, func(n syntax.Node) bool {
		switch n := n.(type) {
		case *syntax.CallExpr:
			u.Calls[At(n.Lparen)] = n
		case *syntax.BinaryExpr:
			u.Nodes[At(n.OpPos)] = n
		case *syntax.UnaryExpr:
			u.Nodes[At(n.OpPos)] = n
		case *syntax.DotExpr:
			u.Nodes[At(n.Dot)] = n
		case *syntax.IndexExpr:
			u.Nodes[At(n.Lbrack)] = n
		case *syntax.SliceExpr:
			u.Nodes[At(n.Lbrack)] = n
		case *syntax.Ident:
			if _, taken := u.Nodes[At(n.NamePos)]; !taken {
				u.Nodes[At(n.NamePos)] = n
			}
		case *syntax.DefStmt:
			u.Makers[At(n.Def)] = &maker{name: n.Name.Name, Reads: reads(n.Params, n.Body, nil)}
		case *syntax.LambdaExpr:
			u.Makers[At(n.Lambda)] = &maker{name: "lambda", Reads: reads(n.Params, nil, n.Body)}
		}
		return true
	})
}

// text gives the source between two positions on one line, or the rest of the
// first line.
func (u *Unit) text(from, to syntax.Position) string {
	line := []rune(u.Src.Line(int(from.Line)))
	shift := u.Src.Column(int(from.Line), 0)
	a, b := int(from.Col)-1+shift, len(line)
	if to.Line == from.Line {
		b = int(to.Col) - 1 + shift
	}
	if a < 0 || a > len(line) || b > len(line) || b < a {
		return ""
	}
	return string(line[a:b])
}

// whole gives the source of a node, "..." for all lines but the first.
func (u *Unit) Whole(n syntax.Node) string {
	from, to := n.Span()
	if endsShort(n) {
		to.Col++
	}
	s := u.text(from, to)
	if to.Line != from.Line {
		s += " ..."
	}
	return s
}

// endsShort says whether an expression's last sign is a bracket that the parser's
// span leaves out: the ] of x[y] and x[y:z], the ) of (x, y).
func endsShort(n syntax.Node) bool {
	switch n := n.(type) {
	case *syntax.IndexExpr, *syntax.SliceExpr:
		return true
	case *syntax.TupleExpr:
		return n.Lparen.IsValid() || endsShort(n.List[len(n.List)-1])
	case *syntax.BinaryExpr:
		return endsShort(n.Y)
	case *syntax.UnaryExpr:
		return n.X != nil && endsShort(n.X)
	case *syntax.CondExpr:
		return endsShort(n.False)
	case *syntax.LambdaExpr:
		return endsShort(n.Body)
	}
	return false
}

// given walks the names that statements give at the top level: each with its
// place and whether it stands inside a loop or an if.
func Given(stmts []syntax.Stmt, inside bool, see func(id *syntax.Ident, inside bool, stmt syntax.Stmt)) {
	for _, stmt := range stmts {
		switch s := stmt.(type) {
		case *syntax.AssignStmt:
			targets(s.LHS, func(id *syntax.Ident) { see(id, inside, stmt) })
		case *syntax.DefStmt:
			see(s.Name, inside, stmt)
		case *syntax.LoadStmt:
			for _, id := range s.To {
				see(id, inside, stmt)
			}
		case *syntax.ForStmt:
			targets(s.Vars, func(id *syntax.Ident) { see(id, true, stmt) })
			Given(s.Body, true, see)
		case *syntax.WhileStmt:
			Given(s.Body, true, see)
		case *syntax.IfStmt:
			Given(s.True, true, see)
			Given(s.False, true, see)
		}
	}
}

// targets walks the plain names among what an assignment gives.
func targets(lhs syntax.Expr, see func(*syntax.Ident)) {
	switch lhs := lhs.(type) {
	case *syntax.Ident:
		see(lhs)
	case *syntax.ParenExpr:
		targets(lhs.X, see)
	case *syntax.TupleExpr:
		for _, x := range lhs.List {
			targets(x, see)
		}
	case *syntax.ListExpr:
		for _, x := range lhs.List {
			targets(x, see)
		}
	}
}

// lines gives the source of a statement, all its lines.
func (u *Unit) Lines(n syntax.Node) string {
	from, to := n.Span()
	lines := append([]string(nil), u.Src.Lines[from.Line-1:min(int(to.Line), len(u.Src.Lines))]...)
	if last := len(lines) - 1; last >= 0 {
		if r := []rune(lines[last]); int(to.Col)-1 <= len(r) && to.Line > 0 {
			// brackets that close an expression stand after its last part
			tail := string(r[int(to.Col)-1:])
			if i := strings.IndexByte(tail, ';'); i >= 0 {
				lines[last] = string(r[:int(to.Col)-1]) + tail[:i]
			}
		}
		if r := []rune(lines[0]); int(from.Col)-1 <= len(r) {
			lines[0] = string(r[from.Col-1:])
		}
	}
	return strings.TrimRight(strings.Join(lines, "\n"), " \t\n")
}

// callOf finds the call of which a name is the function.
func (u *Unit) CallOf(n syntax.Node) *syntax.CallExpr {
	for _, call := range u.Calls {
		if call.Fn == n {
			return call
		}
	}
	return nil
}
