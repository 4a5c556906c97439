package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Coord writes a coordinate: one decimal is a tenth of a pixel.
func Coord(v float64) string {
	if !onSheet(v) {
		return "0"
	}
	s := strings.TrimSuffix(strconv.FormatFloat(v, 'f', 1, 64), ".0")
	if s == "-0" {
		return "0"
	}
	return s
}

// Pathf writes a path: every %s of the format becomes a coordinate.
func Pathf(format string, at ...float64) string {
	coords := make([]any, len(at))
	for i, v := range at {
		coords[i] = Coord(v)
	}
	return fmt.Sprintf(format, coords...)
}

// onSheet says whether a coordinate can be drawn at all.
func onSheet(v float64) bool { return math.Abs(v) < 1e6 } // false for NaN

// Polyline gives the path through points; a NaN leaves a gap. Points that lie
// within an eighth of a unit of the straight line are left out: nobody can see
// them, and a page has to stay small.
func Polyline(xs, ys []float64) string {
	var b strings.Builder
	for i := 0; i < len(xs); {
		if !onSheet(xs[i]) || !onSheet(ys[i]) {
			i++
			continue
		}
		j := i
		for j < len(xs) && onSheet(xs[j]) && onSheet(ys[j]) {
			j++
		}
		b.WriteString(through("M", xs[i:j], ys[i:j], simplify(xs[i:j], ys[i:j], .12)))
		i = j
	}
	return b.String()
}

// Ring gives the closed path along some points and back along others.
func Ring(xs, ys, backX, backY []float64) string {
	if len(xs) == 0 {
		return ""
	}
	back := all(len(backX))
	for i, j := 0, len(back)-1; i < j; i, j = i+1, j-1 {
		back[i], back[j] = back[j], back[i]
	}
	return through("M", xs, ys, all(len(xs))) + through("L", backX, backY, back) + "Z"
}

// through writes the path through some of the points, in the order given.
func through(first string, xs, ys []float64, points []int) string {
	var b strings.Builder
	for k, i := range points {
		letter := "L"
		if k == 0 {
			letter = first
		}
		b.WriteString(letter + Coord(xs[i]) + " " + Coord(ys[i]))
	}
	return b.String()
}

func all(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// simplify picks the points that a line within tol of all of them needs
// (Douglas & Peucker 1973).
func simplify(xs, ys []float64, tol float64) []int {
	n := len(xs)
	if n < 3 {
		return all(n)
	}
	keep := make([]bool, n)
	keep[0], keep[n-1] = true, true
	stack := [][2]int{{0, n - 1}}
	for len(stack) > 0 {
		a, b := stack[len(stack)-1][0], stack[len(stack)-1][1]
		stack = stack[:len(stack)-1]
		worst, at := tol, -1
		dx, dy := xs[b]-xs[a], ys[b]-ys[a]
		length := math.Hypot(dx, dy)
		for i := a + 1; i < b; i++ {
			off := math.Hypot(xs[i]-xs[a], ys[i]-ys[a])
			if length > 0 {
				off = math.Abs(dy*(xs[i]-xs[a])-dx*(ys[i]-ys[a])) / length
			}
			if off > worst {
				worst, at = off, i
			}
		}
		if at >= 0 {
			keep[at] = true
			stack = append(stack, [2]int{a, at}, [2]int{at, b})
		}
	}
	var out []int
	for i, k := range keep {
		if k {
			out = append(out, i)
		}
	}
	return out
}

// Mapped places values on a scale.
func Mapped(vs []float64, s Scale) []float64 {
	out := make([]float64, len(vs))
	for i, v := range vs {
		out[i] = s.At(v)
	}
	return out
}
