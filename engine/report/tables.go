package report

import (
	"cmp"
	"html/template"
	"slices"
	"strings"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// tallTable is the number of lines from which a table is folded: a page is read,
// and hundreds of lines are looked up.
const tallTable = 40

// shown writes a value put on view.
func (p *page) shown(s *document.Shown, under string) template.HTML {
	switch {
	case s.Card != nil:
		return card(s.Card, under)
	case s.Table != nil && figure.IsComparison(s.Table):
		return p.comparison(s, under)
	case s.Table != nil:
		if f := figure.Beside(s.Table, figure.Instead); f != nil {
			f.Name = s.Name
			return p.figure(f) + foot(s.Foot)
		}
		shown := p.plainTable(s, under)
		if f := figure.Beside(s.Table, figure.Below); f != nil {
			shown += p.figure(f)
		}
		return shown
	case s.Line != "":
		return fill("value", s)
	}
	return ""
}

// plainTable writes a table that a study shows, folded where it is tall.
func (p *page) plainTable(s *document.Shown, under string) template.HTML {
	t := s.Table
	view := struct {
		Name           string
		Nothing, Whole bool
		Folded         int // lines that lie folded
		Table          tableView
		Within, Foot   []string
	}{Name: tableName(s, "table"), Foot: footLines(s.Foot)}
	switch {
	case t.Len() == 0:
		view.Nothing = true
	case t.WriteIn: // one sheet of paper, not the half of two, in the card's style
		p.cards = true
		view.Whole = true
		view.Table = tableViewOf(t, view.Name, captionOf(s, under), "pencil")
		if len(s.Foot) == 0 {
			view.Within = footLines(t.Foot)
		}
	case t.Len() > tallTable:
		view.Folded = t.Len()
		view.Table = tableViewOf(t, view.Name, captionView{}, "")
	default:
		view.Table = tableViewOf(t, view.Name, captionOf(s, under), "")
	}
	return fill("shown table", view)
}

func tableName(s *document.Shown, fallback string) string {
	switch {
	case s.Name != "":
		return words.Spaced(s.Name)
	case s.Table.Name != "":
		return words.Spaced(s.Table.Name)
	}
	return fallback
}

// captionView is a table's name and its remarks.
type captionView struct {
	Name string
	More []string
}

// captionOf leaves the name out where the heading above says it already.
func captionOf(s *document.Shown, under string) captionView {
	c := captionView{Name: tableName(s, "")}
	if strings.EqualFold(c.Name, under) || c.Name == "table" {
		c.Name = ""
	}
	head, side := cmp.Or(s.Head, s.Table.Head), cmp.Or(s.Side, s.Table.Side)
	for _, more := range []string{head, s.Table.Held, side} {
		if more != "" {
			c.More = append(c.More, strings.ReplaceAll(typeset.Text(more), "->", "→"))
		}
	}
	return c
}

func foot(lines []string) template.HTML { return fill("foot", footLines(lines)) }

func footLines(lines []string) []string {
	set := make([]string, len(lines))
	for i, line := range lines {
		if strings.HasPrefix(line, "unchanged:") { // names as they are typed
			line = words.Spaced(line)
		}
		set[i] = typeset.Text(line)
	}
	return set
}

// tableView is any table: heads with units, numbers set right and printed to the
// digits of the trade, texts left, blanks blank. It scrolls by itself where it is
// too wide.
type tableView struct {
	Name, Class string
	Caption     captionView
	Heads       []headView
	Lines       []lineView
}

type headView struct {
	Name, Unit string
	Left       bool
}

type lineView struct {
	Skipped int // lines left out before this one
	Cells   []cellView
}

type cellView struct {
	Text, Range, Unit string
	Left              bool
}

// dataTable writes any table by itself.
func (p *page) dataTable(t *table.Table, name string, caption captionView, class string) template.HTML {
	return fill("table", tableViewOf(t, name, caption, class))
}

func tableViewOf(t *table.Table, name string, caption captionView, class string) tableView {
	if class == "" {
		t = withoutReasons(withoutEnds(t))
		if len(t.Columns) < 5 {
			class = "fit"
		}
	}
	t, after, left := cutTable(t)
	view := tableView{Name: name, Class: class, Caption: caption, Lines: make([]lineView, t.Len())}
	for i, c := range t.Columns {
		isLeft := i > 0 && c.Kind == table.Text
		view.Heads = append(view.Heads, headView{c.Name, c.Unit, isLeft})
		cells := typeset.Cells(c)
		for line := range view.Lines {
			cell := cellOf(c, line, cells[line], t)
			cell.Left = isLeft
			view.Lines[line].Cells = append(view.Lines[line].Cells, cell)
		}
	}
	if left > 0 {
		view.Lines[after].Skipped = left
	}
	return view
}

func cellOf(c *table.Column, line int, text string, t *table.Table) cellView {
	if c.Kind == table.Text {
		text = typeset.Text(typeset.Clean(text))
		if c.Name == "quantity" || c.Name == "input" { // names as they are typed
			text = words.Spaced(text)
		}
	}
	cell := cellView{Text: text}
	if c.Kind == table.Measured && c.Estimates[line] != nil {
		cell.Range = typeset.Interval(c.Estimates[line])
	}
	if c.Units != nil && text != "" && t.Column("unit") == nil {
		cell.Unit = c.Units[line]
	}
	return cell
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

// withoutEnds leaves out the ends of intervals where an estimate beside them
// shows its own.
func withoutEnds(t *table.Table) *table.Table {
	low, high, value := t.Column("low"), t.Column("high"), t.Column("value")
	if low == nil || high == nil || value == nil || value.Kind != table.Measured {
		return t
	}
	return without(t, low, high)
}

// withoutReasons leaves out a column of reasons when nothing failed.
func withoutReasons(t *table.Table) *table.Table {
	c := t.Column("reason")
	if c == nil || !c.AllBlank() || len(t.Columns) == 1 {
		return t
	}
	return without(t, c)
}

func without(t *table.Table, columns ...*table.Column) *table.Table {
	out := *t
	out.Columns = slices.DeleteFunc(slices.Clone(t.Columns),
		func(c *table.Column) bool { return slices.Contains(columns, c) })
	return &out
}
