package report

import (
	"fmt"
	"strings"

	"thole/engine/document"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// tallTable is the number of lines from which a table is folded: a page is read,
// and hundreds of lines are looked up.
const tallTable = 40

// shown writes a value put on view.
func (p *page) shown(s *document.Shown, under string) {
	switch {
	case s.Card != nil:
		p.card(s.Card, under)
	case s.Table != nil && isComparison(s.Table):
		p.comparison(s, under)
	case s.Table != nil && drawnFrom(s.Table) != nil:
		f := drawnFrom(s.Table)
		f.Name = s.Name
		p.figure(f)
		p.foot(s.Foot)
	case s.Table != nil:
		p.plainTable(s, under)
	case s.Line != "":
		p.put("<p class=\"value\">", ifName(s.Name), esc(typeset.Text(s.Line)), "</p>\n")
	}
}

func ifName(name string) string {
	if name == "" {
		return ""
	}
	return "<span class=\"u\">" + esc(words.Spaced(name)) + ":</span> "
}

// plainTable writes a table that a study shows, folded where it is tall.
func (p *page) plainTable(s *document.Shown, under string) {
	t := s.Table
	name := tableName(s)
	if t.Len() == 0 {
		p.put("<p class=\"empty\">", esc(words.Capital(name)), " holds no lines: nothing met the conditions.</p>\n")
		p.foot(s.Foot)
		return
	}
	caption := tableCaption(s, under)
	if t.WriteIn {
		p.cards++                      // the sheet's style
		p.put("<div class=\"whole\">") // one sheet of paper, not the half of two
		p.dataTable(t, name, caption, " class=\"pencil\"")
		if len(s.Foot) == 0 {
			p.foot(t.Foot)
		}
		p.put("</div>\n")
	} else if t.Len() > tallTable {
		p.put(fmt.Sprintf("<details class=\"data\"><summary>%s, %d lines</summary>", esc(words.Capital(name)), t.Len()))
		p.dataTable(t, name, "", "")
		p.put("</details>\n")
	} else {
		p.dataTable(t, name, caption, "")
	}
	p.foot(s.Foot)
}

// mostLines is how many lines of a table stand on a page; headLines of it are the
// head, the rest the tail. All of them lie in the table's CSV beside the page.
const (
	mostLines = 200
	headLines = 150
)

// cutTable gives the lines of a table that a page shows, and after how many of
// them how many are left out.
func cutTable(t *table.Table) (shown *table.Table, after, left int) {
	n := t.Len()
	if n <= mostLines {
		return t, n, 0
	}
	var lines []int
	for i := range headLines {
		lines = append(lines, i)
	}
	for i := n - (mostLines - headLines); i < n; i++ {
		lines = append(lines, i)
	}
	return t.Lines(lines), headLines, n - mostLines
}

func tableName(s *document.Shown) string {
	switch {
	case s.Name != "":
		return words.Spaced(s.Name)
	case s.Table.Name != "":
		return words.Spaced(s.Table.Name)
	}
	return "table"
}

// tableCaption is the table's name and remark, left out where the heading above
// says the name already.
func tableCaption(s *document.Shown, under string) string {
	name := tableName(s)
	if strings.EqualFold(name, under) || name == "table" {
		name = ""
	}
	out := ""
	if name != "" {
		out = "<b>" + esc(words.Capital(name)) + "</b>"
	}
	side := s.Side
	if side == "" && s.Table != nil {
		side = s.Table.Side
	}
	for _, more := range []string{s.Head, side} {
		if more != "" {
			if out != "" {
				out += " · "
			}
			out += esc(strings.ReplaceAll(typeset.Text(more), "->", "→"))
		}
	}
	return out
}

func (p *page) foot(lines []string) {
	if len(lines) == 0 {
		return
	}
	set := make([]string, len(lines))
	for i, line := range lines {
		if strings.HasPrefix(line, "unchanged:") { // names as they are typed
			line = words.Spaced(line)
		}
		set[i] = esc(typeset.Text(line))
	}
	p.put("<p class=\"foot\">", strings.Join(set, "<br>"), "</p>\n")
}

// dataTable writes any table as HTML: heads with units, numbers set right and
// printed to the digits of the trade, texts left, blanks blank. It scrolls by
// itself where it is too wide.
func (p *page) dataTable(t *table.Table, name, caption, class string) {
	if class == "" {
		t = withoutReasons(withoutEnds(t))
	}
	t, after, left := cutTable(t)
	p.put("<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"", esc(words.Capital(name)), "\">")
	p.put("<table", class)
	if len(t.Columns) < 5 && class == "" {
		p.put(" class=\"fit\"")
	}
	p.put(">")
	if caption != "" {
		p.put("<caption>", caption, "</caption>")
	}
	p.put("<thead><tr>")
	for i, c := range t.Columns {
		p.put("<th scope=\"col\"", leftClass(c, i), ">", esc(words.Spaced(c.Name)), headUnit(c), "</th>")
	}
	p.put("</tr></thead><tbody>\n")
	cells := make([][]string, len(t.Columns))
	for i, c := range t.Columns {
		cells[i] = typeset.Cells(c)
	}
	for line := range t.Len() {
		if line == after {
			p.put(fmt.Sprintf("<tr><th scope=\"row\" colspan=\"%d\" class=\"more\">%d more lines, all in the .csv beside this page</th></tr>\n", len(t.Columns), left))
		}
		p.put("<tr>")
		for i, c := range t.Columns {
			p.tableCell(c, i, line, cells[i][line], t)
		}
		p.put("</tr>\n")
	}
	p.put("</tbody></table></div>\n")
}

// withoutEnds leaves out the ends of intervals where an estimate beside them
// shows its own.
func withoutEnds(t *table.Table) *table.Table {
	low, high, value := t.Column("low"), t.Column("high"), t.Column("value")
	if low == nil || high == nil || value == nil || value.Kind != table.Measured {
		return t
	}
	out := *t
	out.Columns = nil
	for _, k := range t.Columns {
		if k != low && k != high {
			out.Columns = append(out.Columns, k)
		}
	}
	return &out
}

// withoutReasons leaves out a column of reasons when nothing failed.
func withoutReasons(t *table.Table) *table.Table {
	c := t.Column("reason")
	if c == nil || !blankColumn(c) || len(t.Columns) == 1 {
		return t
	}
	out := *t
	out.Columns = nil
	for _, k := range t.Columns {
		if k != c {
			out.Columns = append(out.Columns, k)
		}
	}
	return &out
}

func (p *page) tableCell(c *table.Column, column, line int, text string, t *table.Table) {
	if c.Kind == table.Text {
		text = typeset.Text(typeset.Clean(text))
		if c.Name == "quantity" || c.Name == "input" { // names as they are typed
			text = words.Spaced(text)
		}
	}
	out := esc(text)
	if c.Kind == table.Measured && c.Estimates[line] != nil {
		out += "<span class=\"rng\">" + esc(typeset.Interval(c.Estimates[line])) + "</span>"
	}
	if c.Units != nil && c.Units[line] != "" && text != "" && t.Column("unit") == nil {
		out += "<span class=\"u\">" + esc(typeset.UnitAfter(c.Units[line])) + "</span>"
	}
	if column == 0 {
		p.put("<th scope=\"row\">", out, "</th>")
		return
	}
	p.put("<td", leftClass(c, column), ">", out, "</td>")
}

func leftClass(c *table.Column, column int) string {
	if column > 0 && c.Kind == table.Text {
		return ` class="l"`
	}
	return ""
}

func headUnit(c *table.Column) string {
	if c.Unit == "" {
		return ""
	}
	return "<span class=\"un\">" + esc(typeset.UnitName(c.Unit)) + "</span>"
}

// card writes the rich view of one thing.
func (p *page) card(c *document.Card, under string) {
	p.put("<div>")
	if c.Title == "line" { // one line of a table has no name of its own
		c = &document.Card{Side: c.Side, Items: c.Items, Foot: c.Foot}
	}
	if c.Side != "" || c.Title != "" && !strings.EqualFold(c.Title, under) {
		p.put("<p class=\"cardhead\"><b>", esc(c.Title), "</b>", ifSome(" · ", typeset.Text(c.Side)), "</p>")
	}
	p.items(c.Items)
	for i := range c.Foot {
		p.put("<p class=\"small\">", esc(typeset.Text(c.Foot[i])), "</p>")
	}
	p.put("</div>\n")
}

func (p *page) items(items []document.Item) {
	if len(items) == 0 {
		return
	}
	p.put("<dl class=\"cards\">")
	for _, it := range items {
		class := ""
		if len(it.Value)+len(it.Unit)+len(it.Remark) > 22 || it.Value == "" && it.Remark != "" {
			class = " class=\"long\""
		}
		p.put("<div", class, "><dt>", esc(words.Spaced(it.Label)), "</dt><dd>", esc(typeset.Printed(it.Value)+typeset.UnitAfter(it.Unit)))
		switch {
		case it.Remark != "" && it.Value == "":
			p.put(esc(typeset.Text(spaced(it.Remark))))
		case it.Remark != "":
			p.put("<span class=\"rem\">", esc(typeset.Text(it.Remark)), "</span>")
		}
		p.put("</dd></div>")
	}
	p.put("</dl>\n")
}
