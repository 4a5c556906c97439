package source

import "strings"

// More tells whether a block in which nothing is open goes on: a def, for or if wants
// more lines, until an empty one.
func More(text string) bool {
	head, body, _ := strings.Cut(strings.TrimRight(text, "\n"), "\n")
	if !BlockWords[firstWord(head)] {
		return false
	}
	if body == "" {
		// def f(x): return x stands on one line
		lexemes := Lex(head)
		n := len(lexemes)
		return n > 0 && lexemes[n-1].Text == ":" || !strings.Contains(head, ":")
	}
	last := body[strings.LastIndexByte(body, '\n')+1:]
	return strings.TrimSpace(last) != "" && !strings.HasSuffix(text, "\n\n")
}

// Open tells whether a bracket or a text between three quotes is open at the end
// of a text, or its last line goes on behind a backslash: no line can end there.
func Open(text string) bool {
	var o Opening
	for line := range strings.SplitSeq(strings.TrimRight(text, "\n"), "\n") {
		o.Line(line)
	}
	return o.Open()
}

// Opening follows what is open from line to line, so that a block of a hundred
// thousand lines is not read from its beginning at each.
type Opening struct {
	brackets int
	quotes   string // three quotes that are open, "" for none
	goesOn   string // lines that go on behind a backslash, with their ends
}

// Open tells whether something is open behind the last line.
func (o *Opening) Open() bool { return o.brackets > 0 || o.quotes != "" || o.goesOn != "" }

// Line takes the next line, without its end.
func (o *Opening) Line(line string) {
	code := o.goesOn + line
	if o.quotes != "" && o.goesOn == "" {
		code = o.quotes + "\n" + line
	}
	o.goesOn, o.quotes = "", ""
	if strings.HasSuffix(strings.TrimSpace(code), "\\") {
		o.goesOn = code + "\n"
		return
	}
	lexemes := Lex(code)
	for _, l := range lexemes {
		switch {
		case l.Kind != Sign:
		case strings.Contains("([{", l.Text):
			o.brackets++
		case strings.Contains(")]}", l.Text):
			o.brackets = max(o.brackets-1, 0)
		}
	}
	if n := len(lexemes); n > 0 && lexemes[n-1].Kind == Quoted {
		for _, quotes := range []string{`"""`, "'''"} {
			t := lexemes[n-1].Text
			if strings.HasPrefix(t, quotes) && (len(t) < 6 || !strings.HasSuffix(t, quotes)) {
				o.quotes = quotes
			}
		}
	}
}

func firstWord(line string) string {
	if l := Lex(line); len(l) > 0 {
		return l[0].Text
	}
	return ""
}

// blockWords begin statements that may go on over several lines.
var BlockWords = map[string]bool{"def": true, "if": true, "elif": true, "else": true, "for": true,
	"while": true}
