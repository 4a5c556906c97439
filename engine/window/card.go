package window

import (
	"thole/engine/document"
	"thole/engine/term"
)

// card sets the rich view of one thing: its head, its items in two columns (three
// from 100), down and then across, values set right with the unit next to them,
// and the lines beneath. Items with remarks stand in one column.
func card(w term.Window, c *document.Card) []string {
	lines := w.HeadLine(c.Title, c.Side)
	lines = append(lines, items(w, c.Items)...)
	for _, foot := range c.Foot {
		lines = append(lines, w.Wrap("  ", 2, foot)...)
	}
	return lines
}

// items sets labels, values and units.
func items(w term.Window, items []document.Item) []string {
	if len(items) == 0 {
		return nil
	}
	said := make([]document.Item, len(items))
	remarks := false
	for i, it := range items {
		said[i] = document.Item{Label: w.Clean(it.Label), Value: w.Clean(it.Value), Unit: w.Clean(it.Unit),
			Remark: w.Clean(it.Remark)}
		remarks = remarks || it.Remark != ""
	}
	if remarks {
		return itemsWithRemarks(w, said)
	}
	said, texts := withoutTexts(said)
	return append(itemGrid(w, said), itemsWithRemarks(w, texts)...)
}

// longest is the widest value that stands in a column of values; longer ones
// are texts and stand beneath.
const longest = 24

// withoutTexts parts items whose value is a text from the others.
func withoutTexts(items []document.Item) (values, texts []document.Item) {
	for _, it := range items {
		if term.Width(it.Value) > longest {
			texts = append(texts, document.Item{Label: it.Label, Remark: it.Value})
		} else {
			values = append(values, it)
		}
	}
	return values, texts
}

// itemGrid sets items in as many columns as fit.
func itemGrid(w term.Window, said []document.Item) []string {
	if len(said) == 0 {
		return nil
	}
	most := 2
	if w.Width >= 100 {
		most = 3
	}
	for n := min(most, len(said)); n > 1; n-- {
		if lines, fits := itemColumns(said, n, w.TextWidth()); fits {
			return lines
		}
	}
	lines, _ := itemColumns(said, 1, w.TextWidth())
	return lines
}

// itemColumns sets items in n columns, down and then across.
func itemColumns(items []document.Item, n, width int) (lines []string, fits bool) {
	rows := (len(items) + n - 1) / n
	lines = make([]string, rows)
	for i := range lines {
		lines[i] = " "
	}
	at := 2
	for first := 0; first < len(items); first += rows {
		column := items[first:min(first+rows, len(items))]
		label, value, unit := widths(column)
		for i, it := range column {
			lines[i] = term.PadRight(lines[i], at) + term.PadRight(it.Label, label+2) +
				term.PadLeft(it.Value, value) +
				" " + it.Unit
		}
		at += label + 2 + value + 1 + unit
		if unit == 0 {
			at--
		}
		if at > width {
			return lines, false
		}
		at += 4
	}
	return lines, true
}

// itemsWithRemarks sets items in one column, the remark behind the unit.
func itemsWithRemarks(w term.Window, items []document.Item) []string {
	label, value, unit := widths(items)
	at := 2 + label + 2 + value + 1 + unit + 4
	if value+unit == 0 { // words only
		at = 2 + label + 2
	}
	var lines []string
	for _, it := range items {
		line := "  " + term.PadRight(it.Label, label+2) + term.PadLeft(it.Value, value)
		if it.Unit != "" {
			line += " " + it.Unit
		}
		if it.Remark == "" {
			lines = append(lines, line)
			continue
		}
		if w.TextWidth()-at < 20 { // a narrow window: the remark goes beneath
			lines = append(lines, line)
			lines = append(lines, w.Wrap("    ", 4, it.Remark)...)
			continue
		}
		lines = append(lines, w.Wrap(term.PadRight(line, at), at, it.Remark)...)
	}
	return lines
}

func widths(items []document.Item) (label, value, unit int) {
	for _, it := range items {
		label, value, unit = max(label, term.Width(it.Label)), max(value, term.Width(it.Value)), max(unit,
			term.Width(it.Unit))
	}
	return
}
