package session

import (
	"fmt"

	"go.starlark.net/syntax"

	"thole/builtins/session/message"
	"thole/builtins/session/source"
	"thole/engine/table"
)

// ParamDecl is a parameter as the study's text declares it.
type ParamDecl struct {
	Name, Unit string
	Default    any // float64, string or bool: its kind is the parameter's
	Low, High  float64
	HasLow     bool
	HasHigh    bool
	Choices    []any
	Help       string
	Line       int
}

// Params reads a study's parameters without running it.
func Params(name string, text []byte, cfg Config) ([]ParamDecl, message.Messages) {
	u, m := parse(source.StudyOptions, name, text)
	if m != nil {
		return nil, message.Messages{m}
	}
	return params(u)
}

// params finds the calls of param. They stand outside functions and their
// arguments are written out, so that they can be read without running.
func params(u *source.Unit) ([]ParamDecl, message.Messages) {
	var decls []ParamDecl
	var ms message.Messages
	refuse := func(n syntax.Node, what, why, typ string) {
		m := &message.Message{What: what, Why: why, Type: typ}
		from, to := n.Span()
		m.Put(u, from, to)
		ms = append(ms, m)
	}
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
			case *syntax.CallExpr:
				id, ok := n.Fn.(*syntax.Ident)
				if !ok || id.Name != "param" {
					return true
				}
				if inside {
					refuse(n.Fn, "param stands inside a function", "thole params reads the parameters "+
						"without running, at the top of the study", "name = param(...) above the function")
					return false
				}
				d, bad := declared(n)
				if bad != nil {
					refuse(bad, "this value of param is not written out", "thole params reads the "+
						"parameters without running, so numbers and texts stand there as such",
						`param("outboard (cm)", 200, low=190, high=210)`)
					return false
				}
				d.Line = int(n.Lparen.Line)
				for _, have := range decls {
					if have.Name == d.Name && d.Name != "" {
						refuse(n.Fn, fmt.Sprintf("there is a parameter %q already, in line %d", d.Name,
							have.Line), "each parameter is set by its name", `param("`+d.Name+`_2", ...)`)
						return false
					}
				}
				if d.Name != "" {
					decls = append(decls, d)
				}
			}
			return true
		})
	}
	for _, stmt := range u.Tree.Stmts {
		walk(stmt, false)
	}
	return decls, ms
}

// declared reads one call of param; bad is an argument that is not written out.
func declared(call *syntax.CallExpr) (d ParamDecl, bad syntax.Expr) {
	place := 0
	for _, arg := range call.Args {
		name := ""
		value := arg
		if kv, ok := arg.(*syntax.BinaryExpr); ok && kv.Op == syntax.EQ {
			name, value = kv.X.(*syntax.Ident).Name, kv.Y
		} else if place < 2 {
			name = [2]string{"name", "default"}[place]
			place++
		}
		v, ok := source.Literal(value)
		if !ok {
			return d, arg
		}
		switch name {
		case "name":
			text, _ := v.(string)
			d.Name, d.Unit, _ = table.Heading(text)
		case "default":
			d.Default = v
		case "low":
			d.Low, d.HasLow = v.(float64)
		case "high":
			d.High, d.HasHigh = v.(float64)
		case "choices":
			d.Choices, _ = v.([]any)
		case "help":
			d.Help, _ = v.(string)
		}
	}
	return d, nil
}
