package source

import (
	"cmp"
	"slices"
)

// Edit is a piece of a text to be put in place of another.
type Edit struct {
	Line, Col int // from 1, in characters
	Len       int // characters that go
	With      string
}

// Edited makes edits in lines, from their end to their beginning, and gives the lines. What
// lies outside is left alone.
func Edited(lines []string, edits []Edit) []string {
	edits = slices.Clone(edits)
	slices.SortStableFunc(edits, func(a, b Edit) int { return cmp.Or(b.Line-a.Line, b.Col-a.Col) })
	lines = slices.Clone(lines)
	for _, e := range edits {
		i, col := e.Line-1, e.Col-1
		if i < 0 || i >= len(lines) {
			continue
		}
		if r := []rune(lines[i]); col >= 0 && col+e.Len <= len(r) {
			lines[i] = string(r[:col]) + e.With + string(r[col+e.Len:])
		}
	}
	return lines
}
