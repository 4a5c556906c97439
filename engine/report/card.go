package report

import (
	"html/template"
	"regexp"
	"strconv"
	"strings"

	"thole/engine/document"
	"thole/engine/figure"
)

// itemView is a card's line; a long one takes the whole width.
type itemView struct {
	document.Item
	Long bool
}

// card writes the rich view of one thing.
func card(c *document.Card, under string) template.HTML {
	view := struct {
		Title, Side string
		Headed      bool
		Items       []itemView
		Foot        []string
	}{Title: c.Title, Side: c.Side, Foot: c.Foot}
	if c.Title == "line" { // one line of a table has no name of its own
		view.Title = ""
	}
	view.Headed = c.Side != "" || view.Title != "" && !strings.EqualFold(view.Title, under)
	for _, it := range c.Items {
		long := len(it.Value)+len(it.Unit)+len(it.Remark) > 22 || it.Value == "" && it.Remark != ""
		view.Items = append(view.Items, itemView{it, long})
	}
	return fill("card", view)
}

// bigNumber is a length to be read from an arm's length.
type bigNumber struct{ Name, Value string }

// seatView is a seat of a card's table: what to set, large, and beneath it a place to write
// in what was found.
type seatView struct {
	Name  string
	Cells []seatCell
}

// seatCell is what to set; Class tells doubts and words from numbers.
type seatCell struct{ Text, Class string }

// footView is a line beneath a card; one that opens with "Checked:" is boxes to
// tick.
type footView struct {
	Line   string
	Checks []string
}

// rigCard writes a rigging card for the trailer: what was set, and lines to
// write in what was found. Printed, a card never breaks: one with a drawing fills an
// A4 sheet, of others two stand on one; cut out, each is A5.
func (p *page) rigCard(c *document.RigCard) template.HTML {
	p.cards = true
	view := struct {
		Title, Side string
		Card        *document.RigCard
		Big         []bigNumber
		Seats       []seatView
		Foot        []footView
		Drawings    []template.HTML
	}{Title: c.Title, Side: c.Side, Card: c}
	if c.Drawing != nil && figure.Empty(c.Drawing) == "" {
		for _, part := range figure.Drawings(c.Drawing) {
			view.Drawings = append(view.Drawings, p.twice(part)...)
		}
	}
	if strings.HasPrefix(view.Side, view.Title) { // "Otters", "Otters, 4x, set A": said once
		view.Title, view.Side = view.Side, "rigging card"
	}
	if c.Known == nil { // seats unlike each other have theirs in the table
		view.Big = bigNumbers(c.Rows)
	}
	if len(c.Columns) > 0 {
		for i, seat := range c.Seats {
			view.Seats = append(view.Seats, seatView{seat, knownAt(c, i)})
		}
	}
	for _, line := range c.Foot {
		f := footView{Line: line}
		if rest, ok := strings.CutPrefix(line, "Checked:"); ok {
			f.Checks = strings.Split(dotted(rest), " · ")
		}
		view.Foot = append(view.Foot, f)
	}
	return fill("rigging card", view)
}

// setByHand finds what is set at the trailer among a card's lines.
var setByHand = regexp.MustCompile(`\b(length|inboard|span|spread) (\d+(?:\.\d+)?)`)

// bigNumbers are length, inboard and span or spread, to be read with wet hands
// and a spanner in them.
func bigNumbers(rows []document.Item) (out []bigNumber) {
	seen := map[string]bool{}
	for _, r := range rows {
		if r.Label != "oar" && r.Label != "rig" {
			continue
		}
		for _, m := range setByHand.FindAllStringSubmatch(r.Value, -1) {
			if !seen[m[1]] {
				seen[m[1]] = true
				out = append(out, bigNumber{m[1], m[2]})
			}
		}
	}
	return out
}

// knownAt is what is known of a seat, a cell a column.
func knownAt(c *document.RigCard, seat int) []seatCell {
	cells := make([]seatCell, len(c.Columns))
	for j, col := range c.Columns {
		text := ""
		switch {
		case c.Known == nil:
			text = strings.TrimSpace(col.Value)
		case seat < len(c.Known) && j < len(c.Known[seat]):
			text = strings.TrimSpace(c.Known[seat][j])
		}
		cells[j].Text = text
		if _, err := strconv.ParseFloat(text, 64); text == "?" {
			cells[j].Class = "doubt"
		} else if err != nil && text != "" {
			cells[j].Class = "words"
		}
	}
	return cells
}
