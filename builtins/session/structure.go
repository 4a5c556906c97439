package session

import (
	"strings"
)

var keywords = setOf("if", "else", "elif", "for", "in", "and", "or", "not", "lambda", "return", "def", "pass", "break", "continue", "load")

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
