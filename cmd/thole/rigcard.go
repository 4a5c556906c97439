package main

import (
	"strings"

	"thole/engine/document"
)

// rigCard sets a rigging card as plain text: what is known above, a line for
// each seat to write in what is found beneath.
func (w Window) rigCard(c *document.RigCard) []string {
	title := w.say(c.Title)
	switch side := w.say(c.Side); {
	case strings.HasPrefix(side, title): // it says the name again
		title = side
	case side != "":
		title += ", " + side
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
		lines = append(lines, w.wrap("  "+left(w.say(r.Label), label+2), label+4, value)...)
	}
	lines = append(lines, w.seats(c)...)
	for _, text := range c.Cautions {
		for _, line := range w.caution(text) {
			lines = append(lines, "  "+line)
		}
	}
	for _, f := range c.Foot {
		lines = append(lines, w.wrap("  ", 2, w.say(f))...)
	}
	return lines
}

// seats is the form to write in: a line a seat. Where seats differ, what is set
// stands before the line to write on.
func (w Window) seats(c *document.RigCard) []string {
	if len(c.Seats) == 0 || len(c.Columns) == 0 {
		return nil
	}
	seat := 4
	for _, s := range c.Seats {
		seat = max(seat, wide(w.say(s)))
	}
	known := func(i, k int) string {
		if i < len(c.Known) && k < len(c.Known[i]) && c.Known[i][k] != "" {
			return w.say(c.Known[i][k]) + " "
		}
		return ""
	}
	// a narrow window takes the gaps first, then the lines to write on, then the
	// form goes on beneath
	gap, line := 3, 6
	width := func(k int) int {
		n := max(wide(w.say(c.Columns[k].Label)), line)
		for i := range c.Seats {
			if said := known(i, k); said != "" {
				n = max(n, wide(said)+4)
			}
		}
		return n
	}
	total := func(from, to int) int {
		n := 2 + seat
		for k := from; k < to; k++ {
			n += gap + width(k)
		}
		return n
	}
	for all := len(c.Columns); total(0, all) > w.Width && line > 5; {
		if gap > 1 {
			gap--
		} else {
			line--
		}
	}
	var lines []string
	for from := 0; from < len(c.Columns); {
		to := from + 1
		for to < len(c.Columns) && total(from, to+1) <= w.Width {
			to++
		}
		head := "  " + left("seat", seat)
		for k := from; k < to; k++ {
			head += blanks(gap) + left(w.say(c.Columns[k].Label), width(k))
		}
		lines = append(lines, cut(strings.TrimRight(head, " "), w.Width))
		for i, s := range c.Seats {
			form := "  " + left(w.say(s), seat)
			for k := from; k < to; k++ {
				said, blank := known(i, k), line
				if said != "" {
					blank = 4
				}
				form += blanks(gap) + left(said+strings.Repeat("_", blank), width(k))
			}
			lines = append(lines, cut(strings.TrimRight(form, " "), w.Width))
		}
		from = to
	}
	return lines
}
