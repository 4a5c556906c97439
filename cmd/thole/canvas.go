package main

import (
	"math"
)

// canvas is a field of characters, each with an upper and a lower half.
type canvas struct {
	wide, tall int
	cells      [][]cell
	plain      bool
}

type cell struct {
	upper, lower bool // of the line of blocks or dots
	mark         rune // a point or a mark that hides the halves
	line         int  // 0: empty, else line number from 1
}

func newCanvas(wide, tall int, plain bool) *canvas {
	c := &canvas{wide: wide, tall: tall, plain: plain, cells: make([][]cell, tall)}
	for r := range c.cells {
		c.cells[r] = make([]cell, wide)
	}
	return c
}

// half sets one half of a character for a line; the first line that came keeps
// the place.
func (c *canvas) half(col, halfRow, line int) {
	if col < 0 || col >= c.wide || halfRow < 0 || halfRow >= 2*c.tall {
		return
	}
	at := &c.cells[halfRow/2][col]
	if at.line != 0 && at.line != line {
		return
	}
	at.line = line
	if halfRow%2 == 0 {
		at.upper = true
	} else {
		at.lower = true
	}
}

// point sets a mark at a place, over the line's own halves.
func (c *canvas) point(col, halfRow, line int, mark rune) {
	if col < 0 || col >= c.wide || halfRow < 0 || halfRow >= 2*c.tall {
		return
	}
	at := &c.cells[halfRow/2][col]
	if at.line != 0 && at.line != line {
		return
	}
	at.line, at.mark = line, mark
}

// stroke draws a straight line between two places.
func (c *canvas) stroke(col1, half1, col2, half2 float64, line int) {
	steps := int(math.Max(math.Abs(col2-col1), math.Abs(half2-half1))) + 1
	steps = min(steps, 10_000)
	for k := range steps + 1 {
		f := float64(k) / float64(steps)
		c.half(int(math.Round(col1+f*(col2-col1))), int(math.Round(half1+f*(half2-half1))), line)
	}
}

// marks of the lines after the second.
var lineMarks = [...]rune{0, 0, 0, '+', 'x', '#'}

// character is what one place of the canvas shows.
func (c *canvas) character(at cell) rune {
	switch {
	case at.line == 0:
		return ' '
	case at.mark != 0:
		return at.mark
	case at.line >= 3:
		return lineMarks[min(at.line, 5)]
	case c.plain && at.line == 1:
		return '*'
	case c.plain:
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
