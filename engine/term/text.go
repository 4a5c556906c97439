package term

import (
	"strings"

	"github.com/mattn/go-runewidth"
)

// columns counts in a way that does not depend on the locale.
var columns = &runewidth.Condition{EastAsianWidth: false, StrictEmojiNeutral: true}

// Width is how many columns a text takes; marks of styles take none.
func Width(text string) int {
	n := 0
	for _, c := range text {
		if !isMark(c) {
			n += columns.RuneWidth(c)
		}
	}
	return n
}

// Spaces is n blanks, none where n is negative.
func Spaces(n int) string { return strings.Repeat(" ", max(n, 0)) }

// PadRight fills a text with blanks behind it to that many columns.
func PadRight(text string, width int) string { return text + Spaces(width-Width(text)) }

// PadLeft fills a text with blanks before it to that many columns.
func PadLeft(text string, width int) string { return Spaces(width-Width(text)) + text }

// Cut shortens a text without marks to that many columns, with three points.
func Cut(text string, width int) string {
	if Width(text) <= width {
		return text
	}
	if width <= 3 {
		return strings.Repeat(".", max(width, 0))
	}
	head, _ := splitAt(text, width-3)
	return strings.TrimRight(head, " ") + "..."
}

// splitAt parts a text after at most that many columns.
func splitAt(text string, width int) (head, rest string) {
	n := 0
	for i, c := range text {
		if n += columns.RuneWidth(c); n > width {
			return text[:i], text[i:]
		}
	}
	return text, ""
}

// Wrap cleans a text and sets it in lines: the first begins with head, the others
// are indented by hang. Words longer than a line are broken.
func (w Window) Wrap(head string, hang int, text string) []string {
	return wrapAt(w.TextWidth(), head, hang, w.Clean(text))
}

func wrapAt(width int, head string, hang int, text string) []string {
	text = strings.TrimSpace(text)
	if Width(head)+Width(text) <= width {
		return []string{head + text} // wide gaps between its parts stay
	}
	var lines []string
	line, gap := head, "" // no gap before the first word of a line
	next := func() {
		lines = append(lines, line)
		line, gap = Spaces(hang), ""
	}
	for _, word := range strings.Fields(text) {
		if gap != "" && Width(line)+1+Width(word) > width {
			next()
		}
		for gap == "" && Width(line)+Width(word) > width { // a word wider than the line
			head, rest := splitAt(word, max(width-Width(line), 1))
			if head == "" { // one character wider than that stands all the same
				head, rest = firstRune(word)
			}
			line += head
			if word = rest; word == "" {
				break
			}
			next()
		}
		line, gap = line+gap+word, " "
	}
	return append(lines, line)
}

func firstRune(word string) (first, rest string) {
	for i := range word {
		if i > 0 {
			return word[:i], word[i:]
		}
	}
	return word, ""
}

// HeadLine sets a title at the left and a remark at the right edge, the remark
// on a line of its own where both do not fit; it cleans both.
func (w Window) HeadLine(title, side string) []string {
	title, side = w.Clean(title), w.Clean(side)
	gap := w.TextWidth() - Width(title) - Width(side)
	switch {
	case side == "":
		return w.Wrap("", 2, title)
	case gap >= 2:
		return []string{title + Spaces(gap) + side}
	}
	return append(w.Wrap("", 2, title), w.Wrap("  ", 2, side)...)
}

// Align sets cells in columns, each followed by a gap; a column that is empty in
// all rows is left out. What stands behind them is the caller's.
func Align(rows [][]string, gap int) []string {
	var widths []int
	for _, row := range rows {
		for k, cell := range row {
			if k == len(widths) {
				widths = append(widths, 0)
			}
			widths[k] = max(widths[k], Width(cell))
		}
	}
	lines := make([]string, len(rows))
	for i, row := range rows {
		for k, cell := range row {
			if widths[k] > 0 {
				lines[i] += PadRight(cell, widths[k]+gap)
			}
		}
	}
	return lines
}
