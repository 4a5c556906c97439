package report

import (
	"html/template"
	"strings"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// keyColumn is one column of the key numbers.
type keyColumn struct {
	Head, Class string // Class: in the page's style
	cells       []string
	of          *table.Column
}

// keyLine is one quantity: on a phone it becomes a small block.
type keyLine struct {
	Quantity, Unit, Case string
	Cells                []keyCell
}

type keyCell struct{ Class, Label, Text, Range string }

// comparison writes key numbers: now, proposed, change, sure? Beneath them stands how sure
// the changes are.
func (p *page) comparison(s *document.Shown, under string) template.HTML {
	t := s.Table
	var below template.HTML
	view := struct {
		Name    string
		Caption captionView
		Columns []keyColumn
		Lines   []keyLine
		Foot    []string
	}{Name: tableName(s, "comparison"), Caption: captionOf(s, under), Columns: comparisonColumns(t, s.Side),
		Foot: footLines(s.Foot)}
	nameCases(view.Columns, s.Head)
	quantity, unit, cases := t.Column("quantity"), t.TextColumn("unit"), t.TextColumn("case")
	for i := range t.Len() {
		line := keyLine{Quantity: words.Capital(words.Spaced(quantity.Texts[i]))}
		if unit != nil {
			line.Unit = unit.Texts[i]
		}
		if cases != nil && cases.Varies() {
			line.Case = cases.Texts[i]
		}
		for _, k := range view.Columns {
			cell := keyCell{Class: k.Class, Label: k.label(), Text: k.cells[i]}
			if k.of.Kind == table.Measured && k.of.Estimates[i] != nil && k.of.Name == "change" {
				cell.Range = typeset.Interval(k.of.Estimates[i])
			}
			line.Cells = append(line.Cells, cell)
		}
		view.Lines = append(view.Lines, line)
	}
	key := fill("comparison", view)
	if f := figure.Beside(t, figure.Below); f != nil {
		below = p.figure(f)
	}
	return key + below
}

// nameCases heads the two columns of values by what was compared, where the head
// line says it: "now -> broad".
func nameCases(columns []keyColumn, head string) {
	from, to, ok := strings.Cut(head, "->")
	// several cases: before and after of each
	if !ok || strings.Contains(to, "->") || strings.Contains(to, ", ") {
		return
	}
	for i := range columns {
		switch columns[i].of.Name {
		case "before":
			columns[i].Head = strings.TrimSpace(from)
		case "after":
			columns[i].Head = strings.TrimSpace(to)
		}
	}
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
			if ch := t.Column("change"); ch != nil && ch.Kind == table.Measured ||
				t.Column("percent") == nil && t.Column("change") == nil {
				continue
			}
		case "verdict":
			if c.Kind == table.Text && !c.Varies() && c.Texts[0] == "one run" && side == "one run" {
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
		if !c.AllBlank() {
			out = append(out, keyColumn{head, classOf(c), typeset.Cells(c), c})
		}
	}
	return out
}

func classOf(c *table.Column) string {
	switch {
	case c.Name == "verdict":
		return "l sure"
	case c.Name == "percent":
		return "pc"
	case c.Kind == table.Text:
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
	return strings.Replace(k.Head, " (95"+typeset.Thin+"%)", "", 1)
}
