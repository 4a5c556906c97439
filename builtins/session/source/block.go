package source

import "strings"

// More tells whether a block goes on: a bracket or a text between three quotes
// is open, or a def, for or if wants more lines. An empty line ends the latter.
func More(text string) bool {
	if strings.TrimSpace(text) == "" {
		return false
	}
	if Open(text) {
		return true
	}
	lexemes := Lex(text)
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	first := firstWord(lines[0])
	if !BlockWords[first] {
		return false
	}
	if len(lines) == 1 {
		// def f(x): return x stands on one line
		n := len(lexemes)
		return n > 0 && lexemes[n-1].Text == ":" || !strings.Contains(text, ":")
	}
	return strings.TrimSpace(lines[len(lines)-1]) != "" && !strings.HasSuffix(text, "\n\n")
}

// Open tells whether a bracket or a text between three quotes is open at the end
// of a text, or its last line goes on behind a backslash: no line can end there.
func Open(text string) bool {
	lexemes := Lex(text)
	if _, open := OpenBracket(lexemes); open {
		return true
	}
	if n := len(lexemes); n > 0 {
		last := lexemes[n-1]
		if t := last.Text; last.Kind == Quoted && len(t) >= 3 &&
			(strings.HasPrefix(t, `"""`) || strings.HasPrefix(t, "'''")) {
			if len(t) < 6 || !strings.HasSuffix(t, t[:3]) {
				return true
			}
		}
	}
	return strings.HasSuffix(strings.TrimSpace(text), "\\")
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
