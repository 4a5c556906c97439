package draw

import (
	"math"
	"strings"
)

// Polyline gives the path through points; a NaN leaves a gap. Points that lie
// within a fifth of a unit of the straight line are left out: nobody can see
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
		for k, p := range simplify(xs[i:j], ys[i:j], .12) {
			b.WriteString([]string{"L", "M"}[B2i(k == 0)])
			b.WriteString(Coord(xs[i+p]) + " " + Coord(ys[i+p]))
		}
		i = j
	}
	return b.String()
}

func B2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// simplify picks the points that a line within tol of all of them needs
// (Douglas & Peucker 1973).
func simplify(xs, ys []float64, tol float64) []int {
	n := len(xs)
	if n < 3 {
		out := make([]int, n)
		for i := range out {
			out[i] = i
		}
		return out
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

// onSheet says whether a coordinate can be drawn at all.
func onSheet(v float64) bool { return math.Abs(v) < 1e6 }

func Mapped(vs []float64, s Scale) []float64 {
	out := make([]float64, len(vs))
	for i, v := range vs {
		out[i] = s.At(v)
	}
	return out
}
