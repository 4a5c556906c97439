package term

import "strings"

// SourceLine shows a line of a file behind a margin, and beneath it carets under
// length characters from the caret-th on, counted from 0. A line wider than the
// window is cut around them.
func (w Window) SourceLine(margin, source string, caret, length int) []string {
	// a character may be shown as more than one, so the caret is placed by
	// counting what stands before and under it as it is shown
	line := []rune(strings.TrimRight(OneLine(source), " "))
	col := min(max(caret, 0), len(line))
	end := min(col+max(length, 1), len(line))
	before, under := w.Clean(string(line[:col])), w.Clean(string(line[col:end]))
	room := w.TextWidth() - Width(margin)
	carets := min(max(Width(under), 1), room)

	text, at := before+under+w.Clean(string(line[end:])), Width(before)
	if Width(text) > room || at+carets > room {
		if at+carets+3 > room { // the head is cut; some words before the caret stay
			drop := min(Width(text)-(room-4), at)
			drop = min(drop, max(at-8, 0))
			text = "..." + cutHead(text, drop)
			at = at - drop + 3
		}
		text = Cut(text, room)
		carets = min(carets, max(room-at, 1))
	}
	return []string{margin + text, Spaces(Width(margin)+at) + strings.Repeat("^", carets)}
}

// OneLine keeps a source line on one line, with as many characters as it had.
func OneLine(source string) string { return lineEnds.Replace(source) }

var lineEnds = strings.NewReplacer("\t", " ", "\n", " ", "\r", " ")

// cutHead takes that many columns off the beginning of a text.
func cutHead(text string, width int) string {
	for i, c := range text {
		if width <= 0 {
			return text[i:]
		}
		width -= columns.RuneWidth(c)
	}
	return ""
}
