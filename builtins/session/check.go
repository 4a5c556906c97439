package session

import (
	"context"

	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/builtins/session/message"
	"thole/builtins/session/source"
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
func Check(name string, text []byte, cfg Config) (Summary, message.Messages) {
	s := newStudy(context.Background(), name, cfg)
	var sum Summary
	u, _, ms := s.read(name, text)
	if u == nil || ms != nil {
		return sum, ms
	}
	if len(u.Tree.Stmts) == 0 {
		return sum, message.Messages{emptyStudy(u.Src)}
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
func (s *Study) checkLoads(u *source.Unit) message.Messages {
	for _, stmt := range u.Tree.Stmts {
		load, ok := stmt.(*syntax.LoadStmt)
		if !ok {
			continue
		}
		name := load.ModuleName()
		refuse := func(n syntax.Node, m *message.Message) message.Messages {
			from, to := n.Span()
			m.Put(u, from, to)
			return message.Messages{m}
		}
		if s.scope.Units[name] != nil {
			continue
		}
		text, err := s.loadText(name)
		if err != nil {
			e := lang.AsError(err)
			if e == nil {
				e = message.Say("cannot load "+name, err.Error(), `load("club.star", "our_quad")`)
			}
			return refuse(load.Module, &message.Message{What: e.What, Why: e.Why, Type: e.Type})
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
		source.Given(loaded.Tree.Stmts, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) {
			names, has[id.Name] = append(names, id.Name), true
		})
		for _, from := range load.From {
			if !has[from.Name] {
				return refuse(from, message.NoSuchName(name, from.Name, names))
			}
		}
	}
	return nil
}
