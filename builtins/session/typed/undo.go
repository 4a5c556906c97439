package typed

import (
	"fmt"
	"sort"

	"go.starlark.net/starlark"

	"thole/builtins/session/limits"
)

// snapshot is what undo goes back to.
type snapshot struct {
	what string
	env  map[string]starlark.Value
	log  []*Statement
	old  []bool // stale marks of the log
	last starlark.Value
}

// snapshot keeps what undo needs.
func (l *Session) snapshot(what string) {
	snap := snapshot{what: what, env: map[string]starlark.Value{}, log: append([]*Statement(nil), l.log...), last: l.last}
	for name := range l.own {
		snap.env[name] = l.env[name]
	}
	for _, st := range l.log {
		snap.old = append(snap.old, st.stale)
	}
	l.undo = append(l.undo, snap)
	if len(l.undo) > 100 {
		l.undo = l.undo[1:]
	}
}

// Undo takes the last block, or again, back. It gives what was taken back, as
// typed, and the names whose values changed by it; ok is false where nothing is
// left to take back. A list that was changed in place stays changed.
func (l *Session) Undo() (what string, names []string, ok bool) {
	n := len(l.undo)
	if n == 0 {
		return "", nil, false
	}
	snap := l.undo[n-1]
	l.undo = l.undo[:n-1]
	start := l.study.Config().Library.Predeclared()
	for name, v := range l.study.Config().Library.AtPrompt() {
		start[name] = v
	}
	for name := range l.own {
		old, had := snap.env[name]
		switch {
		case had && !sameValue(l.env[name], old):
			names = append(names, name)
			l.env[name] = old
		case !had:
			names = append(names, name)
			delete(l.own, name)
			delete(l.env, name)
			if v, ok := limits.Guards[name]; ok {
				l.env[name] = v
			}
			if v, ok := start[name]; ok { // the tool's own name is free again
				l.env[name] = v
			}
		}
	}
	l.log, l.last = snap.log, snap.last
	for i, st := range l.log {
		st.stale = snap.old[i]
	}
	sort.Slice(names, func(i, j int) bool { return l.order(names[i]) < l.order(names[j]) })
	return snap.what, names, true
}

// NextUndo tells what Undo would take back.
func (l *Session) NextUndo() (what string, ok bool) {
	if n := len(l.undo); n > 0 {
		return l.undo[n-1].what, true
	}
	return "", false
}

// order gives the place of a name among those given, as far as the log tells.
func (l *Session) order(name string) string {
	for i, st := range l.log {
		if contains(st.Gives, name) {
			return fmt.Sprintf("%06d %s", i, name)
		}
	}
	return "9 " + name
}

// sameValue tells whether two names hold the very same value.
func sameValue(a, b starlark.Value) bool {
	x, ok := a.(starlark.Tuple)
	if !ok {
		_, other := b.(starlark.Tuple)
		return !other && a == b
	}
	y, ok := b.(starlark.Tuple)
	return ok && len(x) == len(y) && (len(x) == 0 || &x[0] == &y[0])
}
