package main

import "thole/engine/document"

// card sets the rich view of one thing: its head, its items in two columns (three
// from 100), down and then across, values set right with the unit next to them,
// and the lines beneath. Items with remarks stand in one column.
func (w Window) card(c *document.Card) []string {
	lines := w.headLine(w.say(c.Title), w.say(c.Side))
	lines = append(lines, w.items(c.Items)...)
	for _, foot := range c.Foot {
		lines = append(lines, w.wrap("  ", 2, w.say(foot))...)
	}
	return lines
}

// items sets labels, values and units.
func (w Window) items(items []document.Item) []string {
	if len(items) == 0 {
		return nil
	}
	said := make([]document.Item, len(items))
	remarks := false
	for i, it := range items {
		said[i] = document.Item{Label: w.say(it.Label), Value: w.say(it.Value), Unit: w.say(it.Unit), Remark: w.say(it.Remark)}
		remarks = remarks || it.Remark != ""
	}
	if remarks {
		return w.itemsWithRemarks(said)
	}
	said, texts := withoutTexts(said)
	return append(w.itemGrid(said), w.itemsWithRemarks(texts)...)
}

// longest is the widest value that stands in a column of values; longer ones
// are texts and stand beneath.
const longest = 24

// withoutTexts parts items whose value is a text from the others.
func withoutTexts(items []document.Item) (values, texts []document.Item) {
	for _, it := range items {
		if wide(it.Value) > longest {
			texts = append(texts, document.Item{Label: it.Label, Remark: it.Value})
		} else {
			values = append(values, it)
		}
	}
	return values, texts
}

// itemGrid sets items in as many columns as fit.
func (w Window) itemGrid(said []document.Item) []string {
	if len(said) == 0 {
		return nil
	}
	most := 2
	if w.Width >= 100 {
		most = 3
	}
	for n := min(most, len(said)); n > 1; n-- {
		if lines, fits := itemColumns(said, n, w.textWidth()); fits {
			return lines
		}
	}
	lines, _ := itemColumns(said, 1, w.textWidth())
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
			lines[i] = left(lines[i], at) + left(it.Label, label+2) + right(it.Value, value) + " " + it.Unit
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
func (w Window) itemsWithRemarks(items []document.Item) []string {
	label, value, unit := widths(items)
	at := 2 + label + 2 + value + 1 + unit + 4
	if value+unit == 0 { // words only
		at = 2 + label + 2
	}
	var lines []string
	for _, it := range items {
		line := "  " + left(it.Label, label+2) + right(it.Value, value)
		if it.Unit != "" {
			line += " " + it.Unit
		}
		if it.Remark == "" {
			lines = append(lines, line)
			continue
		}
		if w.textWidth()-at < 20 { // a narrow window: the remark goes beneath
			lines = append(lines, line)
			lines = append(lines, w.wrap("    ", 4, it.Remark)...)
			continue
		}
		lines = append(lines, w.wrap(left(line, at), at, it.Remark)...)
	}
	return lines
}

func widths(items []document.Item) (label, value, unit int) {
	for _, it := range items {
		label, value, unit = max(label, wide(it.Label)), max(value, wide(it.Value)), max(unit, wide(it.Unit))
	}
	return
}
