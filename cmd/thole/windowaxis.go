package main

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/table"
)

// axis is a span with round ticks.
type axis struct {
	low, high, step float64
	digits          int
}

func (a axis) ticks() []float64 {
	var at []float64
	for k := 0; ; k++ {
		v := a.low + float64(k)*a.step
		if v > a.high+a.step*1e-6 {
			return at
		}
		at = append(at, table.Round(v, a.digits))
	}
}

// roundAxis gives 4 to 7 ticks in steps of 1, 2 or 5; tight keeps the span as
// the data have it, else it is widened to the ticks.
func roundAxis(low, high float64, most int, tight bool) axis {
	if high-low < 1e-9*math.Max(math.Abs(high), 1e-9) {
		pad := math.Max(math.Abs(high)*0.01, 1e-6)
		low, high = low-pad, high+pad
		tight = false
	}
	power := math.Pow(10, math.Floor(math.Log10((high-low)/float64(most))))
	step := power
	for _, times := range []float64{1, 2, 5, 10, 20} {
		step = times * power
		first, last := math.Floor(low/step+1e-9), math.Ceil(high/step-1e-9)
		if tight {
			first, last = math.Ceil(low/step-1e-9), math.Floor(high/step+1e-9)
		}
		if last-first <= float64(most) {
			break
		}
	}
	a := axis{low: math.Floor(low/step+1e-9) * step, high: math.Ceil(high/step-1e-9) * step, step: step}
	if tight {
		a.low, a.high = math.Ceil(low/step-1e-9)*step, math.Floor(high/step+1e-9)*step
	}
	a.digits = max(0, int(-math.Floor(math.Log10(step)+1e-9)))
	return a
}

// foot draws the lower axis with its ticks, their numbers and its name.
func (w Window) foot(c windowChart, lowX, highX float64, width, scale int, col func(float64) float64, corner, foot, floor string) []string {
	type label struct {
		at   int
		text string
	}
	var labels []label
	if c.places != nil {
		for k, name := range c.places {
			labels = append(labels, label{int(math.Round(col(float64(k)))), cut(w.say(name), max(width/len(c.places)-1, 3))})
		}
	} else if lowX == highX {
		labels = append(labels, label{int(math.Round(col(lowX))), table.FourFigures(lowX)})
	} else {
		a := roundAxis(lowX, highX, max(2, min(7, width/6)), true)
		for _, v := range a.ticks() {
			labels = append(labels, label{int(math.Round(col(v))), table.Fixed(v, a.digits)})
		}
	}
	rule, numbers := []rune(strings.Repeat(floor, width)), ""
	for _, l := range labels {
		rule[min(max(l.at, 0), width-1)] = []rune(foot)[0]
		start := l.at - wide(l.text)/2
		start = max(min(start, w.textWidth()-scale-2-wide(l.text)), 0)
		if numbers != "" && start <= wide(numbers) {
			continue // no room for this one
		}
		numbers = left(numbers, start) + l.text
	}
	margin := blanks(scale + 2)
	lines := []string{blanks(scale+1) + corner + string(rule), margin + numbers, margin + w.say(c.xName)}
	if c.leftOver > 0 {
		lines = append(lines, dim.in(fmt.Sprintf("%s%d more lines stand in the page", margin, c.leftOver)))
	}
	return lines
}
