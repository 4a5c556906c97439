package session

import (
	"errors"
	"maps"
	"slices"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/builtins/session/message"
	"thole/builtins/session/source"
)

// checkPlaces finds places in written-out texts that no name will fill, before
// anything is rowed: a long run should not end at a slip in its last sentence.
func (s *Study) checkPlaces(u *source.Unit) message.Messages {
	var ms message.Messages
	top := map[string]bool{}
	var names []string
	source.Given(u.Tree.Stmts, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) {
		if !top[id.Name] {
			top[id.Name] = true
			names = append(names, id.Name)
		}
	})
	known := func(name string) bool {
		_, own := s.scope.Value(name)
		return top[name] || own
	}
	for _, stmt := range u.Tree.Stmts {
		syntax.Walk(stmt, func(n syntax.Node) bool {
			if call, ok := n.(*syntax.CallExpr); ok {
				ms = append(ms, s.placesOfCall(u, call, known, append(names, s.scope.Names()...))...)
			}
			return true
		})
	}
	for _, part := range u.Src.Prose {
		_, err := source.FillMarkdown(part.Markdown, func(name string) (starlark.Value, bool) {
			return anyValue{}, known(name)
		}, func() []string { return names })
		if err != nil {
			ms = append(ms, message.InProse(u.Src, part, err))
		}
	}
	return ms
}

// anyValue stands for a value that is not there yet: it has every field.
type anyValue struct{ starlark.NoneType }

func (anyValue) Field(name string) (starlark.Value, lang.Field, bool) {
	return anyValue{}, lang.Field{}, true
}

// placesOfCall checks the texts of one call that fills texts.
func (s *Study) placesOfCall(u *source.Unit, call *syntax.CallExpr, known func(string) bool,
	names []string) message.Messages {
	id, ok := call.Fn.(*syntax.Ident)
	if !ok {
		return nil
	}
	r := s.cfg.Library.Record(id.Name)
	if r == nil || r.Rest == nil || !r.Fills {
		return nil
	}
	own := map[string]bool{}
	var texts []*syntax.Literal
	for _, arg := range call.Args {
		switch arg := arg.(type) {
		case *syntax.UnaryExpr:
			if arg.Op == syntax.STARSTAR {
				return nil // names nobody can see from here
			}
		case *syntax.BinaryExpr:
			if arg.Op == syntax.EQ {
				own[u.Whole(arg.X)] = true
				texts = append(texts, source.LiteralTexts(arg.Y)...)
				continue
			}
			texts = append(texts, source.LiteralTexts(arg)...)
		default:
			texts = append(texts, source.LiteralTexts(arg)...)
		}
	}
	var ms message.Messages
	all := append(slices.Clone(names), slices.Sorted(maps.Keys(own))...)
	for _, lit := range texts {
		text := lit.Value.(string)
		places, err := lang.Places(text)
		var pe *lang.PlaceError
		if errors.As(err, &pe) {
			m := &message.Message{What: pe.Err.What, Why: pe.Err.Why, Type: pe.Err.Type}
			m.PutInText(u, lit, pe.Start, pe.End-pe.Start)
			ms = append(ms, m)
		}
		for _, p := range places {
			if own[p.Path[0]] || known(p.Path[0]) {
				continue
			}
			e := lang.NoPlace(p, all)
			m := &message.Message{What: e.What, Why: e.Why, Type: e.Type}
			m.PutInText(u, lit, p.Start+1, len([]rune(p.Path[0])))
			ms = append(ms, m)
		}
	}
	return ms
}
