package main

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Message is a mistake, a note or a caution with its four parts: what, where,
// why, what to type. Where one cause has several places they stand together.
type Message struct {
	Kind  string // "" for an error, "note", "caution"
	File  string // or the command: "thole run"
	Line  int    // from 1; 0 where there is no place in a file
	Col   int    // characters from 1
	Text  string // the line of the file
	Caret int    // characters under which the caret stands

	What, Why, Type string

	Places []Place // of a joint message
}

// Place is one place of a joint message, and what is meant there.
type Place struct {
	Line, Col int
	Text      string
	Meant     string
}

// message sets a message in lines.
func (w Window) message(msg Message) []string {
	head := w.say(msg.File)
	if msg.Line > 0 {
		head += fmt.Sprintf(":%d:%d", msg.Line, msg.Col)
	}
	if msg.Kind != "" {
		head += ": " + msg.Kind
	}
	if head != "" {
		head += ": "
	}
	hang := 6
	lines := w.wrap(head, hang, w.say(msg.What))
	colour := map[string]style{"": red, "caution": yellow, "note": styleEnd}[msg.Kind]
	for i := range lines {
		if colour != styleEnd {
			lines[i] = colour.in(lines[i])
		}
	}
	if msg.Line > 0 && msg.Text != "" {
		lines = append(lines, w.source(msg)...)
	}
	lines = append(lines, w.places(msg.Places)...)
	if msg.Why != "" {
		lines = append(lines, w.wrap("why   ", hang, w.say(msg.Why))...)
	}
	if msg.Type != "" {
		lines = append(lines, w.wrap("type  ", hang, w.say(msg.Type))...)
	}
	return lines
}

// source shows the line of the file with a caret, cut around it where the line
// is wider than the window.
func (w Window) source(msg Message) []string {
	margin := fmt.Sprintf("%4d | ", msg.Line)
	// plain characters may be more than one, so the caret is placed by counting
	// what stands before and under it as it is shown
	line := []rune(strings.TrimRight(clean(msg.Text), " \r\n"))
	col := min(max(msg.Col-1, 0), len(line))
	end := min(col+max(msg.Caret, 1), len(line))
	before, under, after := w.say(string(line[:col])), w.say(string(line[col:max(end, col)])), w.say(string(line[max(end, col):]))
	room := w.textWidth() - wide(margin)
	caret := min(max(wide(under), 1), room)

	text, at := before+under+after, wide(before)
	if wide(text) > room {
		if at+caret+3 > room { // the head is cut: some words before the caret stay
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

// dropColumns takes so many columns off the head of a text.
func dropColumns(text string, n int) string {
	for n > 0 && text != "" {
		c, size := utf8.DecodeRuneInString(text)
		n -= columns.RuneWidth(c)
		text = text[size:]
	}
	return text
}

// places lists the lines of a joint message with what is meant in each.
func (w Window) places(places []Place) []string {
	if len(places) == 0 {
		return nil
	}
	margins, widest, meant := make([]string, len(places)), 0, 0
	for i, p := range places {
		margins[i] = fmt.Sprintf("%4d:%d", p.Line, p.Col)
		widest = max(widest, len(margins[i]))
		meant = max(meant, wide(w.say(p.Meant)))
	}
	room := w.textWidth() - widest - 3
	if meant > 0 {
		room -= meant + 5
	}
	texts, longest := make([]string, len(places)), 0
	for i, p := range places {
		texts[i] = cut(w.say(strings.TrimSpace(p.Text)), max(room, 12))
		longest = max(longest, wide(texts[i]))
	}
	lines := make([]string, len(places))
	for i, p := range places {
		lines[i] = left(margins[i], widest) + " | " + texts[i]
		if p.Meant != "" {
			lines[i] = left(lines[i], widest+3+longest) + "  -> " + w.say(p.Meant)
		}
	}
	return lines
}
