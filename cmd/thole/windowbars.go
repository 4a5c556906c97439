package main

import (
	"math"
	"strings"

	"thole/engine/table"
)

// bars draws the book of a stroke's energy: a bar for each item and stroke.
func (w Window) bars(t *table.Table) []string {
	item, side := t.Column("item"), t.Column("side")
	if item == nil {
		return w.table(t, Cutting{})
	}
	var cases []*table.Column
	largest, label, caseName := 0.0, 0, 0
	for _, c := range t.Columns {
		if c.Kind != table.Number {
			continue
		}
		cases = append(cases, c)
		caseName = max(caseName, wide(w.say(c.Name)))
		for i := range c.Len() {
			if !c.Blank(i) {
				largest = math.Max(largest, math.Abs(c.Nums[i]))
			}
		}
	}
	for i := range item.Len() {
		label = max(label, wide(w.say(item.Texts[i])))
	}
	if len(cases) == 1 {
		caseName = -2
	}
	room := max(w.textWidth()-2-label-2-caseName-2-12, 8)
	blocks := [...]string{"█", "▄", "▀", "+", "x"}
	if w.Plain {
		blocks = [...]string{"*", "o", "+", "x", "#"}
	}
	var lines []string
	heading := ""
	for i := range item.Len() {
		if side != nil && side.Texts[i] != heading {
			heading = side.Texts[i]
			lines = append(lines, w.say(heading))
		}
		for k, c := range cases {
			if c.Blank(i) {
				continue
			}
			name := ""
			if k == 0 {
				name = w.say(item.Texts[i])
			}
			line := "  " + left(name, label) + "  "
			if len(cases) > 1 {
				line += left(w.say(c.Name), caseName) + "  "
			}
			n := 0
			if largest > 0 {
				n = int(math.Round(math.Abs(c.Nums[i]) / largest * float64(room)))
			}
			bar := (series1 + style(min(k, 4))).in(strings.Repeat(blocks[min(k, 4)], n))
			number := table.WithUnit(table.Fixed(c.Nums[i], max(c.Digits, 0)), w.say(c.Unit))
			if bar != "" {
				bar += " "
			}
			lines = append(lines, line+bar+number)
		}
	}
	return lines
}
