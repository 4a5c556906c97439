package term

import (
	"math"
	"strings"
)

// Canvas is a field of characters, each with an upper and a lower half. Lines
// drawn on it are told apart by number, from 1: the first in blocks, the second
// in dots, the others by marks.
type Canvas struct {
	wide, tall int
	cells      [][]cell
	ascii      bool
}

type cell struct {
	upper, lower bool // of the line of blocks or dots
	mark         rune // a point or a mark that hides the halves
	line         int  // 0: empty, else the line's number
}

// Canvas makes an empty canvas of so many columns and rows.
func (w Window) Canvas(wide, tall int) *Canvas {
	c := &Canvas{wide: wide, tall: tall, ascii: w.ASCII, cells: make([][]cell, tall)}
	for r := range c.cells {
		c.cells[r] = make([]cell, wide)
	}
	return c
}

// at gives the character of a place to a line; nil where it lies outside or
// another line came first, which keeps the place. A half row is half a character
// high; the uppermost is 0.
func (c *Canvas) at(col, halfRow, line int) *cell {
	if col < 0 || col >= c.wide || halfRow < 0 || halfRow >= 2*c.tall {
		return nil
	}
	at := &c.cells[halfRow/2][col]
	if at.line != 0 && at.line != line {
		return nil
	}
	at.line = line
	return at
}

// half sets one half of a character.
func (c *Canvas) half(col, halfRow, line int) {
	switch at := c.at(col, halfRow, line); {
	case at == nil:
	case halfRow%2 == 0:
		at.upper = true
	default:
		at.lower = true
	}
}

// stroke draws a straight line between two places.
func (c *Canvas) stroke(col1, half1, col2, half2 float64, line int) {
	steps := int(math.Max(math.Abs(col2-col1), math.Abs(half2-half1))) + 1
	steps = min(steps, 10_000)
	for k := range steps + 1 {
		f := float64(k) / float64(steps)
		c.half(int(math.Round(col1+f*(col2-col1))), int(math.Round(half1+f*(half2-half1))), line)
	}
}

// Scale tells where a number stands on a canvas: its column, or its half row.
type Scale func(float64) float64

// Draw draws a line through points, with a gap where one is blank (NaN).
func (c *Canvas) Draw(line int, xs, ys []float64, col, half Scale) {
	last := -1
	for i := range xs {
		if math.IsNaN(xs[i]) || math.IsNaN(ys[i]) {
			last = -1
			continue
		}
		from := i
		if last >= 0 {
			from = last
		}
		c.stroke(col(xs[from]), half(ys[from]), col(xs[i]), half(ys[i]), line)
		last = i
	}
}

// Mark sets a mark at each point of a line, over its own halves.
func (c *Canvas) Mark(line int, mark rune, xs, ys []float64, col, half Scale) {
	for i := range min(len(xs), len(ys)) {
		if math.IsNaN(xs[i]) || math.IsNaN(ys[i]) {
			continue
		}
		if at := c.at(int(math.Round(col(xs[i]))), int(math.Round(half(ys[i]))), line); at != nil {
			at.mark = mark
		}
	}
}

// marks of the lines after the second.
var lineMarks = [MostLines + 1]rune{3: '+', 4: 'x', 5: '#'}

// character is what one place of the canvas shows.
func (c *Canvas) character(at cell) rune {
	switch {
	case at.line == 0:
		return ' '
	case at.mark != 0:
		return at.mark
	case at.line >= 3:
		return lineMarks[min(at.line, MostLines)]
	case c.ascii && at.line == 1:
		return '*'
	case c.ascii:
		return '.'
	case at.line == 1 && at.upper && at.lower:
		return '█'
	case at.line == 1 && at.upper:
		return '▀'
	case at.line == 1:
		return '▄'
	case at.upper && !at.lower:
		return '˙'
	}
	return '.'
}

// Row writes a row of the canvas, each line in its colour.
func (c *Canvas) Row(r int) string {
	var b strings.Builder
	in := 0
	for _, at := range c.cells[r] {
		if at.line != in {
			if in != 0 {
				b.WriteRune(rune(styleEnd))
			}
			if in = at.line; in != 0 {
				b.WriteRune(rune(Series(in)))
			}
		}
		b.WriteRune(c.character(at))
	}
	if in != 0 {
		b.WriteRune(rune(styleEnd))
	}
	return b.String()
}
