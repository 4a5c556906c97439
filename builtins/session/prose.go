package session

import (
	"errors"
	"strings"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/engine/document"
)

// The prose of a Markdown study is note. Each stretch takes its place among
// what is told when the lines around it run, and is filled when the run is over.

const proseGuard = guardMark + "prose"

func init() {
	addGuard(proseGuard, func(s *Study, _ *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
		n, _ := starlark.AsInt32(args[0])
		s.tellProse(n)
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
func placeProse(tree *syntax.File, src *source) {
	if len(src.prose) == 0 {
		return
	}
	tell := func(n int, pos syntax.Position) syntax.Stmt {
		number := &syntax.Literal{Token: syntax.INT, TokenPos: pos, Raw: "0", Value: int64(n)}
		return &syntax.ExprStmt{X: guard("prose", pos, number)}
	}
	var stmts []syntax.Stmt
	k := 0
	end := syntax.MakePosition(&src.name, int32(len(src.lines)), 1)
	for _, stmt := range tree.Stmts {
		start := syntax.Start(stmt)
		for k < len(src.prose) && src.prose[k].next != 0 && src.prose[k].next <= int(start.Line) {
			stmts = append(stmts, tell(k, start))
			k++
		}
		stmts = append(stmts, stmt)
	}
	for ; k < len(src.prose); k++ {
		stmts = append(stmts, tell(k, end))
	}
	tree.Stmts = stmts
}

// fillProse fills the prose from the study's names, at the end of the run.
func (s *Study) fillProse(u *unit) Messages {
	var ms Messages
	for _, p := range s.proseNotes {
		part := u.src.prose[p.n]
		text, err := fillMarkdown(part.markdown, s.names, s.list)
		if err != nil {
			ms = append(ms, u.src.proseMessage(part, err))
			continue
		}
		p.note.Markdown = text
		s.markdown(text)
		if e := s.size.refused; e != nil {
			return append(ms, u.src.proseMessage(part, e))
		}
	}
	return ms
}

// proseMessage points an error of a place at its line.
func (s *source) proseMessage(part prose, err error) *Message {
	m := &Message{What: err.Error(), File: s.name, Line: part.line}
	if e := lang.AsError(err); e != nil {
		m.What, m.Why, m.Type = e.What, e.Why, e.Type
	}
	var pe *lang.PlaceError
	if errors.As(err, &pe) && pe.Start <= len(part.markdown) {
		before := part.markdown[:pe.Start]
		m.Line = part.line + strings.Count(before, "\n")
		m.Caret = len([]rune(before[strings.LastIndex(before, "\n")+1:])) + 1
		m.Col = m.Caret + 1
		place := part.markdown[pe.Start:min(pe.End, len(part.markdown))]
		name, _, _ := strings.Cut(strings.Trim(place, "{}"), ":")
		name, _, _ = strings.Cut(name, ".")
		m.CaretLen = max(1, len([]rune(name)))
	}
	m.Source = s.line(m.Line)
	return m
}

// fillMarkdown fills the places of prose and leaves code alone: what stands
// between backticks or in another language's fence.
func fillMarkdown(md string, names func(string) (starlark.Value, bool), list func() []string) (string, error) {
	var b strings.Builder
	for at := 0; at < len(md); {
		end := nextCode(md, at)
		filled, err := fillFlat(md[at:end], names, list)
		if err != nil {
			var pe *lang.PlaceError
			if errors.As(err, &pe) {
				return "", &lang.PlaceError{Start: pe.Start + at, End: pe.End + at, Err: pe.Err}
			}
			return "", err
		}
		b.WriteString(filled)
		at = end
		if at < len(md) {
			close := codeEnd(md, at)
			b.WriteString(md[at:close])
			at = close
		}
	}
	return b.String(), nil
}

// fillFlat fills without taking an indent off: Markdown means something by it.
func fillFlat(text string, names func(string) (starlark.Value, bool), list func() []string) (string, error) {
	return lang.FillPlaces(text, names, list)
}

// nextCode finds where the next code begins, or the end.
func nextCode(md string, from int) int {
	if i := strings.IndexByte(md[from:], '`'); i >= 0 {
		return from + i
	}
	return len(md)
}

// codeEnd finds where code that begins at a run of backticks ends.
func codeEnd(md string, at int) int {
	n := 0
	for at+n < len(md) && md[at+n] == '`' {
		n++
	}
	ticks := md[at : at+n]
	for i := at + n; i < len(md); {
		j := strings.Index(md[i:], ticks)
		if j < 0 {
			return at + n // a lone backtick
		}
		j += i
		run := j
		for run < len(md) && md[run] == '`' {
			run++
		}
		if run-j == n {
			return run
		}
		i = run
	}
	return at + n
}
