package main

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"thole/builtins/session/message"
)

// Message is what a user is told about a study or a command: what, where, why
// and what to type next. File may be the command, "thole run".
type Message = message.Message

// message sets a message in lines: the head, the line with a caret (or all
// unknown names of a file), where it was called from, why, type.
func (w Window) message(msg Message) []string {
	const hang = 6
	head := msg.Head()
	if msg.Level == message.Remark && msg.File == "" { // a plain line on stderr
		head = msg.What
	}
	lines := wrapAt(w.textWidth(), "", hang, w.say(head))
	colour := map[message.Level]style{message.Wrong: red, message.Stopped: red, message.Beware: yellow}[msg.Level]
	for i := range lines {
		if colour != 0 {
			lines[i] = colour.in(lines[i])
		}
	}
	if msg.Source != "" && (msg.Line > 0 || msg.File == "") { // a line typed at the prompt has no number
		lines = append(lines, w.source(msg)...)
	}
	lines = append(lines, w.names(msg.Names)...)
	for _, from := range msg.From {
		lines = append(lines, w.wrap("from  ", hang, w.say(from))...)
	}
	if msg.Why != "" {
		lines = append(lines, w.wrap("why   ", hang, w.say(msg.Why))...)
	}
	if msg.Type != "" { // never broken: it is pasted
		for i, line := range strings.Split(w.sayLines(msg.Type), "\n") {
			lines = append(lines, []string{"type  ", "      "}[min(i, 1)]+line)
		}
	}
	return lines
}

// source shows the line of the file with a caret, cut around it where the line
// is wider than the window.
func (w Window) source(msg Message) []string {
	margin := fmt.Sprintf("%4d | ", msg.Line)
	if msg.Line == 0 {
		margin = "  "
	}
	// a character may be shown as more than one, so the caret is placed by
	// counting what stands before and under it as it is shown
	line := []rune(strings.TrimRight(oneLine.Replace(msg.Source), " "))
	col := min(max(msg.Caret, 0), len(line))
	end := min(col+max(msg.CaretLen, 1), len(line))
	before, under, after := w.say(string(line[:col])), w.say(string(line[col:end])), w.say(string(line[end:]))
	room := w.textWidth() - wide(margin)
	caret := min(max(wide(under), 1), room)

	text, at := before+under+after, wide(before)
	if wide(text) > room || at+caret > room {
		if at+caret+3 > room { // the head is cut; some words before the caret stay
			drop := min(wide(text)-(room-4), at)
			drop = min(drop, max(at-8, 0))
			text = "..." + dropColumns(text, drop)
			at = at - drop + 3
		}
		text = cut(text, room)
		caret = min(caret, max(room-at, 1))
	}
	return []string{margin + text, blanks(wide(margin)+at) + strings.Repeat("^", caret)}
}

// oneLine keeps a source line on one line, with as many characters as it had.
var oneLine = strings.NewReplacer("\t", " ", "\n", " ", "\r", " ")

// dropColumns takes so many columns off the head of a text.
func dropColumns(text string, n int) string {
	for n > 0 && text != "" {
		c, size := utf8.DecodeRuneInString(text)
		n -= columns.RuneWidth(c)
		text = text[size:]
	}
	return text
}

// names lists unknown names, each with its line and what is nearest.
func (w Window) names(names []message.UnknownName) []string {
	if len(names) == 0 {
		return nil
	}
	margins, widest, nearest := make([]string, len(names)), 0, 0
	for i, n := range names {
		margins[i] = fmt.Sprintf("%4d:%d", n.Line, n.Col)
		widest = max(widest, len(margins[i]))
		nearest = max(nearest, wide(w.say(n.Nearest)))
	}
	room := w.textWidth() - widest - 3
	if nearest > 0 {
		room -= nearest + 5
	}
	texts, longest := make([]string, len(names)), 0
	for i, n := range names {
		texts[i] = cut(w.say(strings.TrimSpace(oneLine.Replace(n.Source))), max(room, 12))
		longest = max(longest, wide(texts[i]))
	}
	lines := make([]string, len(names))
	for i, n := range names {
		lines[i] = left(margins[i], widest) + " | " + texts[i]
		if n.Nearest != "" {
			lines[i] = left(lines[i], widest+3+longest) + "  -> " + w.say(n.Nearest)
		}
	}
	return lines
}

// complain writes a message to stderr.
func (m *Manners) complain(msg Message) { m.Mention(m.message(msg)...) }
