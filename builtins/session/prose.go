package session

import (
	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/session/limits"
	"thole/builtins/session/message"
	"thole/builtins/session/source"
	"thole/engine/document"
)

// The prose of a Markdown study is note. Each stretch takes its place among
// what is told when the lines around it run, and is filled when the run is over.

const proseGuard = limits.Mark + "prose"

func init() {
	limits.Add(proseGuard, func(thread *starlark.Thread, args starlark.Tuple) (starlark.Value, error) {
		n, _ := starlark.AsInt32(args[0])
		Of(thread).tellProse(n)
		return starlark.None, nil
	})
}

// tellProse puts the place of a stretch of prose on the page.
func (s *Study) tellProse(n int) {
	note := &document.Note{}
	s.proseNotes = append(s.proseNotes, proseNote{n, note})
	s.doc.Blocks = append(s.doc.Blocks, note)
}

type proseNote struct {
	n    int
	note *document.Note
}

// placeProse sets the telling of each stretch before the first statement of the
// fence that follows it, and of the last one at the end.
func placeProse(tree *syntax.File, src *source.Text) {
	if len(src.Prose) == 0 {
		return
	}
	tell := func(n int, pos syntax.Position) syntax.Stmt {
		number := &syntax.Literal{Token: syntax.INT, TokenPos: pos, Raw: "0", Value: int64(n)}
		return &syntax.ExprStmt{X: limits.Guard("prose", pos, number)}
	}
	var stmts []syntax.Stmt
	k := 0
	end := syntax.MakePosition(&src.Name, int32(len(src.Lines)), 1)
	for _, stmt := range tree.Stmts {
		start := syntax.Start(stmt)
		for k < len(src.Prose) && src.Prose[k].Next != 0 && src.Prose[k].Next <= int(start.Line) {
			stmts = append(stmts, tell(k, start))
			k++
		}
		stmts = append(stmts, stmt)
	}
	for ; k < len(src.Prose); k++ {
		stmts = append(stmts, tell(k, end))
	}
	tree.Stmts = stmts
}

// fillProse fills the prose from the study's names, at the end of the run.
func (s *Study) fillProse(u *source.Unit) message.Messages {
	var ms message.Messages
	for _, p := range s.proseNotes {
		part := u.Src.Prose[p.n]
		text, err := source.FillMarkdown(part.Markdown, s.scope.Value, s.scope.Names)
		if err != nil {
			ms = append(ms, message.InProse(u.Src, part, err))
			continue
		}
		p.note.Markdown = text
		s.markdown(text)
		if e := s.size.refused; e != nil {
			return append(ms, message.InProse(u.Src, part, e))
		}
	}
	return ms
}
