package message

import (
	"errors"
	"strings"

	"go.starlark.net/syntax"

	"thole/builtins/session/source"
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
func Unreadable(src *source.Text, err error) *Message {
	var none *source.NotTextError
	if errors.As(err, &none) {
		return &Message{What: "this file is no text", File: src.Name, Line: none.Line,
			Why:  "a study is plain text in UTF-8; this looks like a picture, a spreadsheet or another kind of file",
			Type: "save it as plain text (UTF-8), named .star or .md"}
	}
	var se syntax.Error
	if !errors.As(err, &se) {
		return &Message{What: plainWords(err.Error()), File: src.Name}
	}
	p := newParsing(src, se)
	m := p.message()
	if strings.TrimSpace(m.Type) == "" {
		m.Type = "the line without it"
	}
	m.File, m.Line = src.Name, p.line
	m.Col = src.Column(p.line, p.col)
	m.Source = src.Line(p.line)
	m.Caret, m.CaretLen = m.Col-1, max(1, p.n)
	m.Trace = se.Error()
	return m
}

// parsing is a place where the parser stopped: the lexeme it could not use,
// with its neighbours.
type parsing struct {
	src  *source.Text
	msg  string
	all  []source.Lexeme
	k    int // the lexeme in question, among all
	code string

	line, col, n int // what to mark
}

func newParsing(src *source.Text, se syntax.Error) *parsing {
	p := &parsing{src: src, msg: se.Msg, all: source.Lex(src.Code)}
	line, col := int(se.Pos.Line), int(se.Pos.Col)
	p.k = len(p.all)
	atStart := strings.Contains(se.Msg, "want primary expression") || strings.HasPrefix(se.Msg, "unexpected") || strings.Contains(se.Msg, "without else") || strings.Contains(se.Msg, "escape")
	for i, l := range p.all {
		begins := l.Line > line || l.Line == line && l.Col >= col
		ends := l.Last > line || l.Last == line && l.End >= col
		if atStart && begins || !atStart && ends {
			p.k = i
			break
		}
	}
	if got := strings.HasPrefix(se.Msg, "got newline") || strings.HasPrefix(se.Msg, "got end of file") || strings.HasPrefix(se.Msg, "got outdent"); got {
		// the line ended too early: what matters is what stands last in it
		for i := len(p.all) - 1; i >= 0; i-- {
			if l := p.all[i]; l.Last < line || l.Last == line && l.End <= col {
				p.k = i + 1
				break
			}
		}
		prev := p.at(-1)
		p.line, p.col, p.n = max(1, prev.Last), max(1, prev.End), 1
		p.code = p.src.CodeLine(p.line)
		return p
	}
	if l := p.at(0); l.Line > 0 {
		p.mark(l)
	} else {
		p.line, p.col, p.n = line, col, 1
	}
	p.code = p.src.CodeLine(p.line)
	return p
}

// at gives a lexeme near the one in question; an empty one where there is none.
func (p *parsing) at(d int) source.Lexeme {
	if i := p.k + d; i >= 0 && i < len(p.all) {
		return p.all[i]
	}
	return source.Lexeme{}
}

// mark points the message at a lexeme.
func (p *parsing) mark(l source.Lexeme) {
	p.line, p.col, p.n = l.Line, l.Col, len([]rune(l.Text))
	if l.Last != l.Line {
		p.n = len([]rune(p.src.CodeLine(l.Line))) - l.Col + 1
	}
}

// sameLine tells whether two lexemes stand in one line with nothing between.
func touching(a, b source.Lexeme) bool { return a.Last == b.Line && a.End == b.Col }

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
func (p *parsing) first() source.Lexeme {
	for _, l := range p.all {
		if l.Line == p.line {
			return l
		}
	}
	return source.Lexeme{}
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
		if l := p.at(d); l.Kind == source.Word && l.Line > 0 {
			if p.at(d+1).Text == "=" && (l.Text == "is" || reserved[l.Text][0] != "") {
				p.mark(l)
				return said(l.Text+" cannot be a name", "the grammar keeps this word for itself", "my_"+l.Text+" = ...")
			}
			if l.Text == "is" {
				return p.identity(p.k + d)
			}
			if r, ok := reserved[l.Text]; ok && (d == 0 || l.Line == p.line) && !strings.Contains(p.msg, "want '='") {
				p.mark(l)
				return said(r[0], r[1], r[2])
			}
		}
	}
	switch {
	case tok.Text == "**" && ends(prev):
		return p.power(tok)
	case prev.Text == "**" && ends(p.at(-2)):
		p.k--
		return p.power(prev)
	case tok.Kind == source.Quoted && prev.Kind == source.Word && touching(prev, tok) && formatted[strings.ToLower(prev.Text)]:
		return p.formatted(prev)
	case tok.Kind == source.Quoted && prev.Kind == source.Quoted:
		return said("two texts stand side by side", "texts are joined with +", cutText(prev.Text, 30)+" + "+cutText(tok.Text, 30))
	case prev.Text == "print" && prev.Line == tok.Line && prev.Col == p.first().Col && tok.Text != "(":
		rest := string([]rune(p.src.CodeLine(tok.Line))[tok.Col-1:])
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
func ends(l source.Lexeme) bool {
	return l.Kind == source.Word || l.Kind == source.Number || l.Text == ")" || l.Text == "]"
}

// operand gives the code of the value that ends at lexeme k, and where it
// begins: a name with its dots, or what stands in brackets.
func (p *parsing) operand(k int) (text string, start int) {
	i := k
	for i >= 0 {
		switch l := p.all[i]; {
		case l.Text == ")" || l.Text == "]":
			depth := 0
			for ; i >= 0; i-- {
				if t := p.all[i].Text; t == ")" || t == "]" {
					depth++
				} else if t == "(" || t == "[" {
					if depth--; depth == 0 {
						break
					}
				}
			}
			if i > 0 && p.all[i-1].Kind == source.Word && touching(p.all[i-1], p.all[i]) {
				i-- // the name of a call
			}
		case l.Kind == source.Word || l.Kind == source.Number:
		default:
			return p.span(i+1, k), i + 1
		}
		if i >= 2 && p.all[i-1].Text == "." {
			i -= 2
			continue
		}
		break
	}
	return p.span(max(i, 0), k), max(i, 0)
}

// span gives the code from one lexeme to another, on one line.
func (p *parsing) span(i, k int) string {
	if i < 0 || k >= len(p.all) || i > k || p.all[i].Line != p.all[k].Line {
		return ""
	}
	r := []rune(p.src.CodeLine(p.all[i].Line))
	return string(r[p.all[i].Col-1 : min(len(r), p.all[k].End-1)])
}

// text: quotes without end, signs of a word processor.
func (p *parsing) text(tok source.Lexeme) *Message {
	switch {
	case strings.Contains(p.msg, "newline in string"):
		p.n = 1
		return said("this text has no end", "a text ends with the quote it began with; over several lines it stands between three", tok.Text+tok.Text[:1])
	case strings.Contains(p.msg, "EOF in string"):
		p.n = 1
		return said("this text has no end", "a text between three quotes ends with three", `"""`)
	case strings.Contains(p.msg, "escape sequence") || strings.Contains(p.msg, "backslash"):
		p.n = 1
		return said("a backslash has a meaning of its own", "in a text it is written twice; lines go on inside brackets without one", "\\\\")
	}
	return nil
}
