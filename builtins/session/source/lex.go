package source

import (
	"strings"
	"unicode"
)

// lexeme is a word, number, text or sign of a study's text. The parser gives
// its errors after what it read; to say what stands there, the text is cut into
// lexemes again, without minding what makes sense.
type Lexeme struct {
	Kind      Kind
	Text      string
	Line, Col int // where it begins
	End       int // column after its last character, on the line it ends in
	Last      int // line it ends in
}

type Kind uint8

const (
	Word Kind = iota
	Number
	Quoted
	Sign
)

var twoSigns = []string{"**", "//", "<=", ">=", "==", "!=", "<<", ">>", "+=", "-=", "*=", "/=", "%=", "&&",
	"||", "++", "--", "->", ":=", "<>"}

// lex cuts a text into lexemes; blanks, line ends and remarks are left out.
func Lex(code string) []Lexeme {
	r := []rune(code)
	var out []Lexeme
	line, col := 1, 1
	for i := 0; i < len(r); {
		x := r[i]
		step := func(n int) {
			for ; n > 0 && i < len(r); n-- {
				if r[i] == '\n' {
					line, col = line+1, 1
				} else {
					col++
				}
				i++
			}
		}
		start := Lexeme{Line: line, Col: col}
		from := i
		take := func(kind Kind, n int) {
			step(n)
			start.Kind, start.Text, start.End, start.Last = kind, string(r[from:i]), col, line
			out = append(out, start)
		}
		switch {
		case x == '\n' || unicode.IsSpace(x):
			step(1)
		case x == '#':
			for i < len(r) && r[i] != '\n' {
				step(1)
			}
		case x == '_' || unicode.IsLetter(x):
			n := 1
			for i+n < len(r) && (r[i+n] == '_' || unicode.IsLetter(r[i+n]) || unicode.IsDigit(r[i+n])) {
				n++
			}
			take(Word, n)
		case x >= '0' && x <= '9' || x == '.' && i+1 < len(r) && r[i+1] >= '0' && r[i+1] <= '9':
			n := 1
			for i+n < len(r) && (r[i+n] >= '0' && r[i+n] <= '9' || r[i+n] == '.') {
				n++
			}
			if i+n+1 < len(r) && (r[i+n] == 'e' || r[i+n] == 'E') &&
				(r[i+n+1] >= '0' && r[i+n+1] <= '9' || r[i+n+1] == '-' || r[i+n+1] == '+') {
				n += 2
				for i+n < len(r) && r[i+n] >= '0' && r[i+n] <= '9' {
					n++
				}
			}
			take(Number, n)
		case x == '"' || x == '\'':
			take(Quoted, textLength(r[i:], x))
		default:
			n := 1
			if i+1 < len(r) {
				for _, s := range twoSigns {
					if string(r[i:i+2]) == s {
						n = 2
					}
				}
			}
			take(Sign, n)
		}
	}
	return out
}

// textLength finds the end of a text that begins with a quote: to its closing
// quote, or to the end of the line (of all, between three quotes).
func textLength(r []rune, quote rune) int {
	triple := len(r) >= 3 && r[1] == quote && r[2] == quote
	i := 1
	if triple {
		i = 3
	}
	for i < len(r) {
		switch {
		case r[i] == '\\':
			i++
		case r[i] == '\n' && !triple:
			return i
		case r[i] == quote && !triple:
			return i + 1
		case r[i] == quote && i+2 < len(r) && r[i+1] == quote && r[i+2] == quote:
			return i + 3
		case r[i] == quote && i+2 == len(r)-1 && r[i+1] == quote && r[i+2] == quote:
			return i + 3
		}
		i++
	}
	return min(i, len(r))
}

// openBracket finds the innermost bracket that is still open before a place.
func OpenBracket(lexemes []Lexeme) (Lexeme, bool) {
	var stack []Lexeme
	for _, l := range lexemes {
		if l.Kind != Sign || len(l.Text) != 1 {
			continue
		}
		switch {
		case strings.Contains("([{", l.Text):
			stack = append(stack, l)
		case strings.Contains(")]}", l.Text) && len(stack) > 0:
			stack = stack[:len(stack)-1]
		}
	}
	if len(stack) == 0 {
		return Lexeme{}, false
	}
	return stack[len(stack)-1], true
}

func SetOf(names ...string) map[string]bool {
	set := map[string]bool{}
	for _, n := range names {
		set[n] = true
	}
	return set
}
