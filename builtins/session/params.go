package session

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/engine/report"
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
func Params(name string, text []byte, cfg Config) ([]ParamDecl, Messages) {
	src, m := newSource(name, text)
	if m != nil {
		return nil, Messages{m}
	}
	u, m := newUnit(src)
	if m != nil {
		return nil, Messages{m}
	}
	return u.params()
}

// params finds the calls of param. They stand outside functions and their
// arguments are written out, so that they can be read without running.
func (u *unit) params() ([]ParamDecl, Messages) {
	var decls []ParamDecl
	var ms Messages
	refuse := func(n syntax.Node, what, why, typ string) {
		m := &Message{What: what, Why: why, Type: typ}
		from, to := n.Span()
		u.put(m, from, to)
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
					refuse(n.Fn, "param stands inside a function", "thole params reads the parameters without running, at the top of the study", "name = param(...) above the function")
					return false
				}
				d, bad := declared(n)
				if bad != nil {
					refuse(bad, "this value of param is not written out", "thole params reads the parameters without running, so numbers and texts stand there as such", `param("outboard (cm)", 200, low=190, high=210)`)
					return false
				}
				d.Line = int(n.Lparen.Line)
				for _, have := range decls {
					if have.Name == d.Name && d.Name != "" {
						refuse(n.Fn, fmt.Sprintf("there is a parameter %q already, in line %d", d.Name, have.Line), "each parameter is set by its name", `param("`+d.Name+`_2", ...)`)
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
	for _, stmt := range u.tree.Stmts {
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
		v, ok := literal(value)
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

// literal reads a value that is written out: float64, string, bool, nil, []any.
func literal(x syntax.Expr) (any, bool) {
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
		return literal(x.X)
	case *syntax.UnaryExpr:
		if v, ok := literal(x.X); ok && x.Op == syntax.MINUS {
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
		v, ok := literal(x)
		if !ok {
			return nil, false
		}
		all = append(all, v)
	}
	return all, true
}

// checkParams holds the study's parameters against what was set.
func (s *Study) checkParams(u *unit) Messages {
	decls, ms := u.params()
	if ms != nil {
		return ms
	}
	s.decls = decls
	var names []string
	known := map[string]bool{}
	for _, d := range decls {
		known[d.Name] = true
		names = append(names, table.WithUnit(d.Name, inBrackets(d.Unit)))
	}
	var unknown []string
	for name := range s.cfg.Set {
		if !known[name] {
			unknown = append(unknown, name)
		}
	}
	if unknown == nil {
		return s.checkSet(u.src.name)
	}
	sort.Strings(unknown)
	name := unknown[0]
	m := &Message{Usage: true, What: fmt.Sprintf("thole run: %s has no parameter %q", u.src.name, name)}
	if len(decls) == 0 {
		m.Why, m.Type = "it has none", "thole run "+u.src.name
		return Messages{m}
	}
	m.Why = "it has " + lang.Listed(names, "and", 12)
	d := decls[0]
	bare := make([]string, len(decls))
	for i := range decls {
		bare[i] = decls[i].Name
	}
	near := table.Nearest(name, bare)
	for _, have := range bare {
		if strings.HasPrefix(have, name) {
			near = have
			break
		}
	}
	if near != "" {
		for _, have := range decls {
			if have.Name == near {
				d = have
			}
		}
	}
	m.Type = fmt.Sprintf("thole run %s --set %s=%s", u.src.name, d.Name, s.cfg.Set[name])
	return Messages{m}
}

// checkSet holds the values that were set against their parameters' kinds and
// bounds, before anything runs.
func (s *Study) checkSet(study string) Messages {
	for _, d := range s.decls {
		text, ok := s.cfg.Set[d.Name]
		if !ok {
			continue
		}
		v, err := setValue(d.Name, d.Unit, text, d.Default)
		if err == nil {
			err = d.allows(v)
		}
		if e := lang.AsError(err); e != nil {
			return Messages{{Usage: true, What: "thole run: " + e.What, Why: e.Why, Type: "thole run " + study + " " + e.Type}}
		}
	}
	return nil
}

// allows holds a set value against a declaration's bounds.
func (d ParamDecl) allows(v any) error {
	x, isNumber := v.(float64)
	about := ""
	if d.Help != "" {
		about = "; it is the " + d.Help
	}
	if isNumber && (d.HasLow && x < d.Low || d.HasHigh && x > d.High) {
		bounds, near := table.FourFigures(d.Low)+" to "+table.FourFigures(d.High), math.Max(d.Low, math.Min(d.High, x))
		switch {
		case !d.HasLow:
			bounds, near = "up to "+table.FourFigures(d.High), d.High
		case !d.HasHigh:
			bounds, near = table.FourFigures(d.Low)+" or more", d.Low
		}
		return lang.Mistake("the study allows "+bounds+about, "--set "+d.Name+"="+number(near), "%s %s is outside %s", d.Name, table.WithUnit(number(x), d.Unit), bounds)
	}
	if d.Choices == nil {
		return nil
	}
	var names []string
	for _, c := range d.Choices {
		if c == v {
			return nil
		}
		names = append(names, writtenValue("", c))
	}
	near := table.Nearest(fmt.Sprint(v), names)
	if near == "" {
		near = names[0]
	}
	return lang.Mistake("the study allows "+lang.Listed(names, "or", 12)+about, "--set "+d.Name+"="+near, "%s cannot be %v", d.Name, v)
}

func inBrackets(unit string) string {
	if unit == "" {
		return ""
	}
	return "(" + unit + ")"
}

// ParamRecord is the function param: it belongs to the session, since it gives
// what the caller set.
var ParamRecord = &lang.Record{
	Name: "param", Summary: "a value that can be set from outside, by --set name=value", Topic: "data", Sets: true,
	Params: []lang.Param{
		{Name: "name", Is: lang.Text, Needed: true, Help: `name and unit, "outboard (cm)"`},
		{Name: "default", Is: lang.Number | lang.Text | lang.Flag, Needed: true, Help: "the value when nothing is set; its kind is the parameter's"},
		{Name: "low", Is: lang.Number, ByName: true, Help: "least value that may be set"},
		{Name: "high", Is: lang.Number, ByName: true, Help: "greatest value that may be set"},
		{Name: "choices", Is: lang.List, ByName: true, Help: "the only values that may be set"},
		{Name: "help", Is: lang.Text, ByName: true, Help: "what it is, for thole params"},
	},
	Gives:   "the value",
	Errors:  []string{"a value outside low and high or not among the choices", "arguments that are not written out"},
	Example: `area_now = param("area_now (cm²)", 820, low=600, high=1000, help="blade the crew rows today")`,
	Do:      param,
}

func param(c *lang.Call) (starlark.Value, error) {
	s := Of(c.Thread)
	name, unit, _ := table.Heading(c.Text("name"))
	written := goValue(c.Value("default"))
	p := ParamValue{Name: name, Unit: unit, Value: written, Written: written, Help: c.Text("help")}
	if s != nil {
		if text, ok := s.cfg.Set[name]; ok {
			v, err := setValue(name, unit, text, written)
			if err != nil {
				return nil, err
			}
			p.Value, p.Set = v, true
			if x, isNumber := v.(float64); isNumber && unit != "" {
				if plainNumber, u, err := table.ParseQuantity(text); err == nil && u != "" && u != unit {
					s.Remark(Message{What: fmt.Sprintf("%s: %s is %s", name, table.WithUnit(table.FourFigures(plainNumber), u), table.WithUnit(table.FourFigures(x), unit))})
				}
			}
		}
	}
	d := ParamDecl{Name: name, Unit: unit, Help: p.Help, Low: c.Number("low"), High: c.Number("high"), HasLow: c.Given("low"), HasHigh: c.Given("high")}
	for _, v := range c.Items("choices") {
		d.Choices = append(d.Choices, goValue(v))
	}
	if err := d.allows(p.Value); err != nil {
		return nil, c.Wrong("default", lang.AsError(err))
	}
	if s != nil {
		s.params = append(s.params, p)
	}
	switch v := p.Value.(type) {
	case float64:
		return lang.Num(v), nil
	case string:
		return starlark.String(v), nil
	case bool:
		return starlark.Bool(v), nil
	}
	return starlark.None, nil
}

func goValue(v starlark.Value) any {
	switch v := v.(type) {
	case starlark.String:
		return string(v)
	case starlark.Bool:
		return bool(v)
	}
	x, _ := lang.AsNumber(v)
	return x
}

// setValue reads what was set into the parameter's kind; a number may bring its
// unit, because there it is written.
func setValue(name, unit, text string, written any) (any, error) {
	again := func(v string) string { return "--set " + name + "=" + v }
	switch w := written.(type) {
	case string:
		return text, nil
	case bool:
		switch strings.ToLower(text) {
		case "true", "yes", "on", "1":
			return true, nil
		case "false", "no", "off", "0":
			return false, nil
		}
		return nil, lang.Mistake(name+" is True or False", again("True"), "%s cannot be %q", name, text)
	case float64:
		x, have, err := table.ParseQuantity(text)
		if err == nil && have != "" {
			x, err = table.Convert(x, have, unit)
		}
		if err != nil {
			return nil, lang.Mistake(err.Error()+"; "+name+" is a number"+map[bool]string{true: " in " + unit}[unit != ""], again(number(w)+unit), "%s cannot be %q", name, text)
		}
		return x, nil
	}
	return text, nil
}

// shown writes a parameter for the document.
func (p ParamValue) shown() report.Param {
	return report.Param{Name: p.Name, Unit: p.Unit, Value: writtenValue(p.Name, p.Value), Written: writtenValue(p.Name, p.Written), Set: p.Set, Help: p.Help}
}

func writtenValue(name string, v any) string {
	switch v := v.(type) {
	case float64:
		return table.FourFigures(v)
	case bool:
		return starlark.Bool(v).String()
	}
	return fmt.Sprint(v)
}
