package session

import (
	"go.starlark.net/syntax"

	"thole/builtins/session/source"
)

// count counts what the study will tell and read.
func (s *Study) count(u *source.Unit, sum *Summary) {
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
	for _, stmt := range u.Tree.Stmts {
		walk(stmt, false)
		if load, ok := stmt.(*syntax.LoadStmt); ok {
			sum.Loads = append(sum.Loads, load.ModuleName())
		}
	}
	sum.Reads, sum.Runs = source.Sorted(reads), source.Sorted(runs)
}

// paramValues gives the texts that names hold because they are parameters.
func (s *Study) paramValues(u *source.Unit) map[string]string {
	values := map[string]string{}
	for _, stmt := range u.Tree.Stmts {
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
		} else if v, ok := source.Literal(a.RHS); ok {
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
