package session

import (
	"fmt"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
)

// module is a loaded file.
type module struct {
	globals starlark.StringDict
	err     error
	loading bool
}

// load brings names from a file of the study's folder, which may define but not
// tell, or from the tool's own library.
func (s *Study) load(thread *starlark.Thread, name string) (starlark.StringDict, error) {
	if m := s.modules[name]; m != nil {
		if m.loading {
			return nil, lang.Mistake("two files cannot each need the other first",
				"what both need, in a third file", "%s loads itself, by way of the files it loads", name)
		}
		return m.globals, m.err
	}
	m := &module{loading: true}
	s.modules[name] = m
	m.globals, m.err = s.loadFile(name)
	m.loading = false
	return m.globals, m.err
}

func (s *Study) loadFile(name string) (starlark.StringDict, error) {
	text, err := s.loadText(name)
	if err != nil {
		return nil, err
	}
	_, prog, errs := s.read(name, text)
	if errs != nil {
		return nil, errs
	}
	thread := s.newThread(name)
	hostOf(thread).inside, hostOf(thread).loading = "load", true
	release := s.onStop(thread)
	defer release()
	globals, err := prog.Init(thread, s.toolsNames())
	fix := &fixer{study: s, seen: map[any]bool{}}
	for _, v := range globals {
		fix.fix(v)
	}
	if err == nil && fix.err != nil {
		return nil, fix.err
	}
	if err != nil {
		return nil, s.explain(err)
	}
	return globals, nil
}

func (s *Study) loadText(name string) ([]byte, error) {
	if book, ok := strings.CutPrefix(name, "@"); ok {
		if s.cfg.Boathouse != nil {
			if text, ok := s.cfg.Boathouse(book); ok {
				s.scope.Ours[name] = true
				return text, nil
			}
		}
		return nil, lang.Mistake("names that begin with @ are files of the tool's own library",
			`load("@boathouse", ...)`, "there is no library %q", name)
	}
	if !strings.HasSuffix(name, ".star") {
		return nil, lang.Mistake("load brings names from a .star file beside the study",
			fmt.Sprintf("load(%q, ...)", strings.TrimSuffix(name, ".md")+".star"), "%s cannot be loaded",
			name)
	}
	if s.cfg.Files == nil {
		return nil, lang.Mistake("there is no folder here to load from",
			"the lines of that file in the study itself", "%s cannot be loaded", name)
	}
	data, err := s.cfg.Files.ReadFile(name)
	if err != nil {
		return nil, err
	}
	s.note(FileRead{Name: name, Role: "loaded", Data: data})
	return data, nil
}
