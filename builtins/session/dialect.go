package session

import (
	"errors"
	"fmt"
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

// parseMessage turns an error of the parser into a message.
func parseMessage(src *source, err error) *Message {
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

func (s *source) codeLine(n int) string {
	if s.codeLines == nil {
		s.codeLines = strings.Split(s.code, "\n")
	}
	if n < 1 || n > len(s.codeLines) {
		return ""
	}
	return s.codeLines[n-1]
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

// power: v ** 2.
func (p *parsing) power(tok lexeme) *Message {
	p.mark(tok)
	base, start := p.operand(p.k - 1)
	exp := p.at(1).text
	if base == "" || exp == "" {
		return said("two stars make no power here", "powers are written out, or math.pow(v, 2)", "math.pow(v, 2)")
	}
	// what stands before the base, from the sign of the assignment or bracket on
	head := ""
	for i := start - 1; i >= 0 && p.all[i].line == tok.line; i-- {
		if t := p.all[i].text; strings.Contains("=([{,:", t) || t == "return" || t == "+=" {
			if i+1 < start {
				head = p.span(i+1, start-1) + " "
			}
			break
		}
	}
	m := said("two stars make no power here", fmt.Sprintf("powers are written out, or math.pow(%s, %s)", base, exp), "")
	switch exp {
	case "2":
		m.Type = head + base + " * " + base
	case "3":
		m.Type = head + base + " * " + base + " * " + base
	default:
		m.Type = fmt.Sprintf("%smath.pow(%s, %s)", head, base, exp)
	}
	return m
}

// formatted: f"Outboard {x}".
func (p *parsing) formatted(f lexeme) *Message {
	p.mark(f)
	p.n++ // with its quote
	p.code = p.src.codeLine(p.line)
	r := []rune(p.code)
	line := strings.TrimSpace(string(r[:f.col-1]) + string(r[min(len(r), f.end-1):]))
	m := said("a text needs no f in front", "whatever is told fills its {names} by itself", line)
	if first := p.first(); first.kind == lexWord && p.k >= 3 && p.at(-2).text == "=" && p.at(-3) == first {
		m.Why = "fill() fills the {names} of a text that is not told at once"
		m.Type = first.text + " = fill(" + strings.TrimSpace(line[strings.Index(line, "=")+1:]) + ")"
	}
	return m
}

// identity: x is None.
func (p *parsing) identity(k int) *Message {
	p.mark(p.all[k])
	m := said("is compares nothing here", "two values are compared with ==, a blank with == None", "x == None")
	if k == 0 || k+1 >= len(p.all) {
		return m
	}
	left, _ := p.operand(k - 1)
	op, right := "==", p.all[k+1].text
	if right == "not" && k+2 < len(p.all) {
		op, right = "!=", p.all[k+2].text
	}
	m.Type = left + " " + op + " " + right
	return m
}

// chained: 198 <= x <= 202.
func (p *parsing) chained(tok lexeme) *Message {
	m := said("one comparison at a time", "two of them are joined with and", "a <= x and x <= b")
	middle, start := p.operand(p.k - 1)
	if start < 2 || middle == "" {
		return m
	}
	line := p.src.codeLine(tok.line)
	r := []rune(line)
	m.Type = strings.TrimSpace(string(r[:tok.col-1]) + "and " + middle + " " + string(r[tok.col-1:]))
	return m
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

var signs = map[string][3]string{
	"&&": {"two conditions are joined with and", "words stand where other languages have signs", "and"},
	"&":  {"two conditions are joined with and", "words stand where other languages have signs", "and"},
	"||": {"of two conditions one is taken with or", "words stand where other languages have signs", "or"},
	"|":  {"of two conditions one is taken with or", "words stand where other languages have signs", "or"},
	"!":  {"a condition is turned round with not", "words stand where other languages have signs", "not"},
	"<>": {"two values that differ are compared with !=", "there is no <>", "!="},
	":=": {"a name is given in a line of its own", "there is no :=", "name = value"},
	"×":  {"this sign multiplies nothing", "numbers are multiplied with *", "*"},
	"·":  {"this sign multiplies nothing", "numbers are multiplied with *", "*"},
	"?":  {"? has no place here", "a choice is written a if condition else b", "a if x > 0 else b"},
	"@":  {"@ has no place here", "names are letters, digits and _", "the line without it"},
	"$":  {"$ has no place here", "names are letters, digits and _", "the line without it"},
	";":  {"; has no place here", "each line stands by itself", "a new line"},
}

// foreign: signs of other languages, units, kinds.
func (p *parsing) foreign(tok, prev, next lexeme) *Message {
	c := ""
	if tok.text != "" {
		c = string([]rune(tok.text)[:1])
	}
	switch {
	case c != "" && strings.Contains("“”„‘’«»`", c):
		p.n = 1
		return said("this is a quote of a word processor", "texts stand between straight quotes", `"..."`)
	case c != "" && strings.Contains("–—−", c):
		p.n = 1
		return said("this is a dash of a word processor", "minus is the plain sign on the keyboard", "-")
	case c != "" && strings.Contains("°²³€", c):
		p.n = 1
		return said("units stand in texts only", "numbers are typed bare, in the trade's unit: cm, degrees, m/s, W", "the number alone")
	case tok.text == "++" || tok.text == "--" || prev.text == "++" || prev.text == "--":
		if prev.text == "++" || prev.text == "--" {
			tok = prev
			p.k--
			p.mark(tok)
		}
		name := p.at(-1).text
		return said("there is no "+tok.text, "a count goes on with +=", strings.TrimSpace(name+" "+tok.text[:1]+"= 1"))
	case tok.text == "->":
		return said("a def says nothing about kinds", "its line ends with a colon", strings.TrimSpace(p.before())+":")
	case tok.text == ":" && p.first().text == "def" && !strings.Contains(p.before(), ")"):
		return said("an input has no kind", "its name is enough", "def "+p.at(-3).text+"(...):")
	case (tok.kind == lexWord || tok.text == "%" && strings.Contains(",)", next.text)) && prev.kind == lexNumber && touching(prev, tok):
		if strings.HasPrefix(tok.text, "_") {
			return said("a number has no _", "digits stand together", prev.text+strings.ReplaceAll(tok.text, "_", ""))
		}
		return said("a number stands without its unit", "numbers are typed bare, in the trade's unit: cm, degrees, m/s, W", prev.text)
	case tok.kind == lexWord && prev.kind == lexNumber && tok.line == prev.line && !keywords[tok.text]:
		return said("a number stands without its unit", "numbers are typed bare, in the trade's unit: cm, degrees, m/s, W", prev.text)
	}
	if r, ok := signs[tok.text]; ok {
		return said(r[0], r[1], r[2])
	}
	if r, ok := signs[prev.text]; ok && len(prev.text) == 2 {
		p.mark(prev)
		return said(r[0], r[1], r[2])
	}
	return nil
}

var keywords = setOf("if", "else", "elif", "for", "in", "and", "or", "not", "lambda", "return", "def", "pass", "break", "continue", "load")

var blockWords = map[string]bool{"def": true, "if": true, "elif": true, "else": true, "for": true, "while": true}

// structure: brackets, colons, indents, ends.
func (p *parsing) structure(tok, prev lexeme) *Message {
	first := p.first()
	line := strings.TrimSpace(p.code)
	ended := strings.HasPrefix(p.msg, "got newline") || strings.HasPrefix(p.msg, "got end of file") || strings.HasPrefix(p.msg, "got outdent")

	// a bracket that was opened in a line above and never closed
	if open, ok := openBracket(p.all[:min(p.k, len(p.all))]); ok && (open.line < tok.line || tok.line == 0) &&
		(strings.Contains(p.msg, "want ')'") || strings.Contains(p.msg, "want ']'") || strings.Contains(p.msg, "want '}'") || strings.HasPrefix(p.msg, "got end of file") || strings.Contains(p.msg, "got '='") || tok.kind == lexWord) {
		closing := map[string]string{"(": ")", "[": "]", "{": "}"}[open.text]
		p.mark(open)
		return said("this bracket is never closed", "what follows was read as belonging to it", strings.TrimSpace(p.src.codeLine(open.line))+closing)
	}
	switch {
	case strings.Contains(p.msg, "unindent does not match"):
		p.n = 1
		return said("this line stands in between", "lines that belong together stand equally far in", "the same indent as the line above, or as the def or for")
	case strings.Contains(p.msg, "got indent"):
		return said("this line stands too far in", "only lines that belong to a def, for or if above stand further in", line)
	case strings.Contains(p.msg, "want indent"):
		return said("this line should stand further in", "the lines that belong to a def, for or if stand further in, with four blanks", "    "+line)
	case strings.Contains(p.msg, "nesting"):
		return said("too many brackets within brackets", "nobody can read them", "a name for a part of it")
	case strings.HasPrefix(p.msg, "unexpected '") && len(tok.text) == 1 && strings.Contains(")]}", tok.text):
		return said("this bracket closes nothing", "each ) ] } has its ( [ { before it", "the line without it")
	case first.text == "else" && tok.text == "if" || first.text == "else" && prev.text == "else" && tok.text == "if":
		return said("else if is one word here", "a further condition begins with elif", "elif ...:")
	case (tok.text == "else" || tok.text == "elif") && tok == first:
		return said(tok.text+" stands without its if", "it stands exactly under the if it belongs to", "if ...:")
	case tok.text == "=" && (first.text == "if" || first.text == "elif" || strings.Contains(p.before(), " if ")):
		return said("= gives, == compares", "a condition wants two of them", strings.TrimSpace(p.before())+" == "+strings.TrimSpace(p.after()))
	case strings.Contains(p.msg, "want ':'") && blockWords[first.text]:
		return said("a colon is missing", "the head of a def, for, if or else ends with one, and its lines stand further in", headLine(line))
	case strings.Contains(p.msg, "want ':'") && tok.text == "," || strings.Contains(p.msg, "want ':'") && tok.text == "}":
		return said("a dict has name: value", "a set is made with set([...])", "set([1, 2])")
	case tok.text == "=":
		return said("= stands where no name is given", "left of = stands one name, or the name of a parameter", "name = value")
	case strings.Contains(p.msg, "keyword argument must have form name=expr"):
		return said("left of = stands a parameter's name", "a name is typed without quotes", "length=288")
	case strings.Contains(p.msg, "load"):
		return said("load brings names from a file", "first the file, then the names, each in quotes", `load("club.star", "our_quad")`)
	case strings.Contains(p.msg, "unexpected input character"):
		return said("this sign has no place here", "names are letters, digits and _, texts stand between quotes", "the line without it")
	case strings.Contains(p.msg, "without else"):
		return said("a choice needs its else", "a if condition else b always has both", "a if x > 0 else b")
	case ended && blockWords[first.text] && strings.HasSuffix(line, ":"):
		return said("nothing stands under this line", "the lines that belong to a def, for or if stand further in, with four blanks", "    pass")
	case ended:
		return said("the line ends too early", "a value was expected behind it", line+" ...")
	case tok.text != "" && strings.Contains(",)]}", tok.text):
		return said("something is missing before "+tok.text, "a value was expected here", "a value, or the line without the "+tok.text)
	case ends(prev) && (tok.kind == lexWord || tok.kind == lexNumber || tok.kind == lexText) && prev.line == tok.line:
		return said(cutText(tok.text, 20)+" stands where a sign was expected", "between two values stands a comma or a sign such as + - * /", prev.text+", "+cutText(tok.text, 20))
	}
	return said("this line cannot be read", plainParser(p.msg), "the line in smaller pieces; help(\"python\") tells where it differs")
}

func headLine(head string) string {
	if i := strings.Index(head, "#"); i > 0 {
		head = strings.TrimSpace(head[:i])
	}
	return strings.TrimSuffix(head, ":") + ":"
}

// plainParser says what the parser expected in words that a reader knows.
func plainParser(msg string) string {
	msg = strings.NewReplacer("got ", "there is ", ", want ", ", where one expected ", "primary expression", "a value", "end of file", "the end",
		"newline", "the end of the line", "identifier", "a name", "string literal", "a text", "int literal", "a number", "float literal", "a number",
		"outdent", "less indent").Replace(msg)
	return plainWords(msg)
}

// dialect refuses what parses but is not part of the language: while.
func (s *Study) dialect(u *unit) Messages {
	var ms Messages
	for _, stmt := range u.tree.Stmts {
		syntax.Walk(stmt, func(n syntax.Node) bool {
			w, ok := n.(*syntax.WhileStmt)
			if !ok {
				return true
			}
			m := &Message{What: "there is no while", Why: "a study must end by itself: for repeats, find searches", Type: s.insteadOfWhile(u, w)}
			u.put(m, w.While, after(w.While, "while"))
			ms = append(ms, m)
			return true
		})
	}
	return ms
}

// insteadOfWhile writes a search where the loop waits for a field to reach a
// number, else a loop that counts.
func (s *Study) insteadOfWhile(u *unit, w *syntax.WhileStmt) string {
	if c, ok := w.Cond.(*syntax.BinaryExpr); ok && (c.Op == syntax.LT || c.Op == syntax.GT || c.Op == syntax.LE || c.Op == syntax.GE) {
		name := u.whole(c.X)
		if d, ok := c.X.(*syntax.DotExpr); ok {
			name = d.Name.Name
		}
		if _, known := s.cfg.Library.Quantity(name); known {
			fn, axis, span := u.searched()
			return fmt.Sprintf("find(%s, of=%q, target=%s, %s=%s)", fn, name, u.whole(c.Y), axis, span)
		}
	}
	return "for i in range(20):"
}

// searched finds what a search could vary: the study's first def with an input,
// and the span over which vary already goes.
func (u *unit) searched() (fn, axis, span string) {
	fn, axis, span = "fn", "outboard", "(190, 206)"
	for _, stmt := range u.tree.Stmts {
		def, ok := stmt.(*syntax.DefStmt)
		if !ok || len(def.Params) == 0 {
			continue
		}
		fn = def.Name.Name
		if id, ok := def.Params[0].(*syntax.Ident); ok {
			axis = id.Name
		}
		break
	}
	for _, call := range u.calls {
		if id, ok := call.Fn.(*syntax.Ident); !ok || id.Name != "vary" || len(call.Args) < 2 {
			continue
		}
		for _, arg := range call.Args[1:] {
			kv, ok := arg.(*syntax.BinaryExpr)
			if !ok || kv.Op != syntax.EQ || u.whole(kv.X) != axis {
				continue
			}
			if steps, ok := kv.Y.(*syntax.CallExpr); ok && u.whole(steps.Fn) == "steps" && len(steps.Args) >= 2 {
				span = fmt.Sprintf("(%s, %s)", u.whole(steps.Args[0]), u.whole(steps.Args[1]))
			}
		}
	}
	return fn, axis, span
}
