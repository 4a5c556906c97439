package session

import (
	"context"
	"errors"
	"fmt"
	"time"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/builtins/session/limits"
	"thole/builtins/session/message"
	"thole/builtins/session/source"
	"thole/engine/document"
	"thole/engine/table"
)

var errDeadline = context.DeadlineExceeded

// grace is how long a study may take to notice that it must stop. After it the
// run ends all the same; what does not come back is left behind.
const grace = 400 * time.Millisecond

// Outcome is what a run gave.
type Outcome struct {
	Document *document.Document // what was told, complete when Errors is empty
	Errors   message.Messages   // empty when all went well
	Stopped  bool               // a limit or Ctrl-C ended it

	Cautions message.Messages // with their places, as Document.Cautions without
	Remarks  message.Messages // notes for stderr
	Params   []ParamValue
	Files    []FileRead
	Written  []FileWritten
	Seeds    []int64
	Partial  []*table.Table // what stopped computations had
}

// Run runs a whole study. The context's end stops it: with a deadline the time
// limit is said, else that it was stopped.
func Run(ctx context.Context, name string, text []byte, cfg Config) *Outcome {
	s := newStudy(ctx, name, cfg)
	s.doc.Source = string(text)
	s.note(FileRead{Name: name, Role: "study", Data: text})
	errs := s.run(name, text)
	return s.outcome(errs)
}

func (s *Study) outcome(errs message.Messages) *Outcome {
	doc, placed := s.cautions.told()
	s.doc.Cautions = append(s.doc.Cautions, doc...)
	for _, p := range s.params {
		s.doc.Params = append(s.doc.Params, p.shown())
	}
	o := &Outcome{Document: s.doc, Errors: errs, Cautions: placed, Remarks: s.remarks, Params: s.params,
		Files: s.files, Written: s.written, Seeds: s.seeds, Partial: s.partial}
	for _, m := range errs {
		o.Stopped = o.Stopped || m.Level == message.Stopped
	}
	return o
}

// run reads, checks and executes the study.
func (s *Study) run(name string, text []byte) message.Messages {
	u, prog, errs := s.read(name, text)
	if errs != nil {
		return errs
	}
	if len(u.Tree.Stmts) == 0 {
		return message.Messages{emptyStudy(u.Src)}
	}
	if errs := s.checkParams(u); errs != nil {
		return errs
	}

	if u.Src.Title != "" {
		s.doc.Title = u.Src.Title
	}
	s.meter.WeighBase()
	globals, err := s.execute(prog, name)
	if errors.Is(err, errReadEnough) || len(s.faults) > 0 {
		return s.dataFaults(err)
	}
	if err != nil {
		return s.explain(err)
	}
	if s.cfg.ReadOnly {
		return nil
	}
	s.scope.Value = func(n string) (starlark.Value, bool) { v, ok := globals[n]; return v, ok }
	s.scope.Names = globals.Keys
	if errs := s.fillProse(u); errs != nil {
		return errs
	}
	if title, err := lang.FillFrom(u.Src.Title, s.scope.Value, s.scope.Names); err == nil &&
		u.Src.Title != "" && s.doc.Title == u.Src.Title {
		s.doc.Title = title
	}
	if !s.told && len(u.Src.Prose) == 0 {
		return message.Messages{tellsNothing(u)}
	}
	return nil
}

// read parses, checks and compiles a text.
func (s *Study) read(name string, text []byte) (*source.Unit, *starlark.Program, message.Messages) {
	u, m := parse(source.StudyOptions, name, text)
	if m != nil {
		return nil, nil, message.Messages{m}
	}
	s.scope.Units[name] = u
	if errs := s.scope.OwnNames(u); errs != nil {
		return u, nil, errs
	}
	if errs := s.scope.NoWhile(u); errs != nil {
		return u, nil, errs
	}
	prog, errs := s.compile(u)
	if errs != nil {
		return u, nil, errs
	}
	if errs := s.checkCalls(u); errs != nil {
		return u, nil, errs
	}
	if errs := s.checkPlaces(u); errs != nil {
		return u, nil, errs
	}
	if errs := s.checkFields(u); errs != nil {
		return u, nil, errs
	}
	return u, prog, nil
}

// parse reads a text, and words what is wrong with it.
func parse(options *syntax.FileOptions, name string, text []byte) (*source.Unit, *message.Message) {
	src, err := source.New(name, text)
	var u *source.Unit
	if err == nil {
		u, err = source.Parse(options, src)
	}
	if err != nil {
		return nil, message.Unreadable(src, err)
	}
	return u, nil
}

// compile makes the program that runs, from a tree of its own.
func (s *Study) compile(u *source.Unit) (*starlark.Program, message.Messages) {
	tree, err := source.StudyOptions.Parse(u.Src.Name, u.Src.Code, 0)
	if err != nil {
		return nil, message.Messages{message.Unreadable(u.Src, err)}
	}
	limits.Harden(tree)
	placeProse(tree, u.Src)
	prog, err := starlark.FileProgram(tree, s.isPredeclared)
	if err != nil {
		return nil, s.scope.ResolveMessages(u, err)
	}
	return prog, nil
}

func (s *Study) isPredeclared(name string) bool { return s.toolsNames().Has(name) }

// toolsNames gives the names every file starts with.
func (s *Study) toolsNames() starlark.StringDict {
	if s.tools == nil {
		s.tools = s.cfg.Library.Predeclared()
		for name, v := range limits.Guards {
			s.tools[name] = v
		}
	}
	return s.tools
}

// predeclared gives the names the study itself starts with: the tool's, and in
// a live session those the user gave.
func (s *Study) predeclared() starlark.StringDict {
	if s.scope.Start != nil {
		return s.scope.Start
	}
	return s.toolsNames()
}

// execute runs a program and waits for it, but not for ever: what does not
// notice that it must stop is left behind.
func (s *Study) execute(prog *starlark.Program, name string) (starlark.StringDict, error) {
	thread := s.newThread(name)
	return s.wait(thread, func() (starlark.StringDict, error) { return prog.Init(thread, s.predeclared()) })
}

// wait runs a piece of work on its own goroutine, so that a stop always ends it.
func (s *Study) wait(thread *starlark.Thread, work func() (starlark.StringDict, error)) (starlark.StringDict,
	error) {
	release := s.onStop(thread)
	defer release()
	type result struct {
		globals starlark.StringDict
		err     error
	}
	done := make(chan result, 1)
	go func() {
		defer func() {
			if p := recover(); p != nil {
				done <- result{nil, fmt.Errorf("panic: %v", p)}
			}
		}()
		globals, err := work()
		done <- result{globals, err}
	}()
	select {
	case r := <-done:
		return r.globals, r.err
	case <-s.ctx.Done():
	}
	select {
	case r := <-done:
		return r.globals, r.err
	case <-time.After(grace):
		return nil, s.ctx.Err()
	}
}

func emptyStudy(src *source.Text) *message.Message {
	m := &message.Message{What: "this study is empty", File: src.Name,
		Why:  "there is no line in it that does something",
		Type: "thole new NAME --like sweep   for one to start on"}
	if len(src.Prose) > 0 || src.Title != "" {
		m.What = "this study has text, but no lines to run"
		m.Why = "the lines to run stand between ```starlark and ```"
		m.Type = "```starlark"
	}
	return m
}

func tellsNothing(u *source.Unit) *message.Message {
	m := &message.Message{What: "this study tells nothing", File: u.Src.Name, Why: "its lines ran well, " +
		"but none shows a value or gives an answer", Type: `answer("...") or show(...) as the last line`}
	last := u.Tree.Stmts[len(u.Tree.Stmts)-1]
	if a, ok := last.(*syntax.AssignStmt); ok {
		if id, ok := a.LHS.(*syntax.Ident); ok {
			m.Type = "show(" + id.Name + ") as the last line"
		}
	}
	return m
}
