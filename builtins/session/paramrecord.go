package session

import (
	"fmt"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session/message"
	"thole/engine/document"
	"thole/engine/table"
)

// ParamRecord is the function param: it belongs to the session, since it gives
// what the caller set.
var ParamRecord = &lang.Record{
	Name: "param", Summary: "a value that can be set from outside, by --set name=value", Topic: "data",
	Sets: true,
	Params: []lang.Param{
		{Name: "name", Is: lang.Text, Needed: true, Help: `name and unit, "outboard (cm)"`},
		{Name: "default", Is: lang.Number | lang.Text | lang.Flag, Needed: true,
			Help: "the value when nothing is set; its kind is the parameter's"},
		{Name: "low", Is: lang.Number, ByName: true, Help: "least value that may be set"},
		{Name: "high", Is: lang.Number, ByName: true, Help: "greatest value that may be set"},
		{Name: "choices", Is: lang.List, ByName: true, Help: "the only values that may be set"},
		{Name: "help", Is: lang.Text, ByName: true, Help: "what it is, for thole params"},
	},
	Gives: "the value",
	Errors: []string{"a value outside low and high or not among the choices",
		"arguments that are not written out"},
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
					s.Remark(message.Message{What: fmt.Sprintf("%s: %s is %s", name,
						table.WithUnit(table.FourFigures(plainNumber), u),
						table.WithUnit(table.FourFigures(x), unit))})
				}
			}
		}
	}
	d := ParamDecl{Name: name, Unit: unit, Help: p.Help, Low: c.Number("low"), High: c.Number("high"),
		HasLow: c.Given("low"), HasHigh: c.Given("high")}
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

// shown writes a parameter for the document.
func (p ParamValue) shown() document.Param {
	return document.Param{Name: p.Name, Unit: p.Unit, Value: writtenValue(p.Name, p.Value),
		Written: writtenValue(p.Name, p.Written), Set: p.Set, Help: p.Help}
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
