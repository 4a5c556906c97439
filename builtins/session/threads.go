package session

import (
	"context"
	"fmt"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session/limits"
	"thole/builtins/session/message"
)

// onStop cancels a thread as soon as the study must stop.
func (s *Study) onStop(t *starlark.Thread) (release func() bool) {
	return context.AfterFunc(s.ctx, func() { t.Cancel("stop") })
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

// Inside says whether a thread runs a function that is called many times and in any order,
// or a loaded file's own lines.
func Inside(thread *starlark.Thread) bool {
	h := hostOf(thread)
	return h != nil && h.inside != ""
}

// newThread makes a thread for this study.
func (s *Study) newThread(name string) *starlark.Thread {
	t := &starlark.Thread{Name: name}
	t.Print = func(t *starlark.Thread, msg string) { hostOf(t).print(msg) }
	t.Load = s.load
	t.SetLocal(studyKey, s)
	lang.SetHost(t, &host{Study: s})
	s.meter.Watch(t)
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
	if h.inside == "" {
		return h.onward(r)
	}
	if !r.Tells && !r.Reads && !r.Sets {
		return nil
	}
	if h.loading {
		what := map[bool]string{true: "tell", false: "read or ask"}[r.Tells]
		return lang.Mistake("a loaded file may define, but not "+what+": the study that loads it does that",
			"a def in this file, called by the study", "%s cannot be called in a loaded file", r.Name)
	}
	what, instead := "tell", "give the value back with return, and "+r.Name+"(...) after "+h.inside
	switch {
	case r.Reads:
		what, instead = "read files", "the table read above, outside the function"
	case r.Sets:
		what, instead = "ask for parameters", r.Name+"(...) at the top of the study"
	}
	return lang.Mistake(fmt.Sprintf("%s calls it many times and in any order, so it may not %s", h.inside,
		what), instead,
		"%s cannot be called inside this function", r.Name)
}

// Caution collects a caution: into the call's own list inside a function that
// is called many times, so that the order never depends on cores.
func (h *host) Caution(thread *starlark.Thread, c lang.Caution) {
	if h.cautions != nil {
		*h.cautions = append(*h.cautions, c)
		return
	}
	if len(h.Study.cautions.order) >= mostBlocks {
		h.tooMuch("%s cautions", limits.Grouped(mostBlocks+1))
		return
	}
	h.Study.cautions.add(c, h.place(thread, c))
}

// place finds where in the study a caution arose.
func (s *Study) place(thread *starlark.Thread, c lang.Caution) *message.Message {
	m := &message.Message{Level: message.Beware, What: c.Text, Why: c.Why, Type: c.Type}
	s.scope.Locate(m, thread.CallStack(), &lang.Error{Arg: c.Arg, Index: -1})
	return m
}

// Lookup finds a top-level name: of the file that calls, else of the study.
func (h *host) Lookup(thread *starlark.Thread, name string) (starlark.Value, bool) {
	if v, ok := h.scope.Value(name); ok {
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
	if names := h.scope.Names(); len(names) > 0 {
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
