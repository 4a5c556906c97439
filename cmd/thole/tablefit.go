package main

import (
	"strings"
)

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
