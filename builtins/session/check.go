package session

import (
	"context"
	"sort"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/engine/table"
)

// Summary says what a study holds, found without running it.
type Summary struct {
	Params []ParamDecl
	Tables int
	// Figures and Cards are counted as they stand in the text; one that stands
	// in a loop or a function may be told any number of times.
	Figures, Cards        int
	ManyTables, ManyCards bool
	ManyFigures           bool
	Reads                 []string // files it will read
	Runs                  []string // earlier runs it will read
	Loads                 []string
}

// Check reads a study and runs nothing: it parses, resolves every name, holds
// written-out arguments and places in written-out texts against what there is.
func Check(name string, text []byte, cfg Config) (Summary, Messages) {
	s := newStudy(context.Background(), name, cfg)
	var sum Summary
	u, _, ms := s.read(name, text)
	if u == nil || ms != nil {
		return sum, ms
	}
	if len(u.tree.Stmts) == 0 {
		return sum, Messages{emptyStudy(u.src)}
	}
	if ms := s.checkParams(u); ms != nil {
		return sum, ms
	}
	if ms := s.checkLoads(u); ms != nil {
		return sum, ms
	}
	sum.Params = s.decls
	s.count(u, &sum)
	return sum, nil
}

// checkLoads reads the files a study loads, and holds the names it takes
// against what they define.
func (s *Study) checkLoads(u *unit) Messages {
	for _, stmt := range u.tree.Stmts {
		load, ok := stmt.(*syntax.LoadStmt)
		if !ok {
			continue
		}
		name := load.ModuleName()
		refuse := func(n syntax.Node, e *lang.Error) Messages {
			m := &Message{What: e.What, Why: e.Why, Type: e.Type}
			from, to := n.Span()
			u.put(m, from, to)
			return Messages{m}
		}
		if s.units[name] != nil {
			continue
		}
		text, err := s.loadText(name)
		if err != nil {
			e := lang.AsError(err)
			if e == nil {
				e = say("cannot load "+name, err.Error(), `load("club.star", "our_quad")`)
			}
			return refuse(load.Module, e)
		}
		loaded, _, ms := s.read(name, text)
		if ms != nil {
			return ms
		}
		if ms := s.checkLoads(loaded); ms != nil {
			return ms
		}
		var names []string
		has := map[string]bool{}
		given(loaded.tree.Stmts, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) {
			names, has[id.Name] = append(names, id.Name), true
		})
		for _, from := range load.From {
			if !has[from.Name] {
				return refuse(from, noSuchName(name, from.Name, names))
			}
		}
	}
	return nil
}

func noSuchName(file, name string, names []string) *lang.Error {
	e := say(file+" has no "+name, "it defines "+lang.Listed(names, "and", 12), "")
	if near := table.Nearest(name, names); near != "" {
		e.Type = `load("` + file + `", "` + near + `")`
	} else {
		e.Type = name + " = ... in " + file
	}
	return e
}

// count counts what the study will tell and read.
func (s *Study) count(u *unit, sum *Summary) {
	values := s.paramValues(u)
	reads, runs := map[string]bool{}, map[string]bool{}
	var walk func(n syntax.Node, many bool)
	walk = func(n syntax.Node, many bool) {
		syntax.Walk(n, func(n syntax.Node) bool {
			switch n := n.(type) {
			case *syntax.ForStmt:
				if !many {
					walk(n.X, false)
					for _, stmt := range n.Body {
						walk(stmt, true)
					}
					return false
				}
			case *syntax.DefStmt:
				if !many {
					for _, stmt := range n.Body {
						walk(stmt, true)
					}
					return false
				}
			case *syntax.CallExpr:
				id, ok := n.Fn.(*syntax.Ident)
				if !ok {
					return true
				}
				r := s.cfg.Library.Record(id.Name)
				if r == nil {
					return true
				}
				switch r.Counts {
				case "table":
					sum.Tables++
					sum.ManyTables = sum.ManyTables || many
				case "figure":
					sum.Figures++
					sum.ManyFigures = sum.ManyFigures || many
				case "card":
					sum.Cards++
					sum.ManyCards = sum.ManyCards || many
				}
				if r.Reads && len(n.Args) > 0 {
					if file := textOf(n.Args[0], values); file != "" && id.Name == "read_run" {
						runs[file] = true
					} else if file != "" {
						reads[file] = true
					}
				}
			}
			return true
		})
	}
	for _, stmt := range u.tree.Stmts {
		walk(stmt, false)
		if load, ok := stmt.(*syntax.LoadStmt); ok {
			sum.Loads = append(sum.Loads, load.ModuleName())
		}
	}
	sum.Reads, sum.Runs = sorted(reads), sorted(runs)
}

// paramValues gives the texts that names hold because they are parameters.
func (s *Study) paramValues(u *unit) map[string]string {
	values := map[string]string{}
	for _, stmt := range u.tree.Stmts {
		a, ok := stmt.(*syntax.AssignStmt)
		if !ok {
			continue
		}
		id, ok := a.LHS.(*syntax.Ident)
		if !ok {
			continue
		}
		if text, ok := s.paramText(a.RHS); ok {
			values[id.Name] = text
		} else if v, ok := literal(a.RHS); ok {
			if text, ok := v.(string); ok {
				values[id.Name] = text
			}
		}
	}
	values[""] = ""
	for _, d := range s.decls {
		if text, ok := s.declText(d); ok {
			values["param "+d.Name] = text
		}
	}
	return values
}

func (s *Study) declText(d ParamDecl) (string, bool) {
	if text, ok := s.cfg.Set[d.Name]; ok {
		return text, true
	}
	text, ok := d.Default.(string)
	return text, ok
}

func (s *Study) paramText(x syntax.Expr) (string, bool) {
	call, ok := x.(*syntax.CallExpr)
	if !ok {
		return "", false
	}
	if id, ok := call.Fn.(*syntax.Ident); !ok || id.Name != "param" {
		return "", false
	}
	d, bad := declared(call)
	if bad != nil {
		return "", false
	}
	return s.declText(d)
}

// textOf gives the text an argument will have, "" where that is not plain.
func textOf(x syntax.Expr, values map[string]string) string {
	switch x := x.(type) {
	case *syntax.Literal:
		text, _ := x.Value.(string)
		return text
	case *syntax.Ident:
		return values[x.Name]
	case *syntax.CallExpr:
		if id, ok := x.Fn.(*syntax.Ident); ok && id.Name == "param" {
			if d, bad := declared(x); bad == nil {
				return values["param "+d.Name]
			}
		}
	}
	return ""
}

// checkCalls holds written-out arguments of the tool's functions against their
// records: a slip in the last line should not cost the run before it.
func (s *Study) checkCalls(u *unit) Messages {
	own := boundNames(u.tree)
	var ms Messages
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
							m := &Message{What: e.What, Why: e.Why, Type: e.Type}
							from, to := u.target(n.Lparen, e, true)
							u.put(m, from, to)
							ms = append(ms, m)
							return false
						}
					}
				}
			}
			return true
		})
	}
	for _, stmt := range u.tree.Stmts {
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
	v, ok := literal(x)
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

// boundNames gives the names that functions and comprehensions give: there a
// name of the tool may mean something else.
func boundNames(tree *syntax.File) map[string]bool {
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
				given(n.Body, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) { add(id) })
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
