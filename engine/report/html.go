package report

import (
	"html"
	"regexp"
	"strings"

	"thole/engine/typeset"
)

// esc makes any text safe between tags and inside quoted attributes. Every text
// that comes from data passes through it exactly once.
func esc(s string) string { return html.EscapeString(typeset.Clean(s)) }

// boldNumbers escapes a sentence and sets its numbers in bold, units included.
// A number inside a word or a name ("scull-2b") is left alone.
func boldNumbers(s string) string {
	s = typeset.Text(typeset.Clean(s))
	var b strings.Builder
	last := 0
	for _, at := range number.FindAllStringIndex(s, -1) {
		if joins(s, at[0], at[1]) {
			continue
		}
		b.WriteString(html.EscapeString(s[last:at[0]]))
		b.WriteString("<b>" + html.EscapeString(s[at[0]:at[1]]) + "</b>")
		last = at[1]
	}
	b.WriteString(html.EscapeString(s[last:]))
	return b.String()
}

// joins says whether the piece of s from i to j is part of a longer word.
func joins(s string, i, j int) bool {
	word := func(c byte) bool {
		return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '_' || c == '-'
	}
	return i > 0 && word(s[i-1]) || j < len(s) && word(s[j])
}

var number = regexp.MustCompile(`[+\x{2212}]?\d+(?::\d\d)?(?:\.\d+)?(?:\x{202f}(?:` + typeset.Units + `)|°)?`)
