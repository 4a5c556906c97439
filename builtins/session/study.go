package session

import (
	"context"
	"slices"
	"sync"
	"sync/atomic"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session/limits"
	"thole/builtins/session/message"
	"thole/builtins/session/source"
	"thole/engine/document"
	"thole/engine/table"
)

// Study is one run of a study: what it has told so far and what it stands on.
// Bindings get it by Of.
type Study struct {
	cfg Config
	ctx context.Context

	doc      *document.Document
	results  map[string]bool
	cautions cautionBook
	remarks  message.Messages // notes for stderr
	files    []FileRead
	written  []FileWritten
	seeds    []int64
	params   []ParamValue
	partial  []*table.Table
	faults   message.Messages // of the data read so far; see faults.go
	told     bool
	size     toldSize

	scope    *message.Scope     // its texts and names
	modules  map[string]*module // loaded files
	shadowed func(string) bool  // names of the tool that the user gave another meaning

	tools      starlark.StringDict // names every file starts with
	meter      *limits.Meter
	mu         sync.Mutex // guards what parallel calls may touch: files, seeds, prints
	decls      []ParamDecl
	proseNotes []proseNote
	last       atomic.Pointer[progress]
}

const studyKey = "thole.study"

// Of gives the study that a thread runs, nil outside one.
func Of(thread *starlark.Thread) *Study {
	if thread == nil {
		return nil
	}
	s, _ := thread.Local(studyKey).(*Study)
	return s
}

// newStudy makes a study that has told nothing yet.
func newStudy(ctx context.Context, name string, cfg Config) *Study {
	s := &Study{
		cfg: cfg, ctx: ctx, meter: limits.New(ctx, cfg.Limits),
		doc:     &document.Document{Study: name, Version: cfg.Version, Command: cfg.Command},
		results: map[string]bool{}, modules: map[string]*module{},
		shadowed: func(string) bool { return false },
	}
	s.scope = &message.Scope{
		Library: cfg.Library, Units: map[string]*source.Unit{}, Ours: map[string]bool{},
		Value: func(string) (starlark.Value, bool) { return nil, false },
		Names: func() []string { return nil },
		Defines: func(file string) []string {
			if m := s.modules[file]; m != nil {
				return m.globals.Keys()
			}
			return nil
		},
	}
	return s
}

// Check refuses a value larger than the limits: "list" counts items, "text" bytes.
func (s *Study) Check(what string, n int) error { return s.meter.Check(what, n) }

// Context is done when the study must stop.
func (s *Study) Context() context.Context { return s.ctx }

// Config is what the study runs on.
func (s *Study) Config() Config { return s.cfg }

// Extra is Config.Extra. A nil study has none.
func (s *Study) Extra() any {
	if s == nil {
		return nil
	}
	return s.cfg.Extra
}

// Document is what has been told so far. Cautions and prose join it at the end.
func (s *Study) Document() *document.Document { return s.doc }

// Caution tells a sentence that the reader must see, once.
func (s *Study) Caution(thread *starlark.Thread, c lang.Caution) { hostOf(thread).Caution(thread, c) }

// Remark tells a note on stderr, as how data were read.
func (s *Study) Remark(m message.Message) {
	m.Level = message.Remark
	s.mu.Lock()
	defer s.mu.Unlock()
	s.remarks = append(s.remarks, &m)
}

// ReadFile reads a file of the study's folder and notes that it was read.
func (s *Study) ReadFile(name string) ([]byte, error) {
	if s.cfg.Files == nil {
		return nil, lang.Mistake("there is no folder here to read from",
			"the numbers in the study itself, as table([...])", "%s cannot be read", name)
	}
	data, err := s.cfg.Files.ReadFile(name)
	if err != nil {
		return nil, err
	}
	s.note(FileRead{Name: name, Role: "input", Data: data})
	return data, nil
}

func (s *Study) note(f FileRead) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, have := range s.files {
		if have.Name == f.Name && have.Role == f.Role {
			return
		}
	}
	s.files = append(s.files, f)
}

// NoteTable ties the table as read to the file it came from.
func (s *Study) NoteTable(name string, t *table.Table) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for i := range s.files {
		if s.files[i].Name == name && s.files[i].Role == "input" {
			have := s.files[i].Tables
			k := slices.IndexFunc(have, func(old *table.Table) bool { return old.Name == t.Name })
			if k < 0 {
				s.files[i].Tables = append(have, t)
			} else { // read once more
				have[k] = t
			}
		}
	}
}

// Seed notes the seed of a drawing call.
func (s *Study) Seed(seed int64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.seeds = append(s.seeds, seed)
}

// Keep holds on to what a computation had when it was stopped.
func (s *Study) Keep(t *table.Table) { s.partial = append(s.partial, t) }

// Progress says how far a computation is: "rowing", "drawing".
func (s *Study) Progress(what string, p Step) {
	s.last.Store(&progress{what, p})
	if s.cfg.Progress != nil {
		s.cfg.Progress(what, p)
	}
}
