package scripts

import (
	"fmt"
	"strings"
)

// Doc is a function of a library, as its text documents it.
type Doc struct {
	Name string
	Call string // "pairs_that_differ(measured, by=0.3)"
	Text string // its docstring, the common indent taken off
}

// Docs gives what a library says of itself and of each function that a study
// may load; names that begin with _ are its own affair.
func Docs(library string) (about string, functions []Doc, ok bool) {
	text, ok := Library(library)
	if !ok {
		return "", nil, false
	}
	lines := strings.Split(string(text), "\n")
	about, _ = docstring(lines)
	for i, line := range lines {
		call, isDef := strings.CutPrefix(line, "def ")
		if !isDef || strings.HasPrefix(call, "_") {
			continue
		}
		d := Doc{Call: strings.TrimSuffix(strings.TrimSpace(call), ":")}
		d.Name, _, _ = strings.Cut(d.Call, "(")
		d.Text, _ = docstring(lines[i+1:])
		functions = append(functions, d)
	}
	return about, functions, true
}

// docstring reads a text in three quotes that begins on the first line.
func docstring(lines []string) (string, bool) {
	if len(lines) == 0 {
		return "", false
	}
	const quotes = `"""`
	first, opens := strings.CutPrefix(strings.TrimSpace(lines[0]), quotes)
	if !opens {
		return "", false
	}
	if text, closes := strings.CutSuffix(first, quotes); closes {
		return text, true
	}
	indent := len(lines[0]) - len(strings.TrimLeft(lines[0], " "))
	out := []string{first}
	for _, line := range lines[1:] {
		line = strings.TrimPrefix(line, strings.Repeat(" ", indent))
		if text, closes := strings.CutSuffix(line, quotes); closes {
			return strings.TrimSpace(strings.Join(append(out, text), "\n")), true
		}
		out = append(out, line)
	}
	return "", false
}

// Help gives the lines of help on a library, or on one function of one.
func Help(name string) (lines []string, ok bool) {
	name = strings.TrimPrefix(name, "@")
	if about, functions, ok := Docs(name); ok {
		lines = strings.Split(about, "\n")
		lines = append(lines, "")
		for _, f := range functions {
			lines = append(lines, f.Call)
			for _, line := range strings.Split(firstSentence(f.Text), "\n") {
				lines = append(lines, "  "+line)
			}
		}
		return lines, true
	}
	for _, library := range Libraries() {
		_, functions, _ := Docs(library)
		for _, f := range functions {
			if f.Name == name {
				lines = append([]string{f.Call}, strings.Split(f.Text, "\n")...)
				return append(lines, "", fmt.Sprintf("load(\"@%s\", %q)", library, name)), true
			}
		}
	}
	return nil, false
}

// firstSentence gives a text up to its first full stop, over as many lines as
// that takes.
func firstSentence(text string) string {
	for i := range len(text) - 1 {
		if text[i] == '.' && (text[i+1] == ' ' || text[i+1] == '\n') {
			return text[:i+1]
		}
	}
	return text
}
