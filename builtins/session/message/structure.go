package message

import (
	"strings"

	"thole/builtins/session/source"
)

var keywords = source.SetOf("if", "else", "elif", "for", "in", "and", "or", "not", "lambda", "return", "def", "pass", "break", "continue", "load")

// structure: brackets, colons, indents, ends.
func (p *parsing) structure(tok, prev source.Lexeme) *Message {
	first := p.first()
	line := strings.TrimSpace(p.code)
	ended := strings.HasPrefix(p.msg, "got newline") || strings.HasPrefix(p.msg, "got end of file") || strings.HasPrefix(p.msg, "got outdent")

	// a bracket that was opened in a line above and never closed
	if open, ok := source.OpenBracket(p.all[:min(p.k, len(p.all))]); ok && (open.Line < tok.Line || tok.Line == 0) &&
		(strings.Contains(p.msg, "want ')'") || strings.Contains(p.msg, "want ']'") || strings.Contains(p.msg, "want '}'") || strings.HasPrefix(p.msg, "got end of file") || strings.Contains(p.msg, "got '='") || tok.Kind == source.Word) {
		closing := map[string]string{"(": ")", "[": "]", "{": "}"}[open.Text]
		p.mark(open)
		return said("this bracket is never closed", "what follows was read as belonging to it", strings.TrimSpace(p.src.CodeLine(open.Line))+closing)
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
	case strings.HasPrefix(p.msg, "unexpected '") && len(tok.Text) == 1 && strings.Contains(")]}", tok.Text):
		return said("this bracket closes nothing", "each ) ] } has its ( [ { before it", "the line without it")
	case first.Text == "else" && tok.Text == "if" || first.Text == "else" && prev.Text == "else" && tok.Text == "if":
		return said("else if is one word here", "a further condition begins with elif", "elif ...:")
	case (tok.Text == "else" || tok.Text == "elif") && tok == first:
		return said(tok.Text+" stands without its if", "it stands exactly under the if it belongs to", "if ...:")
	case tok.Text == "=" && (first.Text == "if" || first.Text == "elif" || strings.Contains(p.before(), " if ")):
		return said("= gives, == compares", "a condition wants two of them", strings.TrimSpace(p.before())+" == "+strings.TrimSpace(p.after()))
	case strings.Contains(p.msg, "want ':'") && source.BlockWords[first.Text]:
		return said("a colon is missing", "the head of a def, for, if or else ends with one, and its lines stand further in", headLine(line))
	case strings.Contains(p.msg, "want ':'") && tok.Text == "," || strings.Contains(p.msg, "want ':'") && tok.Text == "}":
		return said("a dict has name: value", "a set is made with set([...])", "set([1, 2])")
	case tok.Text == "=":
		return said("= stands where no name is given", "left of = stands one name, or the name of a parameter", "name = value")
	case strings.Contains(p.msg, "keyword argument must have form name=expr"):
		return said("left of = stands a parameter's name", "a name is typed without quotes", "length=288")
	case strings.Contains(p.msg, "load"):
		return said("load brings names from a file", "first the file, then the names, each in quotes", `load("club.star", "our_quad")`)
	case strings.Contains(p.msg, "unexpected input character"):
		return said("this sign has no place here", "names are letters, digits and _, texts stand between quotes", "the line without it")
	case strings.Contains(p.msg, "without else"):
		return said("a choice needs its else", "a if condition else b always has both", "a if x > 0 else b")
	case ended && source.BlockWords[first.Text] && strings.HasSuffix(line, ":"):
		return said("nothing stands under this line", "the lines that belong to a def, for or if stand further in, with four blanks", "    pass")
	case ended:
		return said("the line ends too early", "a value was expected behind it", line+" ...")
	case tok.Text != "" && strings.Contains(",)]}", tok.Text):
		return said("something is missing before "+tok.Text, "a value was expected here", "a value, or the line without the "+tok.Text)
	case ends(prev) && (tok.Kind == source.Word || tok.Kind == source.Number || tok.Kind == source.Quoted) && prev.Line == tok.Line:
		return said(cutText(tok.Text, 20)+" stands where a sign was expected", "between two values stands a comma or a sign such as + - * /", prev.Text+", "+cutText(tok.Text, 20))
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
