package source

import (
	"bytes"
	"path"
	"strings"
	"unicode/utf8"
)

// source is the text of a study or of a file it loads. For Markdown, code holds
// the fences alone, each line where it stands in the file, all else blank, so
// that line numbers hold; prose keeps the rest.
type Text struct {
	Name  string   // as messages write it
	text  string   // as read, without byte-order mark
	Lines []string // of text
	Code  string   // what the parser gets
	shift []int    // characters that the code's column lacks, a line
	Title string   // first "# " heading of a Markdown study
	Prose []Prose

	codeLines []string // of code, when asked for
}

// notTextError is the error of a file that is no text, with the line of the first
// byte that no text has.
type NotTextError struct{ Line int }

func (e *NotTextError) Error() string { return "this file is no text" }

// newSource reads a text. It refuses what is no text.
func New(name string, data []byte) (*Text, error) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if i := notText(data); i >= 0 {
		line := 1 + bytes.Count(data[:i], []byte("\n"))
		return &Text{Name: name}, &NotTextError{line}
	}
	s := &Text{Name: name, text: strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(data))}
	s.Lines = strings.Split(s.text, "\n")
	if strings.EqualFold(path.Ext(name), ".md") {
		s.fences()
	} else {
		s.Code = s.text
	}
	return s, nil
}

// notText finds the first byte that no text has, or -1.
func notText(data []byte) int {
	for i := 0; i < len(data); {
		if data[i] == 0 {
			return i
		}
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return -1
}

// line gives a line of the text as it was written.
func (s *Text) Line(n int) string {
	if n < 1 || n > len(s.Lines) {
		return ""
	}
	return s.Lines[n-1]
}

// column turns a column of the code into one of the file.
func (s *Text) Column(line, col int) int {
	if line >= 1 && line <= len(s.shift) {
		return col + s.shift[line-1]
	}
	return col
}

// codeLine gives a line of what the parser gets.
func (s *Text) CodeLine(n int) string {
	if s.codeLines == nil {
		s.codeLines = strings.Split(s.Code, "\n")
	}
	if n < 1 || n > len(s.codeLines) {
		return ""
	}
	return s.codeLines[n-1]
}
