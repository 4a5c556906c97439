package message

import (
	"slices"
	"strings"

	"go.starlark.net/syntax"

	"thole/builtins/session/source"
)

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
	// of some errors the parser gives where the lexeme begins, of others where it ends
	atStart := strings.HasPrefix(se.Msg, "unexpected") || slices.ContainsFunc(
		[]string{"want primary expression", "without else", "escape"},
		func(s string) bool { return strings.Contains(se.Msg, s) })
	for i, l := range p.all {
		begins := l.Line > line || l.Line == line && l.Col >= col
		ends := l.Last > line || l.Last == line && l.End >= col
		if atStart && begins || !atStart && ends {
			p.k = i
			break
		}
	}
	if p.endedEarly() {
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

// endedEarly tells whether the line ended before it was whole.
func (p *parsing) endedEarly() bool {
	return slices.ContainsFunc([]string{"got newline", "got end of file", "got outdent"},
		func(s string) bool { return strings.HasPrefix(p.msg, s) })
}

// at gives a lexeme near the one in question; an empty one where there is none.
func (p *parsing) at(d int) source.Lexeme {
	return p.lexeme(p.k + d)
}

// lexeme gives a lexeme by its number, an empty one where there is none.
func (p *parsing) lexeme(i int) source.Lexeme {
	if i >= 0 && i < len(p.all) {
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

// touching tells whether two lexemes stand in one line with nothing between.
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

// endsValue tells whether a value may end with a lexeme.
func endsValue(l source.Lexeme) bool {
	return l.Kind == source.Number || l.Kind == source.Quoted || l.Kind == source.Word &&
		!slices.Contains(keywords, l.Text) || l.Text == ")" || l.Text == "]" || l.Text == "}"
}
