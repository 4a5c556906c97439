package session

import (
	"errors"
	"fmt"
	"strings"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/engine/table"
)

// explain turns an error of a run into messages: a coach's words, the innermost
// place in the user's own files, and the calls that led there.
func (s *Study) explain(err error) Messages {
	// errors of a loaded file were explained where they arose
	var inner Messages
	if errors.As(err, &inner) {
		return inner
	}
	stack := stackOf(err)
	if m := s.stopped(err, stack); m != nil {
		return Messages{m}
	}

	m := &Message{Trace: trace(err, stack)}
	e := lang.AsError(err)
	var te *table.Error
	switch {
	case e != nil:
		m.What, m.Why, m.Type = e.What, e.Why, e.Type
		if m.Type == "" && e.Advise != nil {
			m.Type = e.Advise()
		}
	case errors.As(err, &te):
		m.What, m.Why, m.Type = te.What, te.Why, te.Type
		if te.File != "" {
			m.File, m.Line, m.Col, m.Source = te.File, te.Line, te.Col, te.Source
			m.Caret, m.CaretLen = max(0, te.Col-1), te.CaretLength
			return Messages{m}
		}
		e = &lang.Error{Index: -1}
	default:
		e = s.translate(root(err), m, stack)
		if s.refusedCall(root(err).Error(), stack) {
			stack = stack[:len(stack)-1]
		}
	}
	s.locate(m, stack, e)
	if e.Place != "" {
		s.pointAtPlace(m, stack, e.Place)
	}
	return Messages{m}
}

// pointAtPlace moves a message about a place of a text to that place, where the
// text is written out in the call.
func (s *Study) pointAtPlace(m *Message, stack starlark.CallStack, place string) {
	u := s.units[m.File]
	if u == nil {
		return
	}
	for i := len(stack) - 1; i >= 0; i-- {
		if stack[i].Pos.Filename() != m.File {
			continue
		}
		call := u.calls[at(stack[i].Pos)]
		if call == nil {
			return
		}
		for _, arg := range call.Args {
			if kv, ok := arg.(*syntax.BinaryExpr); ok && kv.Op == syntax.EQ {
				arg = kv.Y
			}
			for _, lit := range literalTexts(arg) {
				if j := strings.Index(lit.Value.(string), place); j >= 0 {
					path, _, _ := strings.Cut(strings.Trim(place, "{}"), ":")
					u.putInText(m, lit, j+1, len([]rune(path)))
					return
				}
			}
		}
		return
	}
}

// root gives the first error of a chain, in the interpreter's words.
func root(err error) error {
	for {
		next := errors.Unwrap(err)
		if next == nil {
			return err
		}
		err = next
	}
}

// stackOf gives the whole stack of an error, outermost first, over the threads
// it crossed.
func stackOf(err error) starlark.CallStack {
	var deepest starlark.CallStack
	for e := err; e != nil; e = errors.Unwrap(e) {
		switch e := e.(type) {
		case *crossing:
			deepest = append(append(starlark.CallStack(nil), e.outer...), innerStack(e.cause)...)
		case *starlark.EvalError:
			if deepest == nil {
				deepest = e.CallStack
			}
		}
	}
	return deepest
}

func innerStack(err error) starlark.CallStack {
	var e *starlark.EvalError
	if errors.As(err, &e) {
		return e.CallStack
	}
	return nil
}

// trace writes the whole story for --debug.
func trace(err error, stack starlark.CallStack) string {
	var b strings.Builder
	for _, f := range stack {
		fmt.Fprintf(&b, "  %s: in %s\n", f.Pos, f.Name)
	}
	for e := err; e != nil; e = errors.Unwrap(e) {
		fmt.Fprintf(&b, "  %T: %v\n", e, e)
	}
	return b.String()
}

// locate sets the message's place: the innermost call that stands in one of the
// user's own files, and within it what the error points at.
func (s *Study) locate(m *Message, stack starlark.CallStack, e *lang.Error) {
	k := -1
	for i := len(stack) - 1; i >= 0; i-- {
		name := stack[i].Pos.Filename()
		if s.units[name] != nil && !s.library[name] {
			k = i
			break
		}
	}
	if k < 0 {
		return
	}
	u := s.units[stack[k].Pos.Filename()]
	pos := stack[k].Pos
	// an argument can be pointed at only in the call that was refused: nothing
	// but the builtin itself lies between
	direct := true
	for _, f := range stack[k+1:] {
		if s.units[f.Pos.Filename()] != nil {
			direct = false
		}
	}
	from, to := u.target(pos, e, direct)
	u.put(m, from, to)
	m.From = s.from(stack[:k], u, m)
}

// target finds what a caret stands under for an error at a position.
func (u *unit) target(pos syntax.Position, e *lang.Error, direct bool) (from, to syntax.Position) {
	if call := u.calls[at(pos)]; call != nil {
		if direct {
			if arg := findArg(call, e); arg != nil {
				return u.argSpan(arg, e.Part)
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
	switch n := u.nodes[at(pos)].(type) {
	case *syntax.BinaryExpr:
		return n.OpPos, after(n.OpPos, n.Op.String())
	case *syntax.DotExpr:
		return n.Name.Span()
	case *syntax.IndexExpr:
		return n.Y.Span()
	case *syntax.Ident:
		return n.Span()
	}
	return pos, after(pos, "x")
}

func after(p syntax.Position, s string) syntax.Position {
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
func (u *unit) argSpan(arg syntax.Expr, part lang.Part) (from, to syntax.Position) {
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
func (u *unit) put(m *Message, from, to syntax.Position) {
	m.File, m.Line = u.src.name, int(from.Line)
	m.Col = u.src.column(m.Line, int(from.Col))
	m.Source = u.src.line(m.Line)
	m.Caret = m.Col - 1
	m.CaretLen = int(to.Col - from.Col)
	if to.Line != from.Line {
		m.CaretLen = len([]rune(m.Source)) - m.Caret
	}
	m.CaretLen = max(1, m.CaretLen)
}

// from lists the calls that led to a place, outermost first, in the user's own
// files: what to look at next when the place itself is a helper of theirs.
func (s *Study) from(stack starlark.CallStack, u *unit, m *Message) []string {
	var calls []string
	for _, f := range stack {
		name := f.Pos.Filename()
		outer := s.units[name]
		if outer == nil || s.library[name] {
			continue
		}
		call := outer.calls[at(f.Pos)]
		if call == nil {
			continue
		}
		where := fmt.Sprintf("line %d", f.Pos.Line)
		if name != u.src.name {
			where = fmt.Sprintf("%s:%d", name, f.Pos.Line)
		}
		if fn := syntax.Start(call.Fn); outer == u && int(fn.Line) == m.Line && u.src.column(m.Line, int(fn.Col)) == m.Col {
			continue // a function that calls itself: the place says it already
		}
		line := where + ": " + cutText(outer.whole(call), 60)
		if n := len(calls); n == 0 || calls[n-1] != line {
			calls = append(calls, line)
		}
	}
	if len(calls) > 3 {
		calls = append(calls[:1], calls[len(calls)-2:]...)
	}
	return calls
}

func cutText(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-3]) + "..."
	}
	return s
}

// stopped is the message of a run that a limit or Ctrl-C ended.
func (s *Study) stopped(err error, stack starlark.CallStack) *Message {
	tooMuch := errors.Is(err, errTooMuch) || s.meter.over.Load()
	if s.ctx.Err() == nil && !tooMuch {
		return nil
	}
	m := &Message{Level: Stopped, Trace: trace(err, stack)}
	s.locate(m, stack, &lang.Error{Index: -1})
	again := "thole run " + s.doc.Study
	switch {
	case tooMuch:
		m.What = fmt.Sprintf("stopped at the memory limit, %s", megabytes(s.limits.Heap))
		m.Why = "lists, texts or tables that the study holds have grown beyond it"
		m.Type = again + fmt.Sprintf(" --memory-limit %d, or fewer points", 2*s.limits.Heap>>20)
	case errors.Is(s.ctx.Err(), errDeadline):
		m.What = fmt.Sprintf("stopped at the time limit, %s", seconds(s.limits.Seconds))
		m.Why = s.progressText()
		m.Type = fmt.Sprintf("%s --time-limit %s", again, number(2*s.limits.Seconds))
	default:
		m.What = "stopped"
		m.Why = s.progressText()
		m.Type = again
	}
	return m
}

func megabytes(n uint64) string { return fmt.Sprintf("%d MB", n>>20) }

func seconds(x float64) string { return number(x) + " s" }

func number(x float64) string { return trimZero(fmt.Sprintf("%.1f", x)) }

// progressText says what is done when a computation was stopped.
func (s *Study) progressText() string {
	if p := s.last.Load(); p != nil && p.step.Done > 0 {
		if p.step.Done >= p.step.Of {
			return fmt.Sprintf("%d %s are done and kept, what follows them is not; no answer was told", p.step.Done, noun(p.what))
		}
		return fmt.Sprintf("%d of %d %s are done and kept; no answer was told", p.step.Done, p.step.Of, noun(p.what))
	}
	return "it was still at work here; no answer was told"
}

// nouns names what is counted while something is done.
var nouns = map[string]string{"rowing": "strokes", "drawing": "draws", "judging": "pieces"}

func noun(what string) string {
	if n, ok := nouns[what]; ok {
		return n
	}
	return "points"
}

type progress struct {
	what string
	step Step
}
