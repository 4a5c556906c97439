package session

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"thole/builtins/lang"
	"thole/builtins/session/message"
	"thole/builtins/session/source"
	"thole/engine/table"
)

// checkParams holds the study's parameters against what was set.
func (s *Study) checkParams(u *source.Unit) message.Messages {
	decls, ms := params(u)
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
		return s.checkSet(u.Src.Name)
	}
	sort.Strings(unknown)
	name := unknown[0]
	m := &message.Message{Usage: true, What: fmt.Sprintf("thole run: %s has no parameter %q", u.Src.Name,
		name)}
	if len(decls) == 0 {
		m.Why, m.Type = "it has none", "thole run "+u.Src.Name
		return message.Messages{m}
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
	m.Type = fmt.Sprintf("thole run %s --set %s=%s", u.Src.Name, d.Name, s.cfg.Set[name])
	return message.Messages{m}
}

// checkSet holds the values that were set against their parameters' kinds and
// bounds, before anything runs.
func (s *Study) checkSet(study string) message.Messages {
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
			return message.Messages{{Usage: true, What: "thole run: " + e.What, Why: e.Why,
				Type: "thole run " + study + " " + e.Type}}
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
		bounds, near := table.FourFigures(d.Low)+" to "+table.FourFigures(d.High),
			math.Max(d.Low, math.Min(d.High, x))
		switch {
		case !d.HasLow:
			bounds, near = "up to "+table.FourFigures(d.High), d.High
		case !d.HasHigh:
			bounds, near = table.FourFigures(d.Low)+" or more", d.Low
		}
		return lang.Mistake("the study allows "+bounds+about, "--set "+d.Name+"="+number(near),
			"%s %s is outside %s", d.Name, table.WithUnit(number(x), d.Unit), bounds)
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
	return lang.Mistake("the study allows "+lang.Listed(names, "or", 12)+about, "--set "+d.Name+"="+near,
		"%s cannot be %v", d.Name, v)
}

func inBrackets(unit string) string {
	if unit == "" {
		return ""
	}
	return "(" + unit + ")"
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
			return nil, lang.Mistake(err.Error()+"; "+name+" is a number"+map[bool]string{true: " in " +
				unit}[unit != ""], again(number(w)+unit), "%s cannot be %q", name, text)
		}
		return x, nil
	}
	return text, nil
}
