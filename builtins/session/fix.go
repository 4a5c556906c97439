package session

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session/source"
)

// fix makes immutable what a function reads from outside: lists, dicts and sets
// among its own module's names, its defaults and what it captured, and those of
// functions it can call. Other names stay free.
func (s *Study) fix(fn starlark.Value) error {
	f := &fixer{study: s, seen: map[any]bool{}}
	f.fix(fn)
	return f.err
}

type fixer struct {
	study *Study
	seen  map[any]bool
	err   error
}

func (f *fixer) first(key any) bool {
	if f.seen[key] {
		return false
	}
	f.seen[key] = true
	return true
}

// freeze fixes data, unless it is so deep that going down would not end.
func (f *fixer) freeze(v starlark.Value) bool {
	if _, ok := lang.Measure(v, 1<<30); !ok {
		f.err = lang.Mistake("what a function reads is fixed before it is called many times, part by part",
			"flat lists, or a table", "the data this function reads are nested too deeply")
		return false
	}
	v.Freeze()
	return true
}

func (f *fixer) fix(v starlark.Value) {
	if f.err != nil {
		return
	}
	switch v := v.(type) {
	case *starlark.Function:
		if f.first(v) {
			f.function(v)
		}
	case *starlark.Builtin:
		if r := v.Receiver(); r != nil {
			f.fix(r)
		}
	case *starlark.List:
		if f.first(v) && f.freeze(v) {
			for i := 0; i < v.Len(); i++ {
				f.fix(v.Index(i))
			}
		}
	case starlark.Tuple:
		if len(v) > 0 && f.first(&v[0]) && f.freeze(v) {
			for _, x := range v {
				f.fix(x)
			}
		}
	case *starlark.Dict:
		if f.first(v) && f.freeze(v) {
			for _, kv := range v.Items() {
				f.fix(kv[1])
			}
		}
	case *starlark.Set:
		v.Freeze()
	}
}

// function fixes what a function captured, its defaults and the names it reads.
func (f *fixer) function(v *starlark.Function) {
	for i := 0; i < v.NumFreeVars(); i++ {
		if _, captured := v.FreeVar(i); captured != nil {
			f.fix(captured)
		}
	}
	for i := 0; i < v.NumParams(); i++ {
		if d := v.ParamDefault(i); d != nil {
			f.fix(d)
		}
	}
	if f.err != nil {
		return
	}
	v.Freeze()
	u := f.study.scope.Units[v.Position().Filename()]
	if u == nil || u.Makers[source.At(v.Position())] == nil {
		return
	}
	globals := v.Globals()
	for _, name := range u.Makers[source.At(v.Position())].Reads {
		x, ok := globals[name]
		if !ok {
			x, ok = f.study.scope.Value(name)
		}
		if ok {
			f.fix(x)
		}
	}
}
