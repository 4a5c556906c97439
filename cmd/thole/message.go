package main

import (
	"fmt"
	"strings"

	"thole/builtins/session/message"
	"thole/engine/term"
)

// Message is what a user is told about a study or a command: what, where, why
// and what to type next. File may be the command, "thole run".
type Message = message.Message

// printMessage writes a message to stderr.
func (tty *terminal) printMessage(msg Message) { tty.PrintNote(messageLines(tty.Window, msg)...) }

// messageLines sets a message in lines: the head, the line with a caret (or all
// unknown names of a file), where it was called from, why, type.
func messageLines(w term.Window, msg Message) []string {
	const hang = 6
	head := msg.Head()
	if msg.Level == message.Remark && msg.File == "" { // a plain line on stderr
		head = msg.What
	}
	lines := w.Wrap("", hang, head)
	if colour := headStyle[msg.Level]; colour != 0 {
		for i := range lines {
			lines[i] = colour.In(lines[i])
		}
	}
	if msg.Source != "" && (msg.Line > 0 || msg.File == "") { // a line typed at the prompt has no number
		margin := "  "
		if msg.Line > 0 {
			margin = fmt.Sprintf("%4d | ", msg.Line)
		}
		lines = append(lines, w.SourceLine(margin, msg.Source, msg.Caret, msg.CaretLen)...)
	}
	lines = append(lines, unknownNames(w, msg.Names)...)
	for _, from := range msg.From {
		lines = append(lines, w.Wrap("from  ", hang, from)...)
	}
	if msg.Why != "" {
		lines = append(lines, w.Wrap("why   ", hang, msg.Why)...)
	}
	if msg.Type != "" { // never broken: it is pasted
		typ := strings.ReplaceAll(w.CleanLines(msg.Type), "\n", "\n      ")
		lines = append(lines, strings.Split("type  "+typ, "\n")...)
	}
	return lines
}

// headStyle is the colour of a message's head.
var headStyle = map[message.Level]term.Style{message.Wrong: term.Red, message.Stopped: term.Red,
	message.Beware: term.Yellow}

// unknownNames lists names that neither the study nor the tool knows, each with
// its line and what is nearest.
func unknownNames(w term.Window, names []message.UnknownName) []string {
	margin, nearest := 0, 0
	for _, n := range names {
		margin = max(margin, len(placeOf(n)))
		nearest = max(nearest, term.Width(w.Clean(n.Nearest)))
	}
	room := w.TextWidth() - margin - 3
	if nearest > 0 {
		room -= nearest + 5
	}
	texts, longest := make([]string, len(names)), 0
	for i, n := range names {
		texts[i] = term.Cut(w.Clean(strings.TrimSpace(term.OneLine(n.Source))), max(room, 12))
		longest = max(longest, term.Width(texts[i]))
	}
	var lines []string
	for i, n := range names {
		line := term.PadRight(placeOf(n), margin) + " | " + texts[i]
		if n.Nearest != "" {
			line = term.PadRight(line, margin+3+longest) + "  -> " + w.Clean(n.Nearest)
		}
		lines = append(lines, line)
	}
	return lines
}

func placeOf(n message.UnknownName) string { return fmt.Sprintf("%4d:%d", n.Line, n.Col) }
