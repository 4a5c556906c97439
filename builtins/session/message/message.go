package message

import (
	"fmt"
	"strings"
)

// Level is how much a message weighs.
type Level uint8

const (
	Wrong   Level = iota // the study cannot go on
	Beware               // a caution
	Remark               // a note
	Stopped              // a limit or Ctrl-C ended it
)

// Message is what a user is told about a study: what, where, why, and what to
// type next.
type Message struct {
	Level Level
	What  string

	File      string // "quad.star"; "" where there is no place
	Line, Col int    // from 1; 0 where unknown
	Source    string // the line of the file
	Caret     int    // characters of Source before the caret
	CaretLen  int

	From []string // the calls that led there, outermost first: "line 12: vary(rowed, ...)"

	// Names lists unknown names where one message tells several.
	Names []UnknownName

	Why, Type string

	Usage bool   // the command was used wrongly: exit code 2
	Case  string // of the table in cases.txt; "" where it is none of its cases
	Trace string // for --debug only
}

// UnknownName is one line of a message about several names.
type UnknownName struct {
	Line, Col int
	Source    string
	Name      string
	Nearest   string // "" where none is near
}

// Error gives what is wrong with its place in one line.
func (m *Message) Error() string { return m.Head() }

// Head is the message's first line.
func (m *Message) Head() string {
	what := m.What
	switch m.Level {
	case Beware:
		what = "caution: " + what
	case Remark:
		what = "note: " + what
	}
	switch {
	case m.File == "":
		return what
	case m.Line == 0:
		return m.File + ": " + what
	case m.Col == 0:
		return fmt.Sprintf("%s:%d: %s", m.File, m.Line, what)
	}
	return fmt.Sprintf("%s:%d:%d: %s", m.File, m.Line, m.Col, what)
}

// String writes the whole message in plain characters, one part a line.
func (m *Message) String() string {
	var b strings.Builder
	b.WriteString(m.Head() + "\n")
	if m.Source != "" {
		fmt.Fprintf(&b, "%4d | %s\n       %s%s\n", m.Line, m.Source, strings.Repeat(" ", m.Caret),
			strings.Repeat("^", m.CaretLen))
	}
	for _, n := range m.Names {
		fmt.Fprintf(&b, "   %-4s | %s -> %s\n", fmt.Sprintf("%d:%d", n.Line, n.Col), n.Source, n.Nearest)
	}
	for _, f := range m.From {
		b.WriteString("from  " + f + "\n")
	}
	if m.Why != "" {
		b.WriteString("why   " + m.Why + "\n")
	}
	if m.Type != "" {
		b.WriteString("type  " + m.Type + "\n")
	}
	return b.String()
}

// Messages are all that is wrong with a study.
type Messages []*Message

func (ms Messages) Error() string {
	heads := make([]string, len(ms))
	for i, m := range ms {
		heads[i] = m.Head()
	}
	return strings.Join(heads, "\n")
}
