package report

import (
	"html"
	"regexp"
	"strings"
)

// Signs of good setting. A page shows a true minus, so that a change stands out
// from a dash, and a narrow space that never breaks between a number and its unit.
const (
	minus = "\u2212"
	thin  = "\u202f"
)

// esc makes any text safe between tags and inside quoted attributes. Every text
// that comes from data passes through it exactly once.
func esc(s string) string { return html.EscapeString(clean(s)) }

// clean drops what HTML does not allow at all: control characters other than
// blanks, and bytes that are no UTF-8.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return r
		case r < 0x20, r >= 0x7f && r < 0xa0, r >= 0xfdd0 && r <= 0xfdef, r&0xfffe == 0xfffe:
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
}

// units that may follow a number in running text, longest first.
const units = `N·s/m|s/500 m|kg·m²|m/s|1/min|cm²|m²|cm|mm|kg|km|deg|min|°C|°|%|W|J|N|m|s`

var (
	asciiMinus = regexp.MustCompile(`(^|[\s(\[])-(\d)`)
	withUnit   = regexp.MustCompile(`(\d) (` + units + `)($|[\s.,;:!?)\]])`)
	number     = regexp.MustCompile(`[+\x{2212}]?\d+(?::\d\d)?(?:\.\d+)?(?:\x{202f}(?:` + units + `)|°)?`)
)

// typeset gives running text the page's signs: a true minus before a number and
// a narrow space before a unit. Text as it is typed in a terminal has neither.
func typeset(s string) string {
	s = strings.ReplaceAll(strings.ReplaceAll(s, "+-", "±"), " -> ", " → ")
	s = asciiMinus.ReplaceAllString(s, "${1}"+minus+"$2")
	// twice, because "3 m 4 s" shares the blank that one match eats
	for range 2 {
		s = withUnit.ReplaceAllStringFunc(s, func(m string) string {
			p := withUnit.FindStringSubmatch(m)
			return p[1] + unitAfter(p[2]) + p[3]
		})
	}
	return s
}

// typed gives a text in print's signs back as it is typed in a terminal.
func typed(s string) string {
	return strings.NewReplacer(minus, "-", thin, " ", "°", " deg", "’", "'").Replace(s)
}

// unitAfter gives the unit as it follows a number.
func unitAfter(unit string) string {
	switch unit {
	case "":
		return ""
	case "deg", "°":
		return "°"
	}
	return thin + strings.ReplaceAll(unit, " ", thin)
}

// unitName gives the unit as it stands alone, in a head or on an axis.
func unitName(unit string) string {
	if unit == "deg" {
		return "degrees"
	}
	return strings.ReplaceAll(unit, " ", thin)
}

// boldNumbers escapes a sentence and sets its numbers in bold, units included.
// A number inside a word or a name ("scull-2b") is left alone.
func boldNumbers(s string) string {
	s = typeset(clean(s))
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

// words turns a name as it is typed into words: drive_time, "drive time".
func words(name string) string { return strings.ReplaceAll(name, "_", " ") }

// capital sets the first letter large.
func capital(s string) string {
	for i, r := range s {
		return s[:i] + strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}

// sentence makes sure a text ends as a sentence does.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") || strings.HasSuffix(s, "!") {
		return s
	}
	return s + "."
}

// list joins names as a sentence does: "a, b and c".
func list(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}
