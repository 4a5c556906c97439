package typed

import (
	"context"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/builtins/session/source"
)

// Redone is a name that again made anew.
type Redone struct {
	Name     string
	Old, New starlark.Value
}

// readsOf gives the user's names that a statement stands on: those it reads, and
// those its functions read when they are called, and so on.
func (l *Session) readsOf(stmt syntax.Stmt) []string {
	found := map[string]bool{}
	var add func(name string)
	add = func(name string) {
		if found[name] || !l.own[name] {
			return
		}
		found[name] = true
		if f, ok := l.env[name].(*starlark.Function); ok {
			if u := l.study.Scope().Units[f.Position().Filename()]; u != nil && u.Makers[source.At(f.Position())] != nil {
				for _, n := range u.Makers[source.At(f.Position())].Reads {
					add(n)
				}
			}
		}
	}
	for _, id := range source.UsesOf(stmt) {
		add(id.Name)
	}
	// places of texts read names, too
	for name := range l.placeNames(stmt) {
		add(name)
	}
	return source.Sorted(found)
}

// placeNames gives the names in places of written-out texts.
func (l *Session) placeNames(stmt syntax.Stmt) map[string]bool {
	names := map[string]bool{}
	syntax.Walk(stmt, func(n syntax.Node) bool {
		if call, ok := n.(*syntax.CallExpr); ok {
			id, ok := call.Fn.(*syntax.Ident)
			if !ok {
				return true
			}
			r := l.study.Config().Library.Record(id.Name)
			if r == nil || !r.Fills {
				return true
			}
			for _, arg := range call.Args {
				if kv, ok := arg.(*syntax.BinaryExpr); ok && kv.Op == syntax.EQ {
					arg = kv.Y
				}
				for _, lit := range source.LiteralTexts(arg) {
					places, _ := lang.Places(lit.Value.(string))
					for _, p := range places {
						names[p.Path[0]] = true
					}
				}
			}
		}
		return true
	})
	return names
}

// markStale marks the statements that stand on a name given again, and lists
// the names they gave.
func (l *Session) markStale(now *Statement, again []string, r *Reply) {
	changed := map[string]bool{}
	for _, name := range again {
		changed[name] = true
	}
	if len(changed) == 0 {
		return
	}
	for _, st := range l.log {
		if st == now || st.def || st.stale || l.overtaken(st) {
			continue
		}
		for _, name := range st.Reads {
			// a function that was given again changes what stands on it, too
			if changed[name] {
				st.stale = true
				for _, g := range st.Gives {
					changed[g] = true
				}
				break
			}
		}
	}
	r.Stale = l.StaleNames()
}

// overtaken tells whether all names a statement gave were given again later.
func (l *Session) overtaken(st *Statement) bool {
	if len(st.Gives) == 0 {
		return true // it gave nothing that could be old
	}
	for _, name := range st.Gives {
		if l.giver(name) == st {
			return false
		}
	}
	return true
}

// giver gives the statement that gave a name its value.
func (l *Session) giver(name string) *Statement {
	for i := len(l.log) - 1; i >= 0; i-- {
		if contains(l.log[i].Gives, name) {
			return l.log[i]
		}
	}
	return nil
}

// StaleNames lists the names that stand on an old value, in the order they were
// given.
func (l *Session) StaleNames() []string {
	var names []string
	for _, st := range l.log {
		if st.stale && !l.overtaken(st) {
			for _, name := range st.Gives {
				if !contains(names, name) {
					names = append(names, name)
				}
			}
		}
	}
	return names
}

// Again runs once more, in order, what stands on old values.
func (l *Session) Again(ctx context.Context) ([]Redone, *Reply) {
	r := &Reply{}
	l.study.BeginLine(ctx, "prompt")
	l.snapshot("again()")
	var redone []Redone
	for _, st := range append([]*Statement(nil), l.log...) {
		if !st.stale || l.overtaken(st) {
			continue
		}
		old := map[string]starlark.Value{}
		for _, name := range st.Gives {
			old[name] = l.env[name]
		}
		prog, ms := l.compile(st.unit, st.stmt, st.Gives, false)
		if ms == nil {
			var globals starlark.StringDict
			if globals, _, ms = l.study.RunLine(prog, st.unit.Src.Name); ms == nil {
				for _, name := range st.Gives {
					if v := globals[name]; v != nil {
						l.env[name] = v
						redone = append(redone, Redone{Name: name, Old: old[name], New: v})
					}
				}
				st.Reads = l.readsOf(st.stmt)
			}
		}
		if ms != nil {
			r.Errors = ms
			break
		}
		st.stale = false
	}
	r.Line = l.study.EndLine()
	r.placeless()
	return redone, r
}
