package session

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/document"
	"thole/engine/table"
)

// Study is one run of a study: what it has told so far and what it stands on.
// Bindings get it by Of.
type Study struct {
	cfg    Config
	limits Limits
	ctx    context.Context

	doc      *document.Document
	results  map[string]bool
	cautions cautionBook
	remarks  Messages // notes for stderr
	files    []FileRead
	written  []FileWritten
	seeds    []int64
	params   []ParamValue
	partial  []*table.Table
	told     bool
	size     toldSize

	units    map[string]*unit                    // by file name
	library  map[string]bool                     // files that are the tool's own, never blamed
	modules  map[string]*module                  // loaded files
	names    func(string) (starlark.Value, bool) // the study's top-level names
	list     func() []string
	shadowed func(string) bool // names of the tool that the user gave another meaning

	tools      starlark.StringDict // names every file starts with
	start      starlark.StringDict // those of a live session; nil: tools
	main       *starlark.Thread
	meter      meter
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
	return &Study{
		cfg: cfg, limits: cfg.Limits.filled(), ctx: ctx,
		doc:     &document.Document{Study: name, Version: cfg.Version, Command: cfg.Command},
		results: map[string]bool{}, units: map[string]*unit{}, library: map[string]bool{}, modules: map[string]*module{},
		names:    func(string) (starlark.Value, bool) { return nil, false },
		list:     func() []string { return nil },
		shadowed: func(string) bool { return false },
	}
}

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
func (s *Study) Remark(m Message) {
	m.Level = Remark
	s.mu.Lock()
	defer s.mu.Unlock()
	s.remarks = append(s.remarks, &m)
}

// ReadFile reads a file of the study's folder and notes that it was read.
func (s *Study) ReadFile(name string) ([]byte, error) {
	if s.cfg.Files == nil {
		return nil, lang.Mistake("there is no folder here to read from", "the numbers in the study itself, as table([...])", "%s cannot be read", name)
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
			s.files[i].Table = t
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

// host is what a thread stands on: the study, and whether the thread is inside
// a function handed to vary and its like.
type host struct {
	*Study
	inside   string          // "vary" while one of its calls runs
	loading  bool            // a loaded file's own lines run
	cautions *[]lang.Caution // where cautions of such a call go
	prints   *[]string
}

func hostOf(thread *starlark.Thread) *host {
	h, _ := lang.HostOf(thread).(*host)
	return h
}

// newThread makes a thread for this study.
func (s *Study) newThread(name string) *starlark.Thread {
	t := &starlark.Thread{Name: name}
	t.Print = func(t *starlark.Thread, msg string) { hostOf(t).print(msg) }
	t.Load = s.load
	t.SetLocal(studyKey, s)
	lang.SetHost(t, &host{Study: s})
	s.meter.watch(s, t)
	return t
}

func (h *host) print(msg string) {
	if h.prints != nil {
		*h.prints = append(*h.prints, msg)
		return
	}
	if h.cfg.Print != nil {
		h.cfg.Print(msg)
	}
}

// Allow refuses what a function handed to vary may not do.
func (h *host) Allow(thread *starlark.Thread, r *lang.Record) error {
	if h.inside == "" || !r.Tells && !r.Reads && !r.Sets {
		return nil
	}
	if h.loading {
		what := map[bool]string{true: "tell", false: "read or ask"}[r.Tells]
		return lang.Mistake("a loaded file may define, but not "+what+": the study that loads it does that", "a def in this file, called by the study", "%s cannot be called in a loaded file", r.Name)
	}
	what, instead := "tell", "give the value back with return, and "+r.Name+"(...) after "+h.inside
	switch {
	case r.Reads:
		what, instead = "read files", "the table read above, outside the function"
	case r.Sets:
		what, instead = "ask for parameters", r.Name+"(...) at the top of the study"
	}
	return lang.Mistake(fmt.Sprintf("%s calls it many times and in any order, so it may not %s", h.inside, what), instead,
		"%s cannot be called inside this function", r.Name)
}

// Caution collects a caution: into the call's own list inside a function that
// is called many times, so that the order never depends on cores.
func (h *host) Caution(thread *starlark.Thread, c lang.Caution) {
	if h.cautions != nil {
		*h.cautions = append(*h.cautions, c)
		return
	}
	h.Study.cautions.add(c, h.place(thread, c))
}

// place finds where in the study a caution arose.
func (s *Study) place(thread *starlark.Thread, c lang.Caution) *Message {
	m := &Message{Level: Beware, What: c.Text, Why: c.Why, Type: c.Type}
	s.locate(m, thread.CallStack(), &lang.Error{Arg: c.Arg, Index: -1})
	return m
}

// Lookup finds a top-level name: of the file that calls, else of the study.
func (h *host) Lookup(thread *starlark.Thread, name string) (starlark.Value, bool) {
	if v, ok := h.names(name); ok {
		return v, true
	}
	for depth := 0; depth < thread.CallStackDepth(); depth++ {
		if fn, ok := thread.DebugFrame(depth).Callable().(*starlark.Function); ok {
			v, ok := fn.Globals()[name]
			return v, ok
		}
	}
	return nil, false
}

// Names lists what Lookup finds.
func (h *host) Names(thread *starlark.Thread) []string {
	if names := h.list(); len(names) > 0 {
		return names
	}
	for depth := 0; depth < thread.CallStackDepth(); depth++ {
		if fn, ok := thread.DebugFrame(depth).Callable().(*starlark.Function); ok {
			return fn.Globals().Keys()
		}
	}
	return nil
}

// Quantity gives the unit and digits of a stroke's field.
func (h *host) Quantity(name string) (lang.Field, bool) { return h.cfg.Library.Quantity(name) }
