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
		b.WriteString(through("M", xs[i:j], ys[i:j], thinned(xs[i:j], ys[i:j])))
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

// A line of more points than mostPoints is thinned by columns first, and what is
// left simplified a stretch at a time: the time of simplify grows as the square of
// the points where a line is jagged.
const (
	mostPoints = 4096
	stretch    = 1024
	column     = .5 // of a drawing's unit: half a pixel
)

// thinned picks the points of a line that can be seen, in a time that grows as the
// number of points.
func thinned(xs, ys []float64) []int {
	if len(xs) <= mostPoints {
		return simplify(xs, ys, .12)
	}
	points := Columns(xs, ys)
	var out []int
	for from := 0; ; from += stretch - 1 { // the last point of one is the first of the next
		to := min(from+stretch, len(points))
		px, py := make([]float64, to-from), make([]float64, to-from)
		for k, i := range points[from:to] {
			px[k], py[k] = xs[i], ys[i]
		}
		kept := simplify(px, py, .12)
		if to < len(points) {
			kept = kept[:len(kept)-1]
		}
		for _, k := range kept {
			out = append(out, points[from+k])
		}
		if to == len(points) {
			return out
		}
	}
}

// Columns picks, of all points that follow each other within one column of half a
// unit, the first, the lowest, the highest and the last: what they ink is the same.
func Columns(xs, ys []float64) []int {
	var out []int
	for i := 0; i < len(xs); {
		at := math.Floor(xs[i] / column)
		low, high, j := i, i, i
		for ; j < len(xs) && math.Floor(xs[j]/column) == at; j++ {
			if ys[j] < ys[low] {
				low = j
			}
			if ys[j] > ys[high] {
				high = j
			}
		}
		last := -1
		for _, k := range []int{i, min(low, high), max(low, high), j - 1} {
			if k > last {
				out = append(out, k)
				last = k
			}
		}
		i = j
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
				// from the stretch between the ends, not from the line through them: a spike
				// along it is seen
				along := ((xs[i]-xs[a])*dx + (ys[i]-ys[a])*dy) / length
				off = math.Abs(dy*(xs[i]-xs[a])-dx*(ys[i]-ys[a])) / length
				off = math.Max(off, math.Max(-along, along-length))
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
