package term

import "strings"

// Style is how a piece of text looks where colours may be shown. In a line it is
// a mark: a character of the private use area, which opens the style up to the
// next closing mark. StripControls takes such characters out of everything that
// comes from outside.
type Style rune

const (
	styleEnd Style = '\uE000' + iota
	Bold
	Red
	Yellow
	Dim
	series1
)

// escapes in the order of the marks. The series are Okabe and Ito's blue,
// vermillion, green and purple, and the terminal's own ink for their black, in
// tones that can be read on light and dark.
var escapes = [...]string{"\x1b[0m", "\x1b[1m", "\x1b[31m", "\x1b[33m", "\x1b[2m",
	"\x1b[38;5;32m", "\x1b[38;5;166m", "\x1b[38;5;36m", "\x1b[38;5;175m", "\x1b[39m"}

// Series is the style of a chart's n-th line, counted from 1; those after the
// fifth look like the fifth.
func Series(n int) Style { return series1 + Style(min(n, MostLines)-1) }

// In sets a text in a style.
func (s Style) In(text string) string {
	if text == "" {
		return ""
	}
	return string(rune(s)) + text + string(rune(styleEnd))
}

func isMark(c rune) bool { return c >= rune(styleEnd) && c < rune(styleEnd)+rune(len(escapes)) }

// Paint turns the marks of a line into colours, or takes them out.
func Paint(line string, colour bool) string {
	var b strings.Builder
	for _, c := range line {
		switch {
		case !isMark(c):
			b.WriteRune(c)
		case colour:
			b.WriteString(escapes[c-rune(styleEnd)])
		}
	}
	return b.String()
}
