package session

import (
	"errors"
	"fmt"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session/limits"
	"thole/builtins/session/message"
	"thole/engine/table"
)

// explain turns an error of a run into messages: a coach's words, the innermost
// place in the user's own files, and the calls that led there.
func (s *Study) explain(err error) message.Messages {
	// errors of a loaded file were explained where they arose
	var inner message.Messages
	if errors.As(err, &inner) {
		return inner
	}
	stack := stackOf(err)
	if m := s.stopped(err, stack); m != nil {
		return message.Messages{m}
	}

	m := &message.Message{Trace: trace(err, stack)}
	e := lang.AsError(err)
	var te *table.Error
	switch {
	case e != nil:
		m.What, m.Why, m.Type = e.What, e.Why, e.Type
		if m.Type == "" && e.Advise != nil {
			m.Type = e.Advise()
		}
	case errors.As(err, &te):
		if te.File != "" {
			inFile := inFile(te)
			inFile.Trace = m.Trace
			return message.Messages{inFile}
		}
		m.What, m.Why, m.Type = te.What, te.Why, te.Type
		e = &lang.Error{Index: -1}
	default:
		e = s.scope.Translate(root(err), m, stack)
		if s.scope.RefusedCall(root(err).Error(), stack) {
			stack = stack[:len(stack)-1]
		}
	}
	s.scope.Locate(m, stack, e)
	if e.Place != "" {
		s.scope.PointAtPlace(m, stack, e.Place)
	}
	return message.Messages{m}
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

// stopped is the message of a run that a limit or Ctrl-C ended.
func (s *Study) stopped(err error, stack starlark.CallStack) *message.Message {
	tooMuch := s.meter.Exceeded(err)
	if s.ctx.Err() == nil && !tooMuch {
		return nil
	}
	m := &message.Message{Level: message.Stopped, Trace: trace(err, stack)}
	s.scope.Locate(m, stack, &lang.Error{Index: -1})
	again := "thole run " + s.doc.Study
	switch {
	case tooMuch:
		m.What = fmt.Sprintf("stopped at the memory limit, %s", megabytes(s.meter.Limits.Heap))
		m.Why = "lists, texts or tables that the study holds have grown beyond it"
		m.Type = again + fmt.Sprintf(" --memory-limit %d, or fewer points", 2*s.meter.Limits.Heap>>20)
		if s.sweeping() {
			m.Type += `; in vary, of=["speed", "heaviness"] keeps these fields alone`
		}
	case errors.Is(s.ctx.Err(), errDeadline):
		m.What = fmt.Sprintf("stopped at the time limit, %s", seconds(s.meter.Limits.Seconds))
		m.Why = s.progressText()
		m.Type = fmt.Sprintf("%s --time-limit %s", again, number(2*s.meter.Limits.Seconds))
		if s.sweeping() {
			m.Type += "; or in parts, --part 1/4 to 4/4, on several machines, and  thole gather " +
				s.doc.Study
		}
	default:
		m.What = "stopped"
		m.Why = s.progressText()
		m.Type = again
	}
	return m
}

func megabytes(n uint64) string { return fmt.Sprintf("%d MB", n>>20) }

func seconds(x float64) string { return number(x) + " s" }

func number(x float64) string { return limits.TrimZero(fmt.Sprintf("%.1f", x)) }

// progressText says what is done when a computation was stopped.
func (s *Study) progressText() string {
	if p := s.last.Load(); p != nil && p.step.Done > 0 {
		if p.step.Done >= p.step.Of {
			return fmt.Sprintf("%d %s are done and kept, what follows them is not; no answer was told",
				p.step.Done, noun(p.what))
		}
		return fmt.Sprintf("%d of %d %s are done and kept; no answer was told", p.step.Done, p.step.Of,
			noun(p.what))
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

// manyPoints is from how many points on a sweep is worth to be cut in parts.
const manyPoints = 1000

// sweeping says whether many points are being rowed.
func (s *Study) sweeping() bool {
	p := s.last.Load()
	return p != nil && p.what == "rowing" && p.step.Of >= manyPoints && p.step.Done < p.step.Of
}

type progress struct {
	what string
	step Step
}
