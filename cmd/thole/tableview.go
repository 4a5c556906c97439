package main

import (
	"fmt"
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
