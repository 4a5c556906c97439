package term

import (
	"fmt"
	"strings"

	"thole/engine/table"
)

// A table: names, a units row, numbers on the decimal point, texts left, two
// blanks between columns. One that is too wide is narrowed: gap one; then the
// unit behind the name, an interval in brackets behind its value, unlike
// quantities set right; then it goes on beneath, its first column repeated (or
// its first two or three, where it takes them to tell lines apart).

// Cutting says how many lines of a long table are shown.
type Cutting struct {
	Head, Tail int    // lines at the beginning and the end; both 0: all
	More       string // what stands behind the count: "show(_)", "allocation.csv"
}

// column is one column as it will be set.
type column struct {
	name, unit string
	cells      []string
	right      bool // numbers: the head stands right too
	wraps      bool // a text that may go over several lines
	width      int
}

// Table sets a table in lines.
func (w Window) Table(t *table.Table, cutting Cutting) []string {
	if t.Len() == 0 {
		names := make([]string, len(t.Columns))
		for i, c := range t.Columns {
			names[i] = w.Clean(c.Name)
		}
		return w.Wrap("  ", 2, "no lines ("+strings.Join(names, ", ")+")")
	}
	shown, left := cutLines(t, cutting)
	more := ""
	if left > 0 {
		more = fmt.Sprintf("  %d more", left)
		if cutting.More != "" {
			more += ": " + w.Clean(cutting.More)
		}
		more = Dim.In(more)
	}
	room := w.Width - 2
	for _, way := range []struct {
		narrow bool
		gap    int
	}{{false, 2}, {false, 1}, {true, 1}} {
		columns := w.columnsOf(shown, way.narrow)
		if total(columns, way.gap) <= room {
			return setColumns(columns, way.gap, more, cutting.Head)
		}
	}
	columns := w.columnsOf(shown, true)
	squeeze(columns, room)
	var lines []string
	for _, part := range fold(columns, room) {
		if lines != nil {
			lines = append(lines, "")
		}
		lines = append(lines, setColumns(part, 1, more, cutting.Head)...)
	}
	return lines
}

// cutLines takes the head and tail of a long table and says how many lines are
// left out.
func cutLines(t *table.Table, cutting Cutting) (shown *table.Table, left int) {
	n := t.Len()
	if cutting.Head+cutting.Tail == 0 || n <= cutting.Head+cutting.Tail {
		return t, 0
	}
	var keep []int
	for i := range n {
		if i < cutting.Head || i >= n-cutting.Tail {
			keep = append(keep, i)
		}
	}
	return t.Lines(keep), n - len(keep)
}

// columnsOf makes the columns of a table, plain or narrowed.
func (w Window) columnsOf(t *table.Table, narrow bool) []column {
	var out []column
	ends := repeatsInterval(t)
	unitIsMerged := narrow && len(t.Columns) > 1 && t.Columns[1].Name == "unit" &&
		t.Columns[1].Kind == table.Text
	for k, c := range t.Columns {
		end := c.Name == "low" || c.Name == "high"
		if k == 1 && unitIsMerged || (end || c.Name == "reason") && allBlank(c) || end && ends {
			continue
		}
		col := w.columnOf(c, t.WriteIn && k > 0)
		if k == 0 && unitIsMerged {
			col.name += " (unit)"
			for i := range col.cells {
				if unit := w.Clean(t.Columns[1].Texts[i]); unit != "" {
					col.cells[i] += " (" + unit + ")"
				}
			}
		}
		numbers := col.cells
		if col.right && (!narrow || c.Places == nil && c.Kind != table.Measured) {
			col.cells = onThePoint(numbers)
		}
		if !hasIntervals(c) {
			out = append(out, col.sized())
			continue
		}
		// an estimate: its interval stands in the next column, or in brackets
		intervals := c.Intervals()
		if !narrow {
			name := "low to high"
			if countMeasured(t) > 1 {
				name = c.Name + " from"
			}
			out = append(out, col.sized(), column{name: name, cells: intervals}.sized())
			continue
		}
		col.name += " (low to high)"
		col.right, col.wraps = false, true
		for i := range col.cells {
			if intervals[i] != "" {
				col.cells[i] = numbers[i] + " (" + intervals[i] + ")"
			}
		}
		out = append(out, col.sized())
	}
	return out
}

// columnOf writes one column of a table; a sheet to fill in has lines where
// cells are blank, and its columns stand left.
func (w Window) columnOf(c *table.Column, writeIn bool) column {
	isText := c.Kind == table.Text
	col := column{name: w.Clean(c.Name), unit: w.Clean(c.Unit), cells: c.Shown(), right: !isText && !writeIn,
		wraps: isText}
	if c.Name == "percent" { // it says so already
		col.unit = ""
	}
	line := 5 // to write on
	switch {
	case c.Unit == "s":
		line = 6
	case isText:
		line = 20
	}
	for i, cell := range col.cells {
		if col.cells[i] = w.Clean(cell); writeIn && col.cells[i] == "" {
			col.cells[i] = strings.Repeat("_", line)
		}
	}
	return col
}

// onThePoint sets numbers so that their decimal points stand in a row.
func onThePoint(cells []string) []string {
	decimals := func(cell string) int { // with the point
		if i := strings.IndexByte(cell, '.'); i >= 0 {
			return len(cell) - i
		}
		return 0
	}
	most := 0
	for _, cell := range cells {
		most = max(most, decimals(cell))
	}
	out := make([]string, len(cells))
	for i, cell := range cells {
		if cell != "" {
			out[i] = cell + Spaces(most-decimals(cell))
		}
	}
	return out
}

// sized finds a column's width.
func (c column) sized() column {
	c.width = max(Width(c.name), Width(c.unit))
	for _, cell := range c.cells {
		c.width = max(c.width, Width(cell))
	}
	return c
}
