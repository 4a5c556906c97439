package session

import (
	"context"

	"go.starlark.net/starlark"

	"thole/builtins/session/message"
	"thole/builtins/session/source"
	"thole/engine/document"
)

// A study may also run line by line, as at the prompt. The names are then in the
// hands of whoever types the lines (see package prompt): the study only checks,
// runs and notes what was told.

// NewLines opens a study that runs line by line. Its names are looked up among
// start; given and names tell those among them that its lines gave.
func NewLines(cfg Config, start starlark.StringDict, given func(string) bool, names func() []string) *Study {
	s := newStudy(context.Background(), "prompt", cfg)
	for name, v := range s.toolsNames() {
		start[name] = v
	}
	for name, v := range cfg.Library.AtPrompt() {
		start[name] = v
	}
	s.scope.Start, s.scope.Names, s.shadowed = start, names, given
	s.scope.Value = func(name string) (starlark.Value, bool) {
		v, ok := start[name]
		return v, ok && given(name)
	}
	return s
}

// Scope is what messages about the study's lines may call the nearest.
func (s *Study) Scope() *message.Scope { return s.scope }

// Line is what one block of lines told.
type Line struct {
	Document          *document.Document
	Told              bool
	Cautions, Remarks message.Messages
	Files             []FileWritten
}

// BeginLine makes the study ready for a block of lines: nothing is told yet.
func (s *Study) BeginLine(ctx context.Context, name string) {
	s.doc = &document.Document{Study: name, Version: s.cfg.Version, Command: s.cfg.Command}
	s.ctx, s.cautions, s.remarks, s.told, s.written = ctx, cautionBook{}, nil, false, nil
	s.size, s.results = toldSize{}, map[string]bool{} // each block by itself
	s.meter.Begin(ctx)
	s.last.Store(nil)
}

// EndLine gives what the block told.
func (s *Study) EndLine() Line {
	_, cautions := s.cautions.told()
	return Line{Document: s.doc, Told: s.told, Cautions: cautions, Remarks: s.remarks, Files: s.written}
}

// ReadLines parses a block and holds it against what can be known before it
// runs. Parameters are those of a file.
func (s *Study) ReadLines(name string, text []byte, file bool) (*source.Unit, message.Messages) {
	u, m := parse(source.LineOptions, name, text)
	if m != nil {
		return nil, message.Messages{m}
	}
	s.scope.Units[name] = u
	checks := []func(*source.Unit) message.Messages{s.scope.NoWhile, s.checkCalls, s.checkPlaces}
	if file {
		s.note(FileRead{Name: name, Role: "study", Data: text})
		checks = append([]func(*source.Unit) message.Messages{s.checkParams}, checks...)
	}
	for _, check := range checks {
		if ms := check(u); ms != nil {
			return nil, ms
		}
	}
	return u, nil
}

// RunLine runs the program of one statement, and says whether that told something.
func (s *Study) RunLine(prog *starlark.Program, name string) (globals starlark.StringDict, told bool,
	errs message.Messages) {
	before := s.told
	s.told = false
	globals, err := s.execute(prog, name)
	told, s.told = s.told, s.told || before
	if len(s.faults) > 0 {
		errs := s.dataFaults(err)
		s.faults = nil
		return nil, told, errs
	}
	if err != nil {
		return nil, told, s.explain(err)
	}
	return globals, told, nil
}

// Values runs a whole study for the values of its names.
func Values(ctx context.Context, name string, text []byte, cfg Config) (value func(string) (starlark.Value,
	bool), errs message.Messages) {
	s := newStudy(ctx, name, cfg)
	errs = s.run(name, text)
	return s.scope.Value, errs
}
