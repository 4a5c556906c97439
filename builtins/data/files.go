package data

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/builtins/session/message"
	"thole/engine/table"
)

// FileOf reads a file of the study's folder.
func FileOf(c *lang.Call) (*session.Study, string, []byte, error) {
	path := c.Text("path")
	s := session.Of(c.Thread)
	if s == nil {
		return nil, path, nil, lang.Mistake("there is no folder here to read from", "", "%s cannot be read",
			path)
	}
	data, err := s.ReadFile(path)
	if e := lang.AsError(err); e != nil {
		return s, path, nil, c.Wrong("path", e)
	}
	return s, path, data, err
}

// ReadIn notes a table that was read, and says how; name is the file, with its
// sheet where it has one.
func ReadIn(s *session.Study, path, name string, t *table.Table, notes []string) (starlark.Value, error) {
	if err := s.Check("a table", t.Len()*len(t.Columns)); err != nil {
		return nil, err
	}
	s.NoteTable(path, t)
	for _, note := range notes {
		s.Remark(message.Message{File: name, What: note})
	}
	return lang.NewTable(t), nil
}
