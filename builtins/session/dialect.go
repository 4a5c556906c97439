package session

import (
	"errors"
	"fmt"
	"regexp"
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
	line := int(se.Pos.Line)
	p := &parsing{src: src, msg: se.Msg, line: line, col: int(se.Pos.Col), code: []rune(src.codeLine(line))}
	m := p.message()
	m.File, m.Line = src.name, p.line
	m.Col = src.column(p.line, p.col)
	m.Source = src.line(p.line)
	m.Caret, m.CaretLen = m.Col-1, max(1, p.n)
	m.Trace = se.Error()
	return m
}

func (s *source) codeLine(n int) string {
	lines := strings.Split(s.code, "\n")
	if n < 1 || n > len(lines) {
		return ""
	}
	return lines[n-1]
}

// parsing is a place where the parser stopped.
type parsing struct {
	src       *source
	msg       string
	line, col int
	n         int // characters to mark
	code      []rune
}

var wordAt = regexp.MustCompile(`^[A-Za-z_][A-Za-z_0-9]*`)

// rest gives the code from the place on, before what stands in front of it.
func (p *parsing) rest() string {
	if p.col-1 >= 0 && p.col-1 <= len(p.code) {
		return string(p.code[p.col-1:])
	}
	return ""
}

func (p *parsing) before() string {
	return string(p.code[:max(0, min(p.col-1, len(p.code)))])
}

// mark moves the place to a piece of the line.
func (p *parsing) mark(col, n int) { p.col, p.n = col, n }

// whole is the line without indent and remark.
func (p *parsing) whole() string { return strings.TrimSpace(string(p.code)) }

func (p *parsing) say(what, why, typ string) *Message {
	return &Message{What: what, Why: why, Type: typ}
}

var (
	isLine    = regexp.MustCompile(`\bis(\s+not)?\s+(None|True|False|\w+|".*?")`)
	fText     = regexp.MustCompile(`(?i)^(f|fr|rf)$`)
	chain     = regexp.MustCompile(`([\w.\[\]()]+)\s*(<=|>=|<|>|==|!=)\s*([\w.\[\]()]+)\s*(<=|>=|<|>|==|!=)\s*([\w.\[\]()]+)`)
	unitTail  = regexp.MustCompile(`([0-9.]+)\s*(cm|mm|m|kg|g|W|deg|s|N|°|°C|%|km|min)\b?$`)
	oneEqual  = regexp.MustCompile(`^\s*(if|elif|while)\b`)
	blockHead = regexp.MustCompile(`^\s*(def|if|elif|else|for)\b`)
	printWord = regexp.MustCompile(`^\s*print\s+\S`)
	decimals  = regexp.MustCompile(`(\d)_(\d)`)
)

// message finds what was meant. The order is from the surest sign to the least.
func (p *parsing) message() *Message {
	rest, before := p.rest(), p.before()
	word := wordAt.FindString(rest)
	lastWord := regexp.MustCompile(`[A-Za-z_]\w*$`).FindString(before)

	switch {
	case strings.Contains(p.msg, "does not associate with"):
		return p.chained()
	case strings.HasPrefix(rest, "**") && strings.TrimSpace(before) != "":
		return p.power()
	case strings.HasPrefix(rest, `"`) || strings.HasPrefix(rest, `'`):
		if fText.MatchString(lastWord) {
			return p.formatted(lastWord, rest)
		}
		if regexp.MustCompile(`["']\s*$`).MatchString(before) {
			p.n = 1
			return p.say("two texts stand side by side", "texts are joined with +", "\"one\" + \"two\"")
		}
		if printWord.MatchString(string(p.code)) {
			p.n = 1
			return p.say("print is a function", "what it writes stands in brackets", "print("+strings.TrimSpace(rest)+")")
		}
	case word == "is" || regexp.MustCompile(`\bis\s+$`).MatchString(before):
		return p.identity()
	}
	if r, ok := reserved[word]; ok {
		p.n = len(word)
		return p.say(r[0], r[1], r[2])
	}
	if r, ok := reserved[lastWord]; ok && !strings.Contains(p.msg, "want '='") {
		p.mark(p.col-len([]rune(lastWord)), len(lastWord))
		return p.say(r[0], r[1], r[2])
	}
	if m := p.sign(rest, before, word, lastWord); m != nil {
		return m
	}
	return p.structure(rest, before, word)
}

// power: v ** 2.
func (p *parsing) power() *Message {
	p.n = 2
	m := p.say("two stars make no power here", "powers are written out, or math.pow(v, 2)", "math.pow(v, 2)")
	base := regexp.MustCompile(`([\w.]+|\([^()]*\))\s*$`).FindStringSubmatch(p.before())
	exp := regexp.MustCompile(`^\*\*\s*(\d+(?:\.\d+)?|\w+)`).FindStringSubmatch(p.rest())
	if base == nil || exp == nil {
		return m
	}
	head := strings.TrimSuffix(p.before(), base[0])
	if i := strings.Index(head, "="); i >= 0 && !strings.ContainsAny(head, "(") {
		head = head[i+1:]
	}
	head = strings.TrimSpace(head)
	if strings.ContainsAny(head, "([{") {
		head = ""
	}
	if head != "" {
		head += " "
	}
	m.Why = fmt.Sprintf("powers are written out, or math.pow(%s, %s)", base[1], exp[1])
	switch exp[1] {
	case "2":
		m.Type = head + base[1] + " * " + base[1]
	case "3":
		m.Type = head + base[1] + " * " + base[1] + " * " + base[1]
	default:
		m.Type = fmt.Sprintf("%smath.pow(%s, %s)", head, base[1], exp[1])
	}
	return m
}

// formatted: f"Outboard {x}".
func (p *parsing) formatted(f, rest string) *Message {
	p.mark(p.col-len(f), len(f)+1)
	m := p.say("a text needs no f in front", "whatever is told fills its {names} by itself", `answer("Outboard {top.outboard}")`)
	line := []rune(p.src.line(p.line))
	shift := p.src.column(p.line, 0)
	text := strings.TrimSpace(string(line[:min(len(line), p.col-1+shift)]) + rest)
	if i := strings.Index(text, "="); i > 0 && !strings.Contains(text[:i], "(") {
		m.Why = "fill() fills the {names} of a text that is not told at once"
		m.Type = strings.TrimSpace(text[:i]) + " = fill(" + strings.TrimSpace(text[i+1:]) + ")"
		return m
	}
	m.Type = text
	return m
}

// identity: x is None.
func (p *parsing) identity() *Message {
	m := p.say("is compares nothing here", "two values are compared with ==, a blank with == None", "x == None")
	whole := string(p.code)
	loc := isLine.FindStringSubmatchIndex(whole)
	if loc == nil {
		p.n = 2
		return m
	}
	p.mark(1+len([]rune(whole[:loc[0]])), 2)
	op := "=="
	if loc[2] >= 0 {
		op = "!="
	}
	head := regexp.MustCompile(`[\w.\[\]"()]+\s*$`).FindString(whole[:loc[0]])
	m.Type = strings.TrimSpace(head) + " " + op + " " + whole[loc[4]:loc[5]]
	return m
}

// chained: 198 <= x <= 202.
func (p *parsing) chained() *Message {
	m := p.say("one comparison at a time", "two of them are joined with and", "a <= x and x <= b")
	whole := string(p.code)
	ops := regexp.MustCompile(`(<=|>=|<|>|==|!=)`).FindStringSubmatch(p.rest())
	p.n = 1
	if ops != nil && strings.HasPrefix(p.rest(), ops[1]) {
		p.n = len(ops[1])
	}
	if c := chain.FindStringSubmatchIndex(whole); c != nil {
		get := func(k int) string { return whole[c[2*k]:c[2*k+1]] }
		both := fmt.Sprintf("%s %s %s and %s %s %s", get(1), get(2), get(3), get(3), get(4), get(5))
		m.Type = strings.TrimSpace(whole[:c[0]] + both + whole[c[1]:])
		p.mark(1+len([]rune(whole[:c[8]])), c[9]-c[8])
	}
	return m
}

// sign: characters of other languages and of word processors.
func (p *parsing) sign(rest, before, word, lastWord string) *Message {
	starts := func(s string) bool { return strings.HasPrefix(rest, s) }
	p.n = 1
	switch {
	case starts("“") || starts("”") || starts("„") || starts("‘") || starts("’") || starts("«") || starts("»"):
		return p.say("this is a quote of a word processor", "texts stand between straight quotes", `"..."`)
	case starts("–") || starts("—") || starts("−"):
		return p.say("this is a dash of a word processor", "minus is the plain sign on the keyboard", "-")
	case starts("×") || starts("·"):
		return p.say("this sign multiplies nothing", "numbers are multiplied with *", "*")
	case starts("&&"), starts("& "):
		p.n = 2
		return p.say("two conditions are joined with and", "words stand where other languages have signs", "and")
	case starts("||"), starts("| "):
		p.n = 2
		return p.say("of two conditions one is taken with or", "words stand where other languages have signs", "or")
	case starts("!") && !starts("!="):
		return p.say("a condition is turned round with not", "words stand where other languages have signs", "not")
	case starts("++"), starts("--"), strings.HasSuffix(strings.TrimSpace(before), "+") && strings.TrimSpace(rest) == "" && strings.HasSuffix(strings.TrimSpace(p.whole()), "++"):
		name := wordAt.FindString(strings.TrimSpace(before))
		return p.say("there is no ++", "a count goes on with +=", strings.TrimSpace(name+" += 1"))
	case starts("?"), starts("$"), starts("@"):
		return p.say(string([]rune(rest)[:1])+" has no place here", "names are letters, digits and _", "the line without it")
	case starts("°"), starts("²"), starts("³"), starts("€"):
		return p.say("units stand in texts only", "numbers are typed bare, in the trade's unit: cm, degrees, m/s, W", "the number alone")
	case starts(":=") || starts("=") && strings.HasSuffix(before, ":"):
		return p.say("a name is given in a line of its own", "there is no :=", "name = value")
	case starts("->"), starts(">") && strings.HasSuffix(before, "-"):
		return p.say("a def says nothing about kinds", "its line ends with a colon", strings.TrimSpace(strings.TrimSuffix(before, "-"))+":")
	case starts(":") && regexp.MustCompile(`def\s+\w+\([^)]*\w$`).MatchString(before):
		return p.say("an input has no kind", "its name is enough", "def name(outboard, wind=0):")
	case word != "" && regexp.MustCompile(`[0-9]$`).MatchString(before):
		number := regexp.MustCompile(`[0-9][0-9._]*$`).FindString(before)
		p.n = len(word)
		if strings.HasPrefix(word, "_") {
			return p.say("a number has no _", "digits stand together", decimals.ReplaceAllString(number+word, "$1$2"))
		}
		return p.say("a number stands without its unit", "numbers are typed bare, in the trade's unit: cm, degrees, m/s, W", number)
	case starts("%") && regexp.MustCompile(`[0-9]$`).MatchString(before) && regexp.MustCompile(`^%\s*[,)]`).MatchString(rest):
		return p.say("a number stands without its unit", "per cent are typed as a bare number", regexp.MustCompile(`[0-9.]+$`).FindString(before))
	}
	return nil
}

// structure: brackets, colons, indents, ends.
func (p *parsing) structure(rest, before, word string) *Message {
	trimmed := strings.TrimSpace(string(p.code))
	p.n = max(1, len(word))
	switch {
	case strings.Contains(p.msg, "unexpected new line in string") || strings.Contains(p.msg, "unexpected newline in string"):
		p.n = 1
		return p.say("this text has no end", "a text ends with the quote it began with; over several lines it stands between three", `"..." or """..."""`)
	case strings.Contains(p.msg, "unexpected EOF in string"):
		p.n = 1
		return p.say("this text has no end", "a text between three quotes ends with three", `"""`)
	case strings.Contains(p.msg, "unindent does not match"):
		p.n = 1
		return p.say("this line stands in between", "lines that belong together stand equally far in", "the same indent as the line above, or as the def or for")
	case strings.Contains(p.msg, "indent"):
		return p.indent(trimmed)
	case strings.Contains(p.msg, "nesting"):
		return p.say("too many brackets within brackets", "nobody can read them", "a name for a part of it")
	case regexp.MustCompile(`^unexpected ['"][\])}]['"]`).MatchString(p.msg):
		p.n = 1
		return p.say("this bracket closes nothing", "each ) ] } has its ( [ { before it", "the line without it")
	case regexp.MustCompile(`^got end of file`).MatchString(p.msg) && !blockHead.MatchString(string(p.code)), strings.Contains(p.msg, "got newline, want ')'"):
		return p.openBracket()
	case strings.Contains(p.msg, "want ':'") && blockHead.MatchString(string(p.code)):
		if strings.HasPrefix(rest, "=") || strings.Contains(p.msg, "got '='") {
			p.n = 1
			return p.say("= gives, == compares", "a condition wants two of them", strings.TrimSpace(before)+" == "+strings.TrimSpace(strings.TrimPrefix(rest, "=")))
		}
		return p.say("a colon is missing", "the head of a def, for, if or else ends with one, and its lines stand further in", headLine(trimmed))
	case strings.Contains(p.msg, "want ':'"):
		return p.say("a dict has name: value", "a set is made with set([...])", `{"mass": 84} or set([1, 2])`)
	case strings.HasPrefix(trimmed, "else if"):
		return p.say("else if is one word here", "a further condition begins with elif", "elif ...:")
	case (word == "else" || word == "elif") && strings.TrimSpace(before) == "":
		return p.say(word+" stands without its if", "it stands exactly under the if it belongs to", "if ...:")
	case strings.Contains(p.msg, "got '='") || strings.HasPrefix(rest, "=") && !strings.HasPrefix(rest, "=="):
		p.n = 1
		if oneEqual.MatchString(string(p.code)) || strings.Contains(before, " if ") {
			return p.say("= gives, == compares", "a condition wants two of them", "==")
		}
		return p.say("= stands where no name is given", "left of = stands one name, or the name of a parameter", "name = value")
	case strings.Contains(p.msg, "keyword argument must have form name=expr"):
		return p.say("left of = stands a parameter's name", "a name is typed without quotes", "length=288")
	case strings.Contains(p.msg, "load"):
		return p.say("load brings names from a file", "first the file, then the names, each in quotes", `load("club.star", "our_quad")`)
	case strings.Contains(p.msg, "escape sequence") || strings.Contains(p.msg, "backslash"):
		p.n = 1
		return p.say("a backslash has a meaning of its own", "in a text it is written twice; lines go on inside brackets without one", `\\`)
	case strings.Contains(p.msg, "unexpected input character"):
		p.n = 1
		return p.say("this sign has no place here", "names are letters, digits and _, texts stand between quotes", "the line without it")
	case strings.HasPrefix(rest, ",") || strings.HasPrefix(rest, ")") || strings.HasPrefix(rest, "]") || strings.HasPrefix(rest, "}"):
		p.n = 1
		return p.say("something is missing before "+rest[:1], "a value was expected here", "a value, or the line without the "+rest[:1])
	case strings.TrimSpace(rest) == "":
		p.n = 1
		if strings.Contains(p.msg, "got newline") || strings.Contains(p.msg, "end of file") {
			if blockHead.MatchString(string(p.code)) && strings.HasSuffix(trimmed, ":") {
				return p.say("nothing stands under this line", "the lines that belong to a def, for or if stand further in, with four blanks", "    pass")
			}
			return p.say("the line ends too early", "a value was expected behind it", "the rest of the line")
		}
	case word != "" && regexp.MustCompile(`[\w)\]"']\s+$`).MatchString(before):
		p.n = len(word)
		return p.say(fmt.Sprintf("%s stands where a sign was expected", word), "between two values stands a comma or a sign such as + - * /", ",")
	}
	return p.say("this line cannot be read", plainParser(p.msg), "the line in smaller pieces; help(\"python\") tells where it differs")
}

func headLine(head string) string {
	if i := strings.Index(head, "#"); i > 0 {
		head = strings.TrimSpace(head[:i])
	}
	return head + ":"
}

// indent: lines that stand too far in, or not far enough.
func (p *parsing) indent(trimmed string) *Message {
	p.n = 1
	if strings.Contains(p.msg, "want indent") {
		return p.say("this line should stand further in", "the lines that belong to a def, for or if stand further in, with four blanks", "    "+trimmed)
	}
	return p.say("this line stands too far in", "only lines that belong to a def, for or if above stand further in", trimmed)
}

// openBracket finds the bracket that was never closed.
func (p *parsing) openBracket() *Message {
	line, col, ch := lastOpen(p.src.code)
	if line == 0 {
		p.n = 1
		return p.say("the study ends too early", "a bracket or a text is still open", ")")
	}
	p.line, p.code = line, []rune(p.src.codeLine(line))
	p.mark(col, 1)
	closing := map[rune]string{'(': ")", '[': "]", '{': "}"}[ch]
	return p.say("this bracket is never closed", "what follows was read as belonging to it", strings.TrimSpace(string(p.code))+closing)
}

// lastOpen finds the innermost bracket left open at the end of the code, texts
// and remarks passed over.
func lastOpen(code string) (line, col int, ch rune) {
	type open struct {
		line, col int
		ch        rune
	}
	var stack []open
	ln, c := 1, 0
	quote, triple := rune(0), false
	r := []rune(code)
	for i := 0; i < len(r); i++ {
		c++
		x := r[i]
		switch {
		case x == '\n':
			ln, c = ln+1, 0
			if quote != 0 && !triple {
				quote = 0
			}
		case quote != 0:
			if x == '\\' {
				i, c = i+1, c+1
			} else if x == quote {
				if triple {
					if i+2 < len(r) && r[i+1] == quote && r[i+2] == quote {
						quote = 0
						i, c = i+2, c+2
					}
				} else {
					quote = 0
				}
			}
		case x == '"' || x == '\'':
			quote, triple = x, i+2 < len(r) && r[i+1] == x && r[i+2] == x
			if triple {
				i, c = i+2, c+2
			}
		case x == '#':
			for i+1 < len(r) && r[i+1] != '\n' {
				i++
			}
		case x == '(' || x == '[' || x == '{':
			stack = append(stack, open{ln, c, x})
		case x == ')' || x == ']' || x == '}':
			if len(stack) > 0 {
				stack = stack[:len(stack)-1]
			}
		}
	}
	if len(stack) == 0 {
		return 0, 0, 0
	}
	top := stack[len(stack)-1]
	return top.line, top.col, top.ch
}

// plainParser says what the parser expected in words that a reader knows.
func plainParser(msg string) string {
	msg = strings.NewReplacer("got ", "there is ", ", want ", ", where one expected ", "primary expression", "a value", "end of file", "the end",
		"newline", "the end of the line", "identifier", "a name", "string literal", "a text", "int literal", "a number", "float literal", "a number").Replace(msg)
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
