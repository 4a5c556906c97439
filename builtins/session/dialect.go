package session

import (
	"errors"
	"strings"

	"go.starlark.net/syntax"
)

// This file turns what the parser refuses into a coach's words: people bring
// habits from other languages, and the message says what to type here.

// reserved words of other languages that the grammar keeps, with what to say.
var reserved = map[string][3]string{
	"import":   {"nothing has to be imported", "math and every name of the tool are there; your own files come with load", `load("club.star", "our_quad"), or take the line out`},
	"from":     {"nothing has to be imported", "math and every name of the tool are there; your own files come with load", `load("club.star", "our_quad"), or take the line out`},
	"class":    {"there are no classes", "a dict holds values under names, a def makes them", `sculler = {"mass": 84, "power": 380}`},
	"try":      {"there is no try", "a line that may fail goes into a function, and attempt calls it", "value, reason = attempt(lambda: row(...))"},
	"except":   {"there is no try", "a line that may fail goes into a function, and attempt calls it", "value, reason = attempt(lambda: row(...))"},
	"finally":  {"there is no try", "a line that may fail goes into a function, and attempt calls it", "value, reason = attempt(lambda: row(...))"},
	"raise":    {"there is no raise", "a study stops itself with fail", `fail("the span is missing")`},
	"with":     {"there is no with", "files are read whole, by one call", `t = read_csv("oars.csv", columns=["length (cm)"])`},
	"del":      {"nothing can be deleted", "a name is given once and stays", "take the line out"},
	"global":   {"there is no global", "a function reads the names above it by itself, and gives values back with return", "return ..."},
	"nonlocal": {"there is no nonlocal", "a function reads the names around it by itself, and gives values back with return", "return ..."},
	"yield":    {"there is no yield", "a function gives all its values at once", "return [...]"},
	"async":    {"there is no async", "vary uses all cores by itself", "vary(fn, ...)"},
	"await":    {"there is no await", "vary uses all cores by itself", "vary(fn, ...)"},
	"as":       {"as has no place here", "a name is given with =", "name = value"},
	"assert":   {"there is no assert", "a study stops itself with fail", `if x <= 0: fail("x is not above 0")`},
}

// unreadable is the message of a text that cannot be read: it is no text, or the
// parser refuses it.
func unreadable(src *source, err error) *Message {
	var none *notTextError
	if errors.As(err, &none) {
		return &Message{What: "this file is no text", File: src.name, Line: none.line,
			Why:  "a study is plain text in UTF-8; this looks like a picture, a spreadsheet or another kind of file",
			Type: "save it as plain text (UTF-8), named .star or .md"}
	}
	var se syntax.Error
	if !errors.As(err, &se) {
		return &Message{What: plainWords(err.Error()), File: src.name}
	}
	p := newParsing(src, se)
	m := p.message()
	if strings.TrimSpace(m.Type) == "" {
		m.Type = "the line without it"
	}
	m.File, m.Line = src.name, p.line
	m.Col = src.column(p.line, p.col)
	m.Source = src.line(p.line)
	m.Caret, m.CaretLen = m.Col-1, max(1, p.n)
	m.Trace = se.Error()
	return m
}

// parsing is a place where the parser stopped: the lexeme it could not use,
// with its neighbours.
type parsing struct {
	src  *source
	msg  string
	all  []lexeme
	k    int // the lexeme in question, among all
	code string

	line, col, n int // what to mark
}

func newParsing(src *source, se syntax.Error) *parsing {
	p := &parsing{src: src, msg: se.Msg, all: lex(src.code)}
	line, col := int(se.Pos.Line), int(se.Pos.Col)
	p.k = len(p.all)
	atStart := strings.Contains(se.Msg, "want primary expression") || strings.HasPrefix(se.Msg, "unexpected") || strings.Contains(se.Msg, "without else") || strings.Contains(se.Msg, "escape")
	for i, l := range p.all {
		begins := l.line > line || l.line == line && l.col >= col
		ends := l.last > line || l.last == line && l.end >= col
		if atStart && begins || !atStart && ends {
			p.k = i
			break
		}
	}
	if got := strings.HasPrefix(se.Msg, "got newline") || strings.HasPrefix(se.Msg, "got end of file") || strings.HasPrefix(se.Msg, "got outdent"); got {
		// the line ended too early: what matters is what stands last in it
		for i := len(p.all) - 1; i >= 0; i-- {
			if l := p.all[i]; l.last < line || l.last == line && l.end <= col {
				p.k = i + 1
				break
			}
		}
		prev := p.at(-1)
		p.line, p.col, p.n = max(1, prev.last), max(1, prev.end), 1
		p.code = p.src.codeLine(p.line)
		return p
	}
	if l := p.at(0); l.line > 0 {
		p.mark(l)
	} else {
		p.line, p.col, p.n = line, col, 1
	}
	p.code = p.src.codeLine(p.line)
	return p
}

// at gives a lexeme near the one in question; an empty one where there is none.
func (p *parsing) at(d int) lexeme {
	if i := p.k + d; i >= 0 && i < len(p.all) {
		return p.all[i]
	}
	return lexeme{}
}

// mark points the message at a lexeme.
func (p *parsing) mark(l lexeme) {
	p.line, p.col, p.n = l.line, l.col, len([]rune(l.text))
	if l.last != l.line {
		p.n = len([]rune(p.src.codeLine(l.line))) - l.col + 1
	}
}

// sameLine tells whether two lexemes stand in one line with nothing between.
func touching(a, b lexeme) bool { return a.last == b.line && a.end == b.col }

// before and after give the code of the marked line around the mark.
func (p *parsing) before() string {
	r := []rune(p.code)
	return string(r[:max(0, min(p.col-1, len(r)))])
}

func (p *parsing) after() string {
	r := []rune(p.code)
	return string(r[max(0, min(p.col-1+p.n, len(r))):])
}

// first is the first lexeme of the line in question.
func (p *parsing) first() lexeme {
	for _, l := range p.all {
		if l.line == p.line {
			return l
		}
	}
	return lexeme{}
}

func said(what, why, typ string) *Message { return &Message{What: what, Why: why, Type: typ} }

// message finds what was meant. The order is from the surest sign to the least.
func (p *parsing) message() *Message {
	tok, prev, next := p.at(0), p.at(-1), p.at(1)
	if strings.Contains(p.msg, "does not associate") {
		return p.chained(tok)
	}
	// a habit may show in the lexeme itself or in the one before it
	for _, d := range []int{0, -1} {
		if l := p.at(d); l.kind == lexWord && l.line > 0 {
			if p.at(d+1).text == "=" && (l.text == "is" || reserved[l.text][0] != "") {
				p.mark(l)
				return said(l.text+" cannot be a name", "the grammar keeps this word for itself", "my_"+l.text+" = ...")
			}
			if l.text == "is" {
				return p.identity(p.k + d)
			}
			if r, ok := reserved[l.text]; ok && (d == 0 || l.line == p.line) && !strings.Contains(p.msg, "want '='") {
				p.mark(l)
				return said(r[0], r[1], r[2])
			}
		}
	}
	switch {
	case tok.text == "**" && ends(prev):
		return p.power(tok)
	case prev.text == "**" && ends(p.at(-2)):
		p.k--
		return p.power(prev)
	case tok.kind == lexText && prev.kind == lexWord && touching(prev, tok) && formatted[strings.ToLower(prev.text)]:
		return p.formatted(prev)
	case tok.kind == lexText && prev.kind == lexText:
		return said("two texts stand side by side", "texts are joined with +", cutText(prev.text, 30)+" + "+cutText(tok.text, 30))
	case prev.text == "print" && prev.line == tok.line && prev.col == p.first().col && tok.text != "(":
		rest := string([]rune(p.src.codeLine(tok.line))[tok.col-1:])
		return said("print is a function", "what it writes stands in brackets", "print("+strings.TrimSpace(rest)+")")
	}
	if m := p.text(tok); m != nil {
		return m
	}
	if m := p.foreign(tok, prev, next); m != nil {
		return m
	}
	return p.structure(tok, prev)
}

var formatted = map[string]bool{"f": true, "fr": true, "rf": true}

// ends tells whether a lexeme can end a value.
func ends(l lexeme) bool {
	return l.kind == lexWord || l.kind == lexNumber || l.text == ")" || l.text == "]"
}

// operand gives the code of the value that ends at lexeme k, and where it
// begins: a name with its dots, or what stands in brackets.
func (p *parsing) operand(k int) (text string, start int) {
	i := k
	for i >= 0 {
		switch l := p.all[i]; {
		case l.text == ")" || l.text == "]":
			depth := 0
			for ; i >= 0; i-- {
				if t := p.all[i].text; t == ")" || t == "]" {
					depth++
				} else if t == "(" || t == "[" {
					if depth--; depth == 0 {
						break
					}
				}
			}
			if i > 0 && p.all[i-1].kind == lexWord && touching(p.all[i-1], p.all[i]) {
				i-- // the name of a call
			}
		case l.kind == lexWord || l.kind == lexNumber:
		default:
			return p.span(i+1, k), i + 1
		}
		if i >= 2 && p.all[i-1].text == "." {
			i -= 2
			continue
		}
		break
	}
	return p.span(max(i, 0), k), max(i, 0)
}

// span gives the code from one lexeme to another, on one line.
func (p *parsing) span(i, k int) string {
	if i < 0 || k >= len(p.all) || i > k || p.all[i].line != p.all[k].line {
		return ""
	}
	r := []rune(p.src.codeLine(p.all[i].line))
	return string(r[p.all[i].col-1 : min(len(r), p.all[k].end-1)])
}

// text: quotes without end, signs of a word processor.
func (p *parsing) text(tok lexeme) *Message {
	switch {
	case strings.Contains(p.msg, "newline in string"):
		p.n = 1
		return said("this text has no end", "a text ends with the quote it began with; over several lines it stands between three", tok.text+tok.text[:1])
	case strings.Contains(p.msg, "EOF in string"):
		p.n = 1
		return said("this text has no end", "a text between three quotes ends with three", `"""`)
	case strings.Contains(p.msg, "escape sequence") || strings.Contains(p.msg, "backslash"):
		p.n = 1
		return said("a backslash has a meaning of its own", "in a text it is written twice; lines go on inside brackets without one", "\\\\")
	}
	return nil
}
