package record

import (
	"fmt"
	"strconv"
	"strings"

	"thole/engine/table"
)

// most is how many changed lines of one table or file are told one by one.
const most = 12

// change is what happened to one line of a table.
type change struct {
	before, after int    // line in each table; -1: not there
	who           string // "Herons", or "" where the lines have no name
	cells         []string
}

// changes pairs the lines of two tables, by the columns that name them or else
// by their place, and says which cells differ.
func changes(before, after *table.Table, tolerance map[string]float64) []change {
	key := keyColumns(before, after)
	var out []change
	for _, p := range pairLines(before, after, key) {
		c := change{before: p[0], after: p[1]}
		if p[1] >= 0 {
			c.who = names(after, key, p[1])
		} else {
			c.who = names(before, key, p[0])
		}
		if p[0] >= 0 && p[1] >= 0 {
			c.cells = cellChanges(before, after, p, tolerance)
			if len(c.cells) == 0 {
				continue
			}
		}
		out = append(out, c)
	}
	return out
}

// mostKeys is how many columns may name a line together: set, pair, side.
const mostKeys = 3

// keyColumns finds what a reader would call a line by: the first column of
// texts that are all there and all different, in both tables; else the fewest
// leading columns that are so together. None where even these are alike.
func keyColumns(before, after *table.Table) []string {
	for _, c := range before.Columns {
		if c.Kind == table.Text && distinct(before, []string{c.Name}) && distinct(after, []string{c.Name}) {
			return []string{c.Name}
		}
	}
	var key []string
	for _, c := range before.Columns[:min(mostKeys, len(before.Columns))] {
		if key = append(key, c.Name); distinct(before, key) && distinct(after, key) {
			return key
		}
	}
	return nil
}

// distinct says whether these columns name each line of a table by itself.
func distinct(t *table.Table, key []string) bool {
	for _, name := range key {
		if t.Column(name) == nil {
			return false
		}
	}
	seen := map[string]bool{}
	for i := range t.Len() {
		for _, name := range key {
			if t.Column(name).Blank(i) {
				return false
			}
		}
		line := names(t, key, i)
		if seen[line] {
			return false
		}
		seen[line] = true
	}
	return true
}

// names calls a line by its key: "Herons", or "Kingcup, seat 3".
func names(t *table.Table, key []string, line int) string {
	var parts []string
	for i, name := range key {
		c := t.Column(name)
		text := shownCell(c, line)
		if c.Kind == table.Number {
			text = table.FourFigures(c.Nums[line])
		}
		if _, err := strconv.Atoi(text); i > 0 && (c.Kind == table.Number || err == nil) {
			text = plainName(name) + " " + text
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, ", ")
}

func plainName(column string) string { return strings.ReplaceAll(column, "_", " ") }

func pairLines(before, after *table.Table, key []string) [][2]int {
	var pairs [][2]int
	if key == nil {
		for i := range max(before.Len(), after.Len()) {
			p := [2]int{i, i}
			if i >= before.Len() {
				p[0] = -1
			}
			if i >= after.Len() {
				p[1] = -1
			}
			pairs = append(pairs, p)
		}
		return pairs
	}
	at := map[string]int{}
	for i := range before.Len() {
		at[names(before, key, i)] = i
	}
	for i := range after.Len() {
		name := names(after, key, i)
		old, had := at[name]
		if !had {
			old = -1
		}
		delete(at, name)
		pairs = append(pairs, [2]int{old, i})
	}
	for i := range before.Len() {
		if _, left := at[names(before, key, i)]; left {
			pairs = append(pairs, [2]int{i, -1})
		}
	}
	return pairs
}

func cellChanges(before, after *table.Table, p [2]int, tolerance map[string]float64) []string {
	var cells []string
	for _, c := range before.Columns {
		other := after.Column(c.Name)
		if other == nil || blank(c) != blank(other) {
			continue // told by columnChanges
		}
		old, now := shownCell(c, p[0]), shownCell(other, p[1])
		if c.Kind == table.Number && other.Kind == table.Number {
			x, y := c.Nums[p[0]], other.Nums[p[1]]
			if within(x, y, tolerance[c.Name]) || c.Blank(p[0]) && other.Blank(p[1]) {
				continue
			}
			old, now = apart(x, y, c.DigitsAt(p[0]))
		} else if old == now {
			continue
		}
		cells = append(cells, fmt.Sprintf("%s %s -> %s", plainName(c.Name), orBlank(old),
			table.WithUnit(orBlank(now), unitIf(now, other.UnitAt(p[1])))))
	}
	return cells
}

// apart writes two unlike numbers so that they look unlike.
func apart(x, y float64, digits int) (string, string) {
	if digits < 0 {
		if a, b := table.FourFigures(x), table.FourFigures(y); a != b {
			return a, b
		}
	}
	for d := max(digits, 0); d < 12; d++ {
		// as the trade writes them, whole numbers whole, until they differ
		a, b := trimmed(table.Fixed(x, d)), trimmed(table.Fixed(y, d))
		if a != b {
			return a, b
		}
	}
	return strconv.FormatFloat(x, 'g', -1, 64), strconv.FormatFloat(y, 'g', -1, 64)
}

func trimmed(s string) string {
	if strings.Contains(s, ".") {
		return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	return s
}

func unitIf(shown, unit string) string {
	if shown == "" {
		return ""
	}
	return unit
}

func shownCell(c *table.Column, i int) string {
	if c.Blank(i) {
		return ""
	}
	switch c.Kind {
	case table.Text:
		return c.Texts[i]
	case table.Measured:
		return c.Estimates[i].Number()
	}
	return table.Fixed(c.Nums[i], c.DigitsAt(i))
}

func orBlank(s string) string {
	if s == "" {
		return "blank"
	}
	return s
}

// tableChanges tells what changed in a told table, a phrase a line.
func tableChanges(was, is *Table, tolerance map[string]float64) []string {
	switch {
	case was == nil:
		return []string{"new"}
	case is == nil:
		return []string{"no longer told"}
	case was.Tall != nil && is.Tall != nil && was.Tall.SHA256 == is.Tall.SHA256:
		return nil
	case was.Tall != nil || is.Tall != nil:
		return []string{fmt.Sprintf("%d lines, now %d, and not the same in all; too long to be told line "+
			"by line",
			was.length(), is.length())}
	}
	before, errBefore := was.ToTable()
	after, errAfter := is.ToTable()
	if errBefore != nil || errAfter != nil { // Decode has proved them
		return []string{"cannot be read"}
	}
	lines := columnChanges(before, after)
	all := changes(before, after, tolerance)
	for i, c := range all {
		if i == most {
			lines = append(lines, fmt.Sprintf("%d more lines differ", len(all)-most))
			break
		}
		lines = append(lines, c.phrase())
	}
	return lines
}

func columnChanges(before, after *table.Table) []string {
	var lines []string
	for _, c := range before.Columns {
		switch other := after.Column(c.Name); {
		case other == nil:
			lines = append(lines, "no column "+c.Name+" any more")
		case blank(c) && !blank(other):
			lines = append(lines, "column "+c.Name+" was blank")
		case !blank(c) && blank(other):
			lines = append(lines, "column "+c.Name+" is blank now")
		}
	}
	for _, c := range after.Columns {
		if before.Column(c.Name) == nil {
			lines = append(lines, "a new column "+c.Name)
		}
	}
	return lines
}

// blank says whether nothing stands in a column.
func blank(c *table.Column) bool {
	for i := range c.Len() {
		if !c.Blank(i) {
			return false
		}
	}
	return true
}

func (c *change) phrase() string {
	who := c.who
	if who == "" {
		who = fmt.Sprintf("line %d", max(c.before, c.after)+1)
	}
	switch {
	case c.before < 0:
		return who + " is new"
	case c.after < 0:
		return who + " is gone"
	}
	return who + ": " + strings.Join(c.cells, ", ")
}
