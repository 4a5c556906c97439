package window

import (
	"math"
	"strings"

	"thole/engine/table"
	"thole/engine/term"
)

// bars draws the book of a stroke's energy: a bar for each item and stroke.
func bars(w term.Window, t *table.Table) []string {
	item, side := t.Column("item"), t.Column("side")
	if item == nil {
		return w.Table(t, term.Cutting{})
	}
	var cases []*table.Column
	largest, label, caseName := 0.0, 0, 0
	for _, c := range t.Columns {
		if c.Kind != table.Number {
			continue
		}
		cases = append(cases, c)
		caseName = max(caseName, term.Width(w.Clean(c.Name)))
		for i := range c.Len() {
			if !c.Blank(i) {
				largest = math.Max(largest, math.Abs(c.Nums[i]))
			}
		}
	}
	for i := range item.Len() {
		label = max(label, term.Width(w.Clean(item.Texts[i])))
	}
	if len(cases) == 1 {
		caseName = -2
	}
	room := max(w.TextWidth()-2-label-2-caseName-2-12, 8)
	blocks := [...]string{"█", "▄", "▀", "+", "x"}
	if w.ASCII {
		blocks = [...]string{"*", "o", "+", "x", "#"}
	}
	var lines []string
	heading := ""
	for i := range item.Len() {
		if side != nil && side.Texts[i] != heading {
			heading = side.Texts[i]
			lines = append(lines, w.Clean(heading))
		}
		for k, c := range cases {
			if c.Blank(i) {
				continue
			}
			name := ""
			if k == 0 {
				name = w.Clean(item.Texts[i])
			}
			line := "  " + term.PadRight(name, label) + "  "
			if len(cases) > 1 {
				line += term.PadRight(w.Clean(c.Name), caseName) + "  "
			}
			n := 0
			if largest > 0 {
				n = int(math.Round(math.Abs(c.Nums[i]) / largest * float64(room)))
			}
			bar := term.Series(k + 1).In(strings.Repeat(blocks[min(k, 4)], n))
			number := table.WithUnit(table.Fixed(c.Nums[i], max(c.Digits, 0)), w.Clean(c.Unit))
			if bar != "" {
				bar += " "
			}
			lines = append(lines, line+bar+number)
		}
	}
	return lines
}
