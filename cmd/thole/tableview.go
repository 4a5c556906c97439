package main

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/table"
)

// A table in the window: names, a units row, numbers on the decimal point,
// texts left, two blanks between columns. One that is too wide is narrowed: gap
// one; then the unit behind the name, an interval in brackets behind its value,
// unlike quantities set right; then it goes on beneath, its first column
// repeated (or its first two or three, where it takes them to tell lines apart).

// Cutting says how many lines of a long table are shown.
type Cutting struct {
	Head, Tail int    // lines at the beginning and the end; both 0: all
	More       string // what stands behind the count: "show(_)", "allocation.csv"
}

// atPrompt is how a value shows itself at the prompt.
var atPrompt = Cutting{Head: 12, More: "show(_)"}

// column is one column as it will be set.
type column struct {
	name, unit string
	cells      []string
	right      bool // numbers: the head stands right too
	wraps      bool // a text that may go over several lines
	width      int
}

// table sets a table in lines.
func (w Window) table(t *table.Table, cutting Cutting) []string {
	if t.Len() == 0 {
		names := make([]string, len(t.Columns))
		for i, c := range t.Columns {
			names[i] = w.say(c.Name)
		}
		return w.wrap("  ", 2, "no lines ("+strings.Join(names, ", ")+")")
	}
	shown, left, place := cutLines(t, cutting)
	lines := w.columnsOf(shown)
	more := ""
	if left > 0 {
		more = fmt.Sprintf("  %d more", left)
		if cutting.More != "" {
			more += ": " + w.say(cutting.More)
		}
		more = dim.in(more)
	}
	return w.foldTable(lines, more, place)
}

// cutLines takes the head and tail of a long table; place is the line before
// which the count of the others stands.
func cutLines(t *table.Table, cutting Cutting) (shown *table.Table, left, place int) {
	n := t.Len()
	if cutting.Head+cutting.Tail == 0 || n <= cutting.Head+cutting.Tail {
		return t, 0, n
	}
	var keep []int
	for i := range n {
		if i < cutting.Head || i >= n-cutting.Tail {
			keep = append(keep, i)
		}
	}
	shown = t.Lines(keep)
	return shown, n - len(keep), cutting.Head
}

// foldTable finds the widest way to set the columns that fits, and sets it.
func (w Window) foldTable(of func(narrow bool) []column, more string, place int) []string {
	room := w.Width - 2
	for _, way := range []struct {
		narrow bool
		gap    int
	}{{false, 2}, {false, 1}, {true, 1}} {
		columns := of(way.narrow)
		if total(columns, way.gap) <= room {
			return setColumns(columns, way.gap, more, place)
		}
	}
	columns := of(true)
	squeeze(columns, room)
	var lines []string
	for _, part := range fold(columns, 1, room) {
		if lines != nil {
			lines = append(lines, "")
		}
		lines = append(lines, setColumns(part, 1, more, place)...)
	}
	return lines
}

// columnsOf gives a function that makes the columns of a table, plain or
// narrowed.
func (w Window) columnsOf(t *table.Table) func(narrow bool) []column {
	return func(narrow bool) []column {
		var out []column
		ranges := intervalColumns(t)
		merged := ""
		if narrow && len(t.Columns) > 1 && t.Columns[1].Name == "unit" && t.Columns[1].Kind == table.Text {
			merged = "unit"
		}
		for k, c := range t.Columns {
			switch {
			case c.Name == merged && k == 1,
				(c.Name == "reason" || c.Name == "low" || c.Name == "high") && allBlank(c),
				ranges && (c.Name == "low" || c.Name == "high"):
				continue
			}
			col := w.columnOf(c, t.WriteIn && k > 0)
			if merged != "" && k == 0 {
				col.name += " (" + merged + ")"
				for i := range col.cells {
					if unit := w.say(t.Columns[1].Texts[i]); unit != "" {
						col.cells[i] += " (" + unit + ")"
					}
				}
			}
			numbers := col.cells
			if col.right && (!narrow || c.Places == nil && c.Kind != table.Measured) {
				col.cells = onThePoint(numbers)
			}
			if c.Kind != table.Measured || !intervals(c) {
				out = append(out, col.sized())
				continue
			}
			// an estimate: its interval stands in the next column, or in brackets
			low := c.Intervals()
			name := "low to high"
			if countMeasured(t) > 1 {
				name = c.Name + " from"
			}
			if narrow {
				col.name += " (low to high)"
				col.right, col.wraps = false, true
				for i := range col.cells {
					if low[i] != "" {
						col.cells[i] = numbers[i] + " (" + low[i] + ")"
					}
				}
				out = append(out, col.sized())
				continue
			}
			out = append(out, col.sized(), column{name: name, cells: low}.sized())
		}
		return out
	}
}

// columnOf writes one column of a table; a sheet to fill in has lines where
// cells are blank, and its columns stand left.
func (w Window) columnOf(c *table.Column, writeIn bool) column {
	col := column{name: w.say(c.Name), unit: w.say(c.Unit), cells: c.Shown(), right: c.Kind != table.Text}
	for i, cell := range col.cells {
		col.cells[i] = w.say(cell)
	}
	if c.Kind == table.Text {
		col.wraps = true
	}
	if c.Name == "percent" { // it says so already
		col.unit = ""
	}
	if writeIn {
		col.right = false
		line := 5
		switch {
		case c.Unit == "s":
			line = 6
		case c.Kind == table.Text:
			line = 20
		}
		for i, cell := range col.cells {
			if cell == "" {
				col.cells[i] = strings.Repeat("_", line)
			}
		}
	}
	return col
}

func allBlank(c *table.Column) bool {
	for i := range c.Len() {
		if !c.Blank(i) {
			return false
		}
	}
	return true
}

// intervals says whether a column of estimates has ends worth showing.
func intervals(c *table.Column) bool {
	for _, e := range c.Estimates {
		if e != nil && e.Low != e.High {
			return true
		}
	}
	return false
}

func countMeasured(t *table.Table) int {
	n := 0
	for _, c := range t.Columns {
		if c.Kind == table.Measured {
			n++
		}
	}
	return n
}

// intervalColumns says whether the table's own columns low and high say again
// what its one column of estimates shows.
func intervalColumns(t *table.Table) bool {
	low, high := t.Column("low"), t.Column("high")
	if low == nil || high == nil || countMeasured(t) != 1 {
		return false
	}
	for _, c := range t.Columns {
		if c.Kind != table.Measured {
			continue
		}
		for i, e := range c.Estimates {
			if e != nil && (low.Value(i) != e.Low || high.Value(i) != e.High) {
				return false
			}
		}
		return intervals(c)
	}
	return false
}

// manyLines is how long a comparison is before its unchanged lines step back.
const manyLines = 12

// withoutUnchanged takes the lines of a long comparison that did not change out
// of it and lists them in a sentence.
func withoutUnchanged(t *table.Table) (*table.Table, string) {
	quantity, before, after := t.Column("quantity"), t.Column("before"), t.Column("after")
	if quantity == nil || before == nil || after == nil || quantity.Kind != table.Text || t.Len() <= manyLines {
		return t, ""
	}
	unit := t.Column("unit")
	shown := before.Shown()
	var changed []int
	var same []string
	for i := range t.Len() {
		x, y := before.Value(i), after.Value(i)
		if math.Abs(x-y) > 1e-9*math.Abs(x) { // the last bits of a solution are no change
			changed = append(changed, i)
			continue
		}
		text := quantity.Texts[i] + " " + shown[i]
		if unit != nil && unit.Kind == table.Text {
			text = quantity.Texts[i] + " " + table.WithUnit(shown[i], unit.Texts[i])
		}
		same = append(same, text)
	}
	if len(changed) == 0 || len(same) == 0 {
		return t, ""
	}
	return t.Lines(changed), "unchanged: " + strings.Join(same, ", ")
}

// onThePoint sets numbers so that their decimal points stand in a row.
func onThePoint(cells []string) []string {
	after := 0
	for _, cell := range cells {
		if i := strings.IndexByte(cell, '.'); i >= 0 {
			after = max(after, len(cell)-i)
		}
	}
	out := make([]string, len(cells))
	for i, cell := range cells {
		if cell == "" {
			continue
		}
		have := 0
		if j := strings.IndexByte(cell, '.'); j >= 0 {
			have = len(cell) - j
		}
		out[i] = cell + blanks(after-have)
	}
	return out
}

// sized finds a column's width.
func (c column) sized() column {
	c.width = max(wide(c.name), wide(c.unit))
	for _, cell := range c.cells {
		c.width = max(c.width, wide(cell))
	}
	return c
}

func total(columns []column, gap int) int {
	n := -gap
	for _, c := range columns {
		n += c.width + gap
	}
	return n
}

// squeeze narrows texts that would not leave room for the columns repeated.
func squeeze(columns []column, room int) {
	keys := keyColumns(columns, 1, room/2)
	for k := range columns {
		most := room
		if k >= keys {
			most = room - total(columns[:keys], 1) - 1
		} else if len(columns) > 1 {
			most = room / 2
		}
		if columns[k].width > most && columns[k].wraps {
			columns[k].width = max(most, 8)
		}
	}
}

// fold parts columns so that each part fits; the columns that tell the lines
// apart stand in all.
func fold(columns []column, gap, room int) [][]column {
	keys := columns[:keyColumns(columns, gap, room/2)]
	var parts [][]column
	part := keys
	for _, c := range columns[len(keys):] {
		next := append(part[:len(part):len(part)], c)
		if total(next, gap) > room && len(part) > len(keys) {
			parts = append(parts, part)
			next = append(keys[:len(keys):len(keys)], c)
		}
		part = next
	}
	return append(parts, part)
}

// keyColumns counts the first columns that tell all lines apart, three at most
// and within half the window; else the first alone.
func keyColumns(columns []column, gap, room int) int {
	for n := 1; n <= min(3, len(columns)-1) && total(columns[:n], gap) <= room; n++ {
		seen := map[string]bool{}
		for i := range columns[0].cells {
			key := ""
			for _, c := range columns[:n] {
				key += c.cells[i] + "\x00"
			}
			seen[key] = true
		}
		if len(seen) == len(columns[0].cells) {
			return n
		}
	}
	return 1
}

// setColumns sets columns next to each other: names, units, cells; the line
// "more" stands before the line place.
func setColumns(columns []column, gap int, more string, place int) []string {
	row := func(cell func(column) string) string {
		line := "  "
		for k, c := range columns {
			if k > 0 {
				line += blanks(gap)
			}
			if c.right {
				line += right(cell(c), c.width)
			} else {
				line += left(cell(c), c.width)
			}
		}
		return strings.TrimRight(line, " ")
	}
	units, lines := false, []string{row(func(c column) string { return cut(c.name, c.width) })}
	for _, c := range columns {
		units = units || c.unit != ""
	}
	if units {
		lines = append(lines, dim.in(row(func(c column) string { return cut(c.unit, c.width) })))
	}
	count := len(columns[0].cells)
	for i := range count {
		if more != "" && i == place {
			lines = append(lines, more)
		}
		// texts too wide for their column go on in further lines
		rest := make([][]string, len(columns))
		tall := 1
		for k, c := range columns {
			if wide(c.cells[i]) <= c.width {
				rest[k] = []string{c.cells[i]}
			} else {
				rest[k] = wrapAt(c.width, "", 0, c.cells[i])
			}
			tall = max(tall, len(rest[k]))
		}
		for n := range tall {
			k := -1
			lines = append(lines, row(func(column) string {
				if k++; n < len(rest[k]) {
					return rest[k][n]
				}
				return ""
			}))
		}
	}
	if more != "" && place >= count {
		lines = append(lines, more)
	}
	return lines
}
