package message

import (
	"errors"
	"slices"
	"strings"

	"go.starlark.net/syntax"

	"thole/builtins/session/source"
	"thole/engine/words"
)

// Unreadable is the message of a text that cannot be read: it is no text, or the
// parser refuses it. People bring habits from other languages, and the cases of
// [reading] say what to type here.
func Unreadable(src *source.Text, err error) *Message {
	var none *source.NotTextError
	if errors.As(err, &none) {
		return &Message{What: "this file is no text", File: src.Name, Line: none.Line,
			Why: "a study is plain text in UTF-8; this looks like a picture, a spreadsheet " +
				"or another kind of file",
			Type: "save it as plain text (UTF-8), named .star or .md"}
	}
	var se syntax.Error
	if !errors.As(err, &se) {
		return &Message{What: plainWords(err.Error()), File: src.Name}
	}
	p := newParsing(src, se)
	m := p.message()
	m.File, m.Line = src.Name, p.line
	m.Col = src.Column(p.line, p.col)
	m.Source = src.Line(p.line)
	m.Caret, m.CaretLen = m.Col-1, max(1, p.n)
	m.Trace = se.Error()
	return m
}

// message tells the case at hand and moves the caret to what the case marks.
func (p *parsing) message() *Message {
	s := find("reading", func(name string) string {
		if piece := readingPieces[name]; piece != nil {
			return piece(p)
		}
		return ""
	})
	m := s.message()
	if strings.TrimSpace(m.Type) == "" {
		m.Type = "the line without it"
	}
	switch s.mark {
	case "one":
		p.n = 1
	case "habit":
		l, _ := p.habit()
		p.mark(l)
	case "power":
		k, _ := p.power()
		p.mark(p.all[k])
	case "letter":
		p.mark(p.at(-1))
		p.n++ // with its quote
	case "count":
		p.mark(p.all[p.counting()])
	case "sign":
		p.mark(p.sign())
	case "open":
		open, _ := source.OpenBracket(p.all[:min(p.k, len(p.all))])
		p.mark(open)
	}
	return m
}

// readingPieces are the named pieces of a place where the parser stopped.
// "word" is what it could not use, with "prev" before and "next" behind it.
var readingPieces = map[string]func(p *parsing) string{
	"msg":      func(p *parsing) string { return p.msg },
	"plain":    func(p *parsing) string { return plainParser(p.msg) },
	"word":     func(p *parsing) string { return p.at(0).Text },
	"word20":   func(p *parsing) string { return words.Cut(p.at(0).Text, 20) },
	"word30":   func(p *parsing) string { return words.Cut(p.at(0).Text, 30) },
	"prev":     func(p *parsing) string { return p.at(-1).Text },
	"prev30":   func(p *parsing) string { return words.Cut(p.at(-1).Text, 30) },
	"next":     func(p *parsing) string { return p.at(1).Text },
	"kind":     func(p *parsing) string { return kindOf(p.at(0)) },
	"prevkind": func(p *parsing) string { return kindOf(p.at(-1)) },
	"first":    func(p *parsing) string { return p.first().Text },
	"function": func(p *parsing) string { return p.at(-3).Text },
	"quote":    func(p *parsing) string { return p.at(0).Text[:1] },
	"line":     func(p *parsing) string { return strings.TrimSpace(p.code) },
	"before":   func(p *parsing) string { return strings.TrimSpace(p.before()) },
	"after":    func(p *parsing) string { return strings.TrimSpace(p.after()) },
	"head":     (*parsing).head,
	"digits":   func(p *parsing) string { return strings.ReplaceAll(p.at(0).Text, "_", "") },
	"rest":     (*parsing).rest,

	"sameline": func(p *parsing) string { return yes(p.at(-1).Line == p.at(0).Line) },
	"begins":   func(p *parsing) string { return yes(p.at(0) == p.first()) },
	"prevfirst": func(p *parsing) string {
		return yes(p.at(-1).Line == p.at(0).Line &&
			p.at(-1).Col == p.first().Col)
	},
	"prevends":  func(p *parsing) string { return yes(ends(p.at(-1))) },
	"prevvalue": func(p *parsing) string { return yes(p.k > 0 && endsValue(p.at(-1))) },
	"keyword":   func(p *parsing) string { return yes(slices.Contains(keywords, p.at(0).Text)) },
	"condition": (*parsing).inCondition,
	"ended":     func(p *parsing) string { return yes(p.endedEarly()) },
	"touches":   (*parsing).touches,
	"unit":      (*parsing).unitBehind,

	"habit":      func(p *parsing) string { l, _ := p.habit(); return l.Text },
	"behind":     func(p *parsing) string { _, d := p.habit(); return p.at(d + 1).Text },
	"compared":   (*parsing).compared,
	"power":      func(p *parsing) string { _, is := p.power(); return yes(is) },
	"base":       func(p *parsing) string { base, _, _ := p.powerParts(); return base },
	"exponent":   func(p *parsing) string { _, exponent, _ := p.powerParts(); return exponent },
	"powerhead":  func(p *parsing) string { _, _, head := p.powerParts(); return head },
	"lettered":   (*parsing).lettered,
	"letterless": (*parsing).letterless,
	"filled":     (*parsing).filled,
	"middle":     func(p *parsing) string { middle, _ := p.middle(); return middle },
	"apart":      (*parsing).apart,
	"counting":   func(p *parsing) string { return p.lexeme(p.counting()).Text },
	"counted":    (*parsing).counted,
	"sign":       func(p *parsing) string { return p.sign().Text },
	"unclosed":   (*parsing).unclosed,
}

func yes(is bool) string {
	if is {
		return "yes"
	}
	return ""
}

func kindOf(l source.Lexeme) string {
	if l.Line == 0 {
		return ""
	}
	return [...]string{source.Word: "word", source.Number: "number", source.Quoted: "text",
		source.Sign: "sign"}[l.Kind]
}

var keywords = strings.Fields("if else elif for in and or not lambda return def pass break continue load")

// kept are words of other languages that the grammar keeps for itself, and is.
var kept = strings.Fields(`import from class try except finally raise with del global nonlocal yield async
	await as assert is`)

// habit finds such a word at the place or just before it, and how far off it stands.
func (p *parsing) habit() (l source.Lexeme, d int) {
	for _, d := range []int{0, -1} {
		l := p.at(d)
		near := d == 0 || l.Line == p.line || l.Text == "is" || p.at(0).Text == "="
		if l.Line > 0 && near && slices.Contains(kept, l.Text) {
			return l, d
		}
	}
	return source.Lexeme{}, 0
}

// compared writes x is y, x is not y with the signs that compare.
func (p *parsing) compared() string {
	_, d := p.habit()
	k := p.k + d
	if k == 0 || k+1 >= len(p.all) {
		return "x == None"
	}
	left, _ := p.operand(k - 1)
	op, right := "==", p.all[k+1].Text
	if right == "not" && k+2 < len(p.all) {
		op, right = "!=", p.all[k+2].Text
	}
	return left + " " + op + " " + right
}

// power finds ** behind a value, at the place or just before it.
func (p *parsing) power() (k int, is bool) {
	switch {
	case p.at(0).Text == "**" && ends(p.at(-1)):
		return p.k, true
	case p.at(-1).Text == "**" && ends(p.at(-2)):
		return p.k - 1, true
	}
	return 0, false
}

// powerParts gives what is raised, to what, and what stands before it from the
// sign of the assignment or a bracket on. Where one is unclear all are empty.
func (p *parsing) powerParts() (base, exponent, head string) {
	k, is := p.power()
	if !is || k+1 >= len(p.all) {
		return "", "", ""
	}
	base, start := p.operand(k - 1)
	if base == "" {
		return "", "", ""
	}
	for i := start - 1; i >= 0 && p.all[i].Line == p.all[k].Line; i-- {
		if t := p.all[i].Text; strings.Contains("=([{,:", t) || t == "return" || t == "+=" {
			if i+1 < start {
				head = p.span(i+1, start-1) + " "
			}
			break
		}
	}
	return base, p.all[k+1].Text, head
}

// lettered gives the letters that touch a text: f"...".
func (p *parsing) lettered() string {
	if l := p.at(-1); kindOf(p.at(0)) == "text" && kindOf(l) == "word" && touching(l, p.at(0)) {
		return strings.ToLower(l.Text)
	}
	return ""
}

// letterless gives the line without them.
func (p *parsing) letterless() string {
	f := p.at(-1)
	r := []rune(p.src.CodeLine(f.Line))
	return strings.TrimSpace(string(r[:f.Col-1]) + string(r[min(len(r), f.End-1):]))
}

// filled gives the line with fill, where it gives the text to a name.
func (p *parsing) filled() string {
	name := p.first()
	if kindOf(name) != "word" || p.k < 3 || p.at(-2).Text != "=" || p.at(-3) != name {
		return ""
	}
	_, text, _ := strings.Cut(p.letterless(), "=")
	return name.Text + " = fill(" + strings.TrimSpace(text) + ")"
}

// middle gives the value between two comparisons in a chain.
func (p *parsing) middle() (text string, start int) {
	if text, start = p.operand(p.k - 1); start < 2 {
		return "", 0
	}
	return text, start
}

// apart writes a chain of comparisons as two, joined with and.
func (p *parsing) apart() string {
	middle, _ := p.middle()
	r, col := []rune(p.src.CodeLine(p.at(0).Line)), p.at(0).Col
	return strings.TrimSpace(string(r[:col-1]) + "and " + middle + " " + string(r[col-1:]))
}

// counting finds ++ or -- at the place or just before it, -1 where there is none.
func (p *parsing) counting() int {
	for _, d := range []int{0, -1} {
		if t := p.at(d).Text; t == "++" || t == "--" {
			return p.k + d
		}
	}
	return -1
}

func (p *parsing) counted() string {
	k := p.counting()
	return strings.TrimSpace(p.lexeme(k-1).Text + " " + p.lexeme(k).Text[:1] + "= 1")
}

var foreignSigns = strings.Fields("&& & || | ! <> := × · ? @ $ ;")

// sign finds a sign of other languages at the place, or one of two characters
// just before it.
func (p *parsing) sign() source.Lexeme {
	if slices.Contains(foreignSigns, p.at(0).Text) {
		return p.at(0)
	}
	if l := p.at(-1); len(l.Text) == 2 && slices.Contains(foreignSigns, l.Text) {
		return l
	}
	return source.Lexeme{}
}

// touches gives the kind of what stands before the place with nothing between.
func (p *parsing) touches() string {
	if !touching(p.at(-1), p.at(0)) {
		return ""
	}
	return kindOf(p.at(-1))
}

// unitBehind tells whether the place may be a unit: a word, or % at the end.
func (p *parsing) unitBehind() string {
	return yes(kindOf(p.at(0)) == "word" || p.at(0).Text == "%" && strings.Contains(",)", p.at(1).Text))
}

func (p *parsing) inCondition() string {
	first := p.first().Text
	return yes(first == "if" || first == "elif" || strings.Contains(p.before(), " if "))
}

// rest gives the code from the place on.
func (p *parsing) rest() string {
	return strings.TrimSpace(string([]rune(p.src.CodeLine(p.at(0).Line))[p.at(0).Col-1:]))
}

// head gives the line with a colon at its end.
func (p *parsing) head() string {
	head := strings.TrimSpace(p.code)
	if i := strings.Index(head, "#"); i > 0 {
		head = strings.TrimSpace(head[:i])
	}
	return strings.TrimSuffix(head, ":") + ":"
}

// unclosed gives the line of a bracket that was opened above and never closed,
// with what closes it; "" where that is not what is wrong.
func (p *parsing) unclosed() string {
	tok := p.at(0)
	open, ok := source.OpenBracket(p.all[:min(p.k, len(p.all))])
	if !ok || open.Line >= tok.Line && tok.Line != 0 {
		return ""
	}
	wanted := slices.ContainsFunc([]string{"want ')'", "want ']'", "want '}'", "got '='", "got end of file"},
		func(s string) bool { return strings.Contains(p.msg, s) })
	if !wanted && tok.Kind != source.Word {
		return ""
	}
	closing := map[string]string{"(": ")", "[": "]", "{": "}"}[open.Text]
	return strings.TrimSpace(p.src.CodeLine(open.Line)) + closing
}

// plainParser says what the parser expected in words that a reader knows.
func plainParser(msg string) string {
	return plainWords(strings.NewReplacer("got ", "there is ", ", want ", ", where one expected ",
		"primary expression", "a value", "end of file", "the end", "newline", "the end of the line",
		"identifier", "a name", "string literal", "a text", "int literal", "a number",
		"float literal", "a number", "outdent", "less indent").Replace(msg))
}
