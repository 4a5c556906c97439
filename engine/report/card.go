package report

import (
	"regexp"
	"strings"

	"thole/engine/document"
	"thole/engine/typeset"
	"thole/engine/words"
)

// rigCard writes a rigging card for the trailer: what was set, and lines to
// write in what was found. Printed, a card never breaks, and two stand on an A4
// sheet; cut out, each is A5.
func (p *page) rigCard(c *document.RigCard) {
	p.cards++
	title, side := c.Title, c.Side
	if strings.HasPrefix(side, title) { // "Otters", "Otters, 4x, set A": said once
		title, side = side, "rigging card"
	}
	p.put("<article class=\"rig\" aria-label=\"", esc("Rigging card "+title), "\"><header><h3>", esc(typeset.Text(title)), "</h3>")
	if side != "" {
		p.put("<p>", esc(typeset.Text(side)), "</p>")
	}
	p.put("</header>\n")
	p.bigNumbers(c)
	p.put("<dl>")
	for _, r := range c.Rows {
		p.put("<div><dt>", esc(words.Spaced(r.Label)), "</dt><dd>", esc(typeset.Text(spaced(r.Value))+typeset.UnitAfter(r.Unit)))
		if r.Remark != "" {
			p.put(" <span class=\"u\">", esc(typeset.Text(r.Remark)), "</span>")
		}
		p.put("</dd></div>")
	}
	p.put("</dl>\n")
	if len(c.Seats) > 0 && len(c.Columns) > 0 {
		p.writeIn(c)
	}
	for _, caution := range c.Cautions {
		p.put("<p class=\"rigcaution\"><b>Caution</b> ", esc(typeset.Text(caution)), "</p>")
	}
	for _, f := range c.Foot {
		p.cardFoot(f)
	}
	p.put("</article>\n")
}

// setByHand finds what is set at the trailer among a card's lines.
var setByHand = regexp.MustCompile(`\b(length|inboard|span|spread) (\d+(?:\.\d+)?)`)

// bigNumbers writes length, inboard and span or spread so that they are read
// from an arm's length, with wet hands and a spanner in them.
func (p *page) bigNumbers(c *document.RigCard) {
	seen := map[string]bool{}
	var out []string
	for _, r := range c.Rows {
		if r.Label != "oar" && r.Label != "rig" {
			continue
		}
		for _, m := range setByHand.FindAllStringSubmatch(r.Value, -1) {
			if !seen[m[1]] {
				seen[m[1]] = true
				out = append(out, "<div><dt>"+m[1]+"</dt><dd>"+m[2]+"<span class=\"u\">"+typeset.Thin+"cm</span></dd></div>")
			}
		}
	}
	if c.Known == nil && len(out) > 0 { // seats unlike each other have theirs in the table
		p.put("<dl class=\"bignum\">", strings.Join(out, ""), "</dl>\n")
	}
}

// cardFoot writes a line beneath a card; one that opens with "Checked:" as boxes
// to tick.
func (p *page) cardFoot(line string) {
	rest, ok := strings.CutPrefix(line, "Checked:")
	if !ok {
		p.put("<p class=\"rigfoot\">", esc(typeset.Text(line)), "</p>")
		return
	}
	p.put("<p class=\"rigfoot\">Checked:")
	for _, item := range strings.Split(spaced(rest), " · ") {
		p.put(" <span class=\"check\"><span class=\"tick\"></span>", esc(item), "</span>")
	}
	p.put("</p>")
}

// writeIn is the card's table to fill in with a pencil: a known value stands
// small in the cell it belongs to.
func (p *page) writeIn(c *document.RigCard) {
	p.put("<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"", esc("Write in: "+c.Title), "\"><table class=\"pencil\"><thead><tr><th scope=\"col\">seat</th>")
	for _, col := range c.Columns {
		p.put("<th scope=\"col\">", esc(words.Spaced(col.Label)))
		if col.Unit != "" {
			p.put("<span class=\"un\">", esc(typeset.UnitName(col.Unit)), "</span>")
		}
		p.put("</th>")
	}
	p.put("</tr></thead><tbody>\n")
	for i, seat := range c.Seats {
		p.put("<tr><th scope=\"row\">", esc(seat), "</th>")
		for j, col := range c.Columns {
			v := strings.TrimSpace(col.Value)
			if c.Known != nil {
				v = ""
				if i < len(c.Known) && j < len(c.Known[i]) {
					v = strings.TrimSpace(c.Known[i][j])
				}
			}
			if v != "" {
				v = "<span class=\"u\">" + esc(typeset.Printed(v)) + "</span>"
			}
			p.put("<td>", v, "</td>")
		}
		p.put("</tr>\n")
	}
	p.put("</tbody></table></div>\n")
}

// spaced turns the wide gaps of a card set for a terminal into dots.
func spaced(s string) string {
	var parts []string
	for _, part := range strings.Split(s, "  ") {
		if part = strings.TrimSpace(part); part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, " · ")
}
