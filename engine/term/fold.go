package term

import "strings"

// total is how wide columns are with gaps between them.
func total(columns []column, gap int) int {
	n := -gap
	for _, c := range columns {
		n += c.width + gap
	}
	return n
}

// squeeze narrows texts that would not leave room for the columns repeated.
func squeeze(columns []column, room int) {
	keys := keyColumns(columns, room/2)
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

// fold parts columns, one blank between them, so that each part fits; the
// columns that tell the lines apart stand in all.
func fold(columns []column, room int) [][]column {
	keys := columns[:keyColumns(columns, room/2)]
	var parts [][]column
	part := keys
	for _, c := range columns[len(keys):] {
		next := append(part[:len(part):len(part)], c)
		if total(next, 1) > room && len(part) > len(keys) {
			parts = append(parts, part)
			next = append(keys[:len(keys):len(keys)], c)
		}
		part = next
	}
	return append(parts, part)
}

// keyColumns counts the first columns that tell all lines apart, three at most
// and within that room; else the first alone.
func keyColumns(columns []column, room int) int {
	for n := 1; n <= min(3, len(columns)-1) && total(columns[:n], 1) <= room; n++ {
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
	row := func(cell func(k int) string) string {
		line := "  "
		for k, c := range columns {
			if k > 0 {
				line += Spaces(gap)
			}
			pad := PadRight
			if c.right {
				pad = PadLeft
			}
			line += pad(cell(k), c.width)
		}
		return strings.TrimRight(line, " ")
	}
	units := false
	for _, c := range columns {
		units = units || c.unit != ""
	}
	lines := []string{row(func(k int) string { return Cut(columns[k].name, columns[k].width) })}
	if units {
		lines = append(lines, Dim.In(row(func(k int) string {
			return Cut(columns[k].unit,
				columns[k].width)
		})))
	}
	count := len(columns[0].cells)
	for i := range count {
		if more != "" && i == place {
			lines = append(lines, more)
		}
		// texts too wide for their column go on in further lines
		rest, tall := make([][]string, len(columns)), 1
		for k, c := range columns {
			rest[k] = []string{c.cells[i]}
			if Width(c.cells[i]) > c.width {
				rest[k] = wrapAt(c.width, "", 0, c.cells[i])
			}
			tall = max(tall, len(rest[k]))
		}
		for n := range tall {
			lines = append(lines, row(func(k int) string {
				if n < len(rest[k]) {
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
