package report

import (
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// isComparison says whether a table has the shape of a comparison.
func isComparison(t *table.Table) bool {
	return t != nil && t.Len() > 0 && textColumn(t, "quantity") != nil && t.Column("before") != nil && t.Column("after") != nil
}

func textColumn(t *table.Table, name string) *table.Column {
	if c := t.Column(name); c != nil && c.Kind == table.Text {
		return c
	}
	return nil
}

// comparison writes key numbers: now, proposed, change, sure? On a phone each
// line becomes a small block.
func (p *page) comparison(s *document.Shown, under string) {
	t := s.Table
	name := tableName(s)
	if name == "table" {
		name = "comparison"
	}
	p.tapeFor(t)
	quantity, unit, cases := t.Column("quantity"), textColumn(t, "unit"), textColumn(t, "case")
	p.put("<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"", esc(words.Capital(name)), "\"><table class=\"key\">")
	if caption := tableCaption(s, under); caption != "" {
		p.put("<caption>", caption, "</caption>")
	}
	p.put("<thead><tr><th scope=\"col\">quantity</th>")
	columns := comparisonColumns(t, s.Side)
	nameCases(columns, s.Head)
	for _, k := range columns {
		p.put("<th scope=\"col\"", ifClass(k.class()), ">", esc(k.head), "</th>")
	}
	p.put("</tr></thead><tbody>\n")
	for i := range t.Len() {
		p.put("<tr>")
		of := ""
		if unit != nil && unit.Texts[i] != "" {
			of = " <span class=\"u\">" + esc(typeset.UnitName(unit.Texts[i])) + "</span>"
		}
		if cases != nil && manyCases(cases) {
			of += " <span class=\"u\">· " + esc(cases.Texts[i]) + "</span>"
		}
		p.put("<th scope=\"row\">", esc(words.Capital(words.Spaced(quantity.Texts[i]))), of, "</th>")
		for _, k := range columns {
			p.put("<td", ifClass(k.class()), " data-l=\"", esc(k.label()), "\">", k.cell(t, i), "</td>")
		}
		p.put("</tr>\n")
	}
	p.put("</tbody></table></div>\n")
	p.foot(s.Foot)
	if whiskersTell(t) {
		p.figure(&document.Figure{Kind: figure.Whisker, Name: "how sure", Table: t})
	}
}

// nameCases heads the two columns of values by what was compared, where the head
// line says it: "now -> broad".
func nameCases(columns []keyColumn, head string) {
	from, to, ok := strings.Cut(head, "->")
	if !ok || strings.Contains(to, "->") || strings.Contains(to, ", ") { // several cases: before and after of each
		return
	}
	for i := range columns {
		switch columns[i].of.Name {
		case "before":
			columns[i].head = strings.TrimSpace(from)
		case "after":
			columns[i].head = strings.TrimSpace(to)
		}
	}
}

func ifClass(c string) string {
	if c == "" {
		return ""
	}
	return " class=\"" + c + "\""
}

func manyCases(c *table.Column) bool {
	for _, s := range c.Texts {
		if s != c.Texts[0] {
			return true
		}
	}
	return false
}

// keyColumn is one column of the key numbers.
type keyColumn struct {
	head  string
	cells []string
	of    *table.Column
}

func comparisonColumns(t *table.Table, side string) []keyColumn {
	var out []keyColumn
	for _, c := range t.Columns {
		head := words.Spaced(c.Name)
		switch c.Name {
		case "quantity", "unit", "case":
			continue
		case "low", "high":
			// the change carries its interval; alone they would repeat it
			if ch := t.Column("change"); ch != nil && ch.Kind == table.Measured || t.Column("percent") == nil && t.Column("change") == nil {
				continue
			}
		case "verdict":
			if c.Kind == table.Text && !manyCases(c) && c.Texts[0] == "one run" && side == "one run" {
				continue // said once, above
			}
			head = "sure?"
		case "change":
			if c.Kind == table.Measured {
				head = "change (95" + typeset.Thin + "%)"
			}
		case "percent":
			head = "change, %"
		}
		if blankColumn(c) {
			continue
		}
		out = append(out, keyColumn{head, typeset.Cells(c), c})
	}
	return out
}

func blankColumn(c *table.Column) bool {
	for i := range c.Len() {
		if !c.Blank(i) {
			return false
		}
	}
	return true
}

func (k keyColumn) class() string {
	switch {
	case k.of.Name == "verdict":
		return "l sure"
	case k.of.Name == "percent":
		return "pc"
	case k.of.Kind == table.Text:
		return "l"
	}
	return ""
}

// label is what stands before the cell in a block on a phone.
func (k keyColumn) label() string {
	switch k.of.Name {
	case "verdict":
		return "sure? "
	case "percent":
		return "in % "
	}
	return strings.Replace(k.head, " (95"+typeset.Thin+"%)", "", 1)
}

func (k keyColumn) cell(_ *table.Table, i int) string {
	out := esc(k.cells[i])
	if k.of.Kind == table.Measured && k.of.Estimates[i] != nil && k.of.Name == "change" {
		out += "<span class=\"rng\">" + esc(typeset.Interval(k.of.Estimates[i])) + "</span>"
	}
	return out
}

// changeOf gives the change of a quantity in words, "+0.039 m/s", or "".
func changeOf(t *table.Table, name string) string {
	q, change := textColumn(t, "quantity"), t.Column("change")
	if q == nil || change == nil || change.Kind == table.Text {
		return ""
	}
	for i, s := range q.Texts {
		if s == name && !change.Blank(i) && !math.IsNaN(change.Value(i)) {
			unit := change.UnitAt(i)
			if u := textColumn(t, "unit"); u != nil {
				unit = u.Texts[i]
			}
			return typeset.Cells(change)[i] + typeset.UnitAfter(unit)
		}
	}
	return ""
}
