package message

import (
	"errors"
	"fmt"
	"strings"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/builtins/session/source"
	"thole/engine/words"
)

// This file finds the place of a message: the file, line and column, and what
// its caret stands under.

// locate sets the message's place: the innermost call that stands in one of the
// user's own files, and within it what the error points at.
func (s *Scope) Locate(m *Message, stack starlark.CallStack, e *lang.Error) {
	k := -1
	for i := len(stack) - 1; i >= 0; i-- {
		name := stack[i].Pos.Filename()
		if s.Units[name] != nil && !s.Ours[name] {
			k = i
			break
		}
	}
	if k < 0 {
		return
	}
	u := s.Units[stack[k].Pos.Filename()]
	pos := stack[k].Pos
	// an argument can be pointed at only in the call that was refused: nothing
	// but the builtin itself lies between
	direct := true
	for _, f := range stack[k+1:] {
		if s.Units[f.Pos.Filename()] != nil {
			direct = false
		}
	}
	from, to := Target(u, pos, e, direct)
	m.Put(u, from, to)
	m.From = s.from(stack[:k], u, m)
}

// target finds what a caret stands under for an error at a position.
func Target(u *source.Unit, pos syntax.Position, e *lang.Error, direct bool) (from, to syntax.Position) {
	if call := u.Calls[source.At(pos)]; call != nil {
		if direct {
			if arg := findArg(call, e); arg != nil {
				return argSpan(arg, e.Part)
			}
		}
		if dot, ok := call.Fn.(*syntax.DotExpr); ok {
			return dot.Name.Span()
		}
		if id, ok := call.Fn.(*syntax.Ident); ok {
			return id.Span()
		}
		return call.Fn.Span()
	}
	switch n := u.Nodes[source.At(pos)].(type) {
	case *syntax.BinaryExpr:
		return n.OpPos, After(n.OpPos, n.Op.String())
	case *syntax.DotExpr:
		return n.Name.Span()
	case *syntax.IndexExpr:
		return n.Y.Span()
	case *syntax.Ident:
		return n.Span()
	}
	return pos, After(pos, "x")
}

func After(p syntax.Position, s string) syntax.Position {
	p.Col += int32(len([]rune(s)))
	return p
}

// findArg finds the argument that an error points at.
func findArg(call *syntax.CallExpr, e *lang.Error) syntax.Expr {
	place := 0
	for _, arg := range call.Args {
		switch arg := arg.(type) {
		case *syntax.BinaryExpr:
			if arg.Op == syntax.EQ {
				if id, ok := arg.X.(*syntax.Ident); ok && id.Name == e.Arg {
					return arg
				}
				continue
			}
		case *syntax.UnaryExpr:
			if arg.Op == syntax.STAR || arg.Op == syntax.STARSTAR {
				continue
			}
		}
		if e.Index >= 0 && place == e.Index {
			return arg
		}
		place++
	}
	return nil
}

// argSpan gives the part of an argument that is meant.
func argSpan(arg syntax.Expr, part lang.Part) (from, to syntax.Position) {
	kv, named := arg.(*syntax.BinaryExpr)
	if named && kv.Op == syntax.EQ {
		switch part {
		case lang.AtName:
			return kv.X.Span()
		case lang.AtValue:
			return kv.Y.Span()
		}
	}
	return arg.Span()
}

// put sets the place of a message to a span of the unit's text.
func (m *Message) Put(u *source.Unit, from, to syntax.Position) {
	m.File, m.Line = u.Src.Name, int(from.Line)
	m.Col = u.Src.Column(m.Line, int(from.Col))
	m.Source = u.Src.Line(m.Line)
	m.Caret = m.Col - 1
	m.CaretLen = int(to.Col - from.Col)
	if to.Line != from.Line {
		m.CaretLen = len([]rune(m.Source)) - m.Caret
	}
	m.CaretLen = max(1, m.CaretLen)
}

// from lists the calls that led to a place, outermost first, in the user's own
// files: what to look at next when the place itself is a helper of theirs.
func (s *Scope) from(stack starlark.CallStack, u *source.Unit, m *Message) []string {
	var calls []string
	for _, f := range stack {
		name := f.Pos.Filename()
		outer := s.Units[name]
		if outer == nil || s.Ours[name] {
			continue
		}
		call := outer.Calls[source.At(f.Pos)]
		if call == nil {
			continue
		}
		where := fmt.Sprintf("line %d", f.Pos.Line)
		if name != u.Src.Name {
			where = fmt.Sprintf("%s:%d", name, f.Pos.Line)
		}
		if fn := syntax.Start(call.Fn); outer == u && int(fn.Line) == m.Line &&
			u.Src.Column(m.Line, int(fn.Col)) == m.Col {
			continue // a function that calls itself: the place says it already
		}
		line := where + ": " + words.Cut(outer.Whole(call), 60)
		if n := len(calls); n == 0 || calls[n-1] != line {
			calls = append(calls, line)
		}
	}
	if len(calls) > 3 {
		calls = append(calls[:1], calls[len(calls)-2:]...)
	}
	return calls
}

// pointAtPlace moves a message about a place of a text to that place, where the
// text is written out in the call.
func (s *Scope) PointAtPlace(m *Message, stack starlark.CallStack, place string) {
	u := s.Units[m.File]
	if u == nil {
		return
	}
	for i := len(stack) - 1; i >= 0; i-- {
		if stack[i].Pos.Filename() != m.File {
			continue
		}
		call := u.Calls[source.At(stack[i].Pos)]
		if call == nil {
			return
		}
		for _, arg := range call.Args {
			if kv, ok := arg.(*syntax.BinaryExpr); ok && kv.Op == syntax.EQ {
				arg = kv.Y
			}
			for _, lit := range source.LiteralTexts(arg) {
				if j := strings.Index(lit.Value.(string), place); j >= 0 {
					path, _, _ := strings.Cut(strings.Trim(place, "{}"), ":")
					m.PutInText(u, lit, j+1, len([]rune(path)))
					return
				}
			}
		}
		return
	}
}

// putInText points a message at a byte of a text's value. Where the text is
// written with escapes the place is found by the words themselves.
func (m *Message) PutInText(u *source.Unit, lit *syntax.Literal, at, n int) {
	value := lit.Value.(string)
	raw := lit.Raw
	quote := 1
	if strings.HasPrefix(raw, `"""`) || strings.HasPrefix(raw, `'''`) {
		quote = 3
	}
	inRaw := quote + at
	if inRaw+n > len(raw) || raw[quote:len(raw)-quote] != value {
		if at > 0 && at <= len(value) {
			at-- // the brace
		}
		inRaw = strings.Index(raw, value[at:min(len(value), at+n+1)]) + 1
	}
	if inRaw < 0 || inRaw > len(raw) {
		inRaw = 0
	}
	before := raw[:inRaw]
	pos := lit.TokenPos
	pos.Line += int32(strings.Count(before, "\n"))
	if i := strings.LastIndex(before, "\n"); i >= 0 {
		pos.Col = 1 + int32(len([]rune(before[i+1:])))
	} else {
		pos.Col += int32(len([]rune(before)))
	}
	end := pos
	end.Col += int32(n)
	m.Put(u, pos, end)
}

// proseMessage points an error of a place at its line.
func InProse(s *source.Text, part source.Prose, err error) *Message {
	m := &Message{What: err.Error(), File: s.Name, Line: part.Line}
	if e := lang.AsError(err); e != nil {
		m.What, m.Why, m.Type = e.What, e.Why, e.Type
	}
	var pe *lang.PlaceError
	if errors.As(err, &pe) && pe.Start <= len(part.Markdown) {
		before := part.Markdown[:pe.Start]
		m.Line = part.Line + strings.Count(before, "\n")
		m.Caret = len([]rune(before[strings.LastIndex(before, "\n")+1:])) + 1
		m.Col = m.Caret + 1
		place := part.Markdown[pe.Start:min(pe.End, len(part.Markdown))]
		name, _, _ := strings.Cut(strings.Trim(place, "{}"), ":")
		name, _, _ = strings.Cut(name, ".")
		m.CaretLen = max(1, len([]rune(name)))
	}
	m.Source = s.Line(m.Line)
	return m
}
