package window

import (
	"slices"
	"strings"

	"thole/engine/document"
	"thole/engine/term"
)

// rigCard sets a rigging card as plain text: what is known above, a line for
// each seat to write in what is found beneath.
func rigCard(w term.Window, c *document.RigCard) []string {
	title := w.Clean(c.Title)
	switch side := w.Clean(c.Side); {
	case strings.HasPrefix(side, title): // it says the name again
		title = side
	case side != "":
		title += ", " + side
	}
	lines := w.HeadLine("RIGGING CARD", title)
	label := 7
	for _, r := range append(slices.Clip(c.Rows), c.Computed...) {
		label = max(label, term.Width(w.Clean(r.Label)))
	}
	for _, r := range append(slices.Clip(c.Rows), c.Computed...) {
		value := w.Clean(r.Value)
		if r.Unit != "" {
			value += " " + w.Clean(r.Unit)
		}
		if r.Remark != "" {
			value += " (" + w.Clean(r.Remark) + ")"
		}
		lines = append(lines, w.Wrap("  "+term.PadRight(w.Clean(r.Label), label+2), label+4, value)...)
	}
	lines = append(lines, seats(w, c)...)
	for _, text := range c.Doubtful {
		lines = append(lines, w.Wrap("  Doubtful, measure first: ", 4, w.Clean(text))...)
	}
	for _, text := range c.Cautions {
		for _, line := range caution(w, text) {
			lines = append(lines, "  "+line)
		}
	}
	for _, f := range c.Foot {
		lines = append(lines, w.Wrap("  ", 2, f)...)
	}
	return lines
}

// seats is the form to write in: a line a seat. Where seats differ, what is set
// stands before the line to write on.
func seats(w term.Window, c *document.RigCard) []string {
	if len(c.Seats) == 0 || len(c.Columns) == 0 {
		return nil
	}
	seat := 4
	for _, s := range c.Seats {
		seat = max(seat, term.Width(w.Clean(s)))
	}
	known := func(i, k int) string {
		if i < len(c.Known) && k < len(c.Known[i]) && c.Known[i][k] != "" {
			return w.Clean(c.Known[i][k]) + " "
		}
		return ""
	}
	// a narrow window takes the gaps first, then the lines to write on, then the
	// form goes on beneath
	gap, line := 3, 6
	width := func(k int) int {
		n := max(term.Width(w.Clean(c.Columns[k].Label)), line)
		for i := range c.Seats {
			if said := known(i, k); said != "" {
				n = max(n, term.Width(said)+4)
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
		head := "  " + term.PadRight("seat", seat)
		for k := from; k < to; k++ {
			head += term.Spaces(gap) + term.PadRight(w.Clean(c.Columns[k].Label), width(k))
		}
		lines = append(lines, term.Cut(strings.TrimRight(head, " "), w.Width))
		for i, s := range c.Seats {
			form := "  " + term.PadRight(w.Clean(s), seat)
			for k := from; k < to; k++ {
				said, blank := known(i, k), line
				if said != "" {
					blank = 4
				}
				form += term.Spaces(gap) + term.PadRight(said+strings.Repeat("_", blank), width(k))
			}
			lines = append(lines, term.Cut(strings.TrimRight(form, " "), w.Width))
		}
		from = to
	}
	return lines
}
