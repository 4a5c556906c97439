package typed

import (
	"context"
	"maps"
	"slices"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/session/source"
)

// state is all that a session is made of: its lines and what they gave. Undo goes
// back to an earlier one.
type state struct {
	given   starlark.StringDict // names the user gave, with their values
	log     []*Statement
	ran     map[*Statement]int // when each statement ran last, in steps of the session
	changed map[string]int     // when each name got another value than before
}

func newState() state {
	return state{given: starlark.StringDict{}, ran: map[*Statement]int{}, changed: map[string]int{}}
}

func (s state) clone() state {
	return state{maps.Clone(s.given), slices.Clone(s.log), maps.Clone(s.ran), maps.Clone(s.changed)}
}

// has tells whether the user gave a name.
func (s state) has(name string) bool { return s.given.Has(name) }

// giver gives the statement that gave a name its value.
func (s state) giver(name string) *Statement {
	for _, st := range slices.Backward(s.log) {
		if slices.Contains(st.Gives, name) {
			return st
		}
	}
	return nil
}

// stale gives the statements that stand on an old value, in order: what they read
// changed after they ran, or was given by one that is old itself for such a
// change. A def reads nothing before it is called, and what was given again since
// is of no interest.
func (s state) stale() []*Statement {
	var stale []*Statement
	changed := maps.Clone(s.changed)
	for _, st := range s.log {
		holds := s.holds(st)
		if st.def || len(holds) == 0 {
			continue
		}
		last := 0
		for _, name := range st.Reads {
			last = max(last, changed[name])
		}
		if last > s.ran[st] {
			stale = append(stale, st)
			for _, name := range holds {
				changed[name] = max(changed[name], last)
			}
		}
	}
	return stale
}

// holds gives the names whose values are still those of a statement.
func (s state) holds(st *Statement) []string {
	return slices.DeleteFunc(slices.Clone(st.Gives), func(name string) bool { return s.giver(name) != st })
}

// snapshot is a state to go back to, and what was done then.
type snapshot struct {
	what string
	state
}

// mostUndo is how many blocks can be taken back.
const mostUndo = 100

func (l *Session) snapshot(what string) {
	l.undo = append(l.undo, snapshot{what, l.clone()})
	l.undo = l.undo[max(0, len(l.undo)-mostUndo):]
}

// Undo takes the last block, or again, back. It gives what was taken back, as
// typed, and the names whose values changed by it, in the order they were given;
// ok is false where nothing is left to take back. A list that was changed in
// place stays changed.
func (l *Session) Undo() (what string, names []string, ok bool) {
	n := len(l.undo)
	if n == 0 {
		return "", nil, false
	}
	snap, now := l.undo[n-1], l.state
	l.undo, l.state = l.undo[:n-1], snap.state
	l.LeftOut.Undone = append(l.LeftOut.Undone, snap.what)
	for _, name := range slices.Sorted(maps.Keys(now.given)) {
		before, had := snap.given[name]
		if !had {
			delete(l.env, name)
			if v, ok := l.start[name]; ok {
				l.env[name] = v // the tool's own name is free again
			}
		} else if sameValue(now.given[name], before) {
			continue
		} else {
			l.env[name] = before
		}
		names = append(names, name)
	}
	place := func(name string) int {
		i := slices.IndexFunc(snap.log, func(st *Statement) bool { return slices.Contains(st.Gives, name) })
		if i < 0 {
			return len(snap.log)
		}
		return i
	}
	slices.SortStableFunc(names, func(a, b string) int { return place(a) - place(b) })
	return snap.what, names, true
}

// NextUndo tells what Undo would take back.
func (l *Session) NextUndo() (what string, ok bool) {
	if n := len(l.undo); n > 0 {
		return l.undo[n-1].what, true
	}
	return "", false
}

// sameValue tells whether two names hold the very same value.
func sameValue(a, b starlark.Value) bool {
	x, isTuple := a.(starlark.Tuple)
	y, also := b.(starlark.Tuple)
	if isTuple || also {
		return isTuple && also && len(x) == len(y) && (len(x) == 0 || &x[0] == &y[0])
	}
	return a == b
}

// StaleNames lists the names that stand on an old value, in the order they were
// given.
func (l *Session) StaleNames() []string {
	var names []string
	for _, st := range l.stale() {
		names = append(names, l.holds(st)...)
	}
	return names
}

// Redone is a name that again made anew.
type Redone struct {
	Name     string
	Old, New starlark.Value
}

// Again runs once more, in order, what stands on old values.
func (l *Session) Again(ctx context.Context) ([]Redone, *Reply) {
	r := &Reply{}
	l.study.BeginLine(ctx, "prompt")
	l.snapshot("again()")
	var redone []Redone
	for _, st := range l.stale() {
		var globals starlark.StringDict
		prog, ms := l.compile(st.unit, st.stmt, st.Gives, false)
		if ms == nil {
			globals, _, ms = l.study.RunLine(prog, st.unit.Src.Name)
		}
		if r.Errors = ms; ms != nil {
			break
		}
		names := l.holds(st) // what was given again since stays
		for _, name := range names {
			if v := globals[name]; v != nil {
				redone = append(redone, Redone{Name: name, Old: l.given[name], New: v})
			}
		}
		l.give(st, names, globals)
	}
	r.Line = l.study.EndLine()
	r.placeless()
	return redone, r
}

// give takes over names that a statement gave. It tells the names given, and those that
// had another value before.
func (l *Session) give(st *Statement, names []string, globals starlark.StringDict) (gave, again []string) {
	l.step++
	for _, name := range names {
		v := globals[name]
		if v == nil {
			continue // a branch that was not taken
		}
		if l.has(name) && !l.asBefore(name, v, st) {
			again = append(again, name)
			l.changed[name] = l.step
		}
		l.env[name], l.given[name] = v, v
		gave = append(gave, name)
	}
	l.ran[st] = l.step
	st.Reads = l.readsOf(st.stmt)
	return gave, again
}

// asBefore tells whether a name that is given again has the same value, or is
// the same function to the letter.
func (l *Session) asBefore(name string, v starlark.Value, st *Statement) bool {
	if _, isFunction := v.(*starlark.Function); isFunction {
		before := l.giver(name)
		return before != nil && before.Text == st.Text
	}
	same, err := starlark.Equal(l.given[name], v)
	return err == nil && same
}

// readsOf gives the user's names that a statement stands on: those it reads, in
// places of texts too, those its functions read when they are called, and so on.
func (l *Session) readsOf(stmt syntax.Stmt) []string {
	found := map[string]bool{}
	var add func(name string)
	add = func(name string) {
		if found[name] || !l.has(name) {
			return
		}
		found[name] = true
		f, ok := l.given[name].(*starlark.Function)
		if !ok {
			return
		}
		if u := l.study.Scope().Units[f.Position().Filename()]; u != nil &&
			u.Makers[source.At(f.Position())] != nil {
			for _, n := range u.Makers[source.At(f.Position())].Reads {
				add(n)
			}
		}
	}
	for _, id := range source.UsesOf(stmt) {
		add(id.Name)
	}
	syntax.Walk(stmt, func(n syntax.Node) bool {
		call, ok := n.(*syntax.CallExpr)
		if !ok {
			return true
		}
		if id, ok := call.Fn.(*syntax.Ident); ok {
			if r := l.study.Config().Library.Record(id.Name); r != nil && r.Fills {
				for _, name := range source.PlaceNames(call) {
					add(name)
				}
			}
		}
		return true
	})
	return source.Sorted(found)
}
