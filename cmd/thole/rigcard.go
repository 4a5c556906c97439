package main

import (
	"strings"

	"thole/engine/report"
)

// rigCard sets a rigging card as plain text: what is known above, a line for
// each seat to write in what is found beneath.
func (w Window) rigCard(c *report.RigCard) []string {
	title := w.say(c.Title)
	if c.Side != "" {
		title += ", " + w.say(c.Side)
	}
	lines := w.headLine("RIGGING CARD", title)
	label := 7
	for _, r := range c.Rows {
		label = max(label, wide(w.say(r.Label)))
	}
	for _, r := range c.Rows {
		value := w.say(r.Value)
		if r.Unit != "" {
			value += " " + w.say(r.Unit)
		}
		if r.Remark != "" {
			value += " (" + w.say(r.Remark) + ")"
		}
		lines = append(lines, w.spread("  "+left(w.say(r.Label), label+2), label+4, value)...)
	}
	lines = append(lines, w.seats(c)...)
	for _, f := range c.Foot {
		lines = append(lines, w.wrap("  ", 2, w.say(f))...)
	}
	return lines
}

// spread wraps a text but keeps the wide gaps between its parts where it fits.
func (w Window) spread(head string, hang int, text string) []string {
	if wide(head)+wide(text) <= w.textWidth() {
		return []string{head + text}
	}
	return w.wrap(head, hang, text)
}

// seats is the form to write in: a line a seat.
func (w Window) seats(c *report.RigCard) []string {
	if len(c.Seats) == 0 || len(c.Columns) == 0 {
		return nil
	}
	seat := 4
	for _, s := range c.Seats {
		seat = max(seat, wide(w.say(s)))
	}
	// a narrow window takes the gaps first, then the lines to write on
	gap, line := 3, 6
	for total := func() int {
		n := 2 + seat
		for _, col := range c.Columns {
			n += gap + max(wide(w.say(col.Label)), line)
		}
		return n
	}; total() > w.Width && line > 3; {
		if gap > 1 {
			gap--
		} else {
			line--
		}
	}
	head := "  " + left("seat", seat)
	form := ""
	for _, col := range c.Columns {
		name := w.say(col.Label)
		head += blanks(gap) + left(name, max(wide(name), line))
		form += blanks(gap) + left(strings.Repeat("_", line), max(wide(name), line))
	}
	lines := []string{cut(strings.TrimRight(head, " "), w.Width)}
	for _, s := range c.Seats {
		lines = append(lines, cut("  "+left(w.say(s), seat)+strings.TrimRight(form, " "), w.Width))
	}
	return lines
}
