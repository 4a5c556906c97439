package figure

import (
	"fmt"
	"math"
	"slices"

	"thole/engine/draw"
	"thole/engine/typeset"
)

// contours draws lines of equal value at round levels, each with its value.
func contours(d *draw.Surface, g grid, x, y draw.Scale, low, high float64) {
	if len(g.xs) < 2 || len(g.ys) < 2 || high <= low {
		return
	}
	step := draw.NiceStep((high - low) / 6)
	placesShown := max(draw.StepDigits(step), 0)
	var labels []string
	for k := range 20 {
		v := (math.Ceil(low/step) + float64(k)) * step
		if v >= high {
			break
		}
		lines := levelLines(g, v)
		longest, length := -1, 0.
		for i, l := range lines {
			xs, ys := make([]float64, len(l)), make([]float64, len(l))
			for k, p := range l {
				xs[k], ys[k] = x.At(p[0]), y.At(p[1])
			}
			d.Path("contour", draw.Polyline(xs, ys))
			total := 0.
			for k := 1; k < len(xs); k++ {
				total += math.Hypot(xs[k]-xs[k-1], ys[k]-ys[k-1])
			}
			if total > length {
				longest, length = i, total
			}
		}
		if longest >= 0 && length > 50 {
			l := lines[longest]
			p := l[len(l)/2]
			at := fmt.Sprintf("%.0f %.0f", x.At(p[0])/30, y.At(p[1])/14)
			if !slices.Contains(labels, at) {
				labels = append(labels, at)
				d.Text("sm mid halo", math.Max(x.From+14, math.Min(x.At(p[0]), x.To-14)), math.Max(y.To+12, math.Min(y.At(p[1])+4, y.From-4)), typeset.Number(v, placesShown))
			}
		}
	}
}

// levelLines follows a level through the cells between grid points (marching
// squares, saddle cells parted by the mean of their corners) and joins the
// pieces to lines.
func levelLines(g grid, level float64) [][][2]float64 {
	type edge struct{ i, j, side int } // side 0: along x from (i, j); 1: along y
	type piece struct{ a, b edge }
	var pieces []piece
	cross := map[edge][2]float64{}
	point := func(e edge) edge {
		if _, ok := cross[e]; ok {
			return e
		}
		i2, j2 := e.i+1, e.j
		if e.side == 1 {
			i2, j2 = e.i, e.j+1
		}
		a, b := g.z[e.j][e.i], g.z[j2][i2]
		u := (level - a) / (b - a)
		cross[e] = [2]float64{g.xs[e.i] + u*(g.xs[i2]-g.xs[e.i]), g.ys[e.j] + u*(g.ys[j2]-g.ys[e.j])}
		return e
	}
	for j := 0; j+1 < len(g.ys); j++ {
		for i := 0; i+1 < len(g.xs); i++ {
			c := [4]float64{g.z[j][i], g.z[j][i+1], g.z[j+1][i+1], g.z[j+1][i]}
			sides := [4]edge{{i, j, 0}, {i + 1, j, 1}, {i, j + 1, 0}, {i, j, 1}}
			var hit []edge
			bad := false
			for k := range c {
				bad = bad || math.IsNaN(c[k])
			}
			if bad {
				continue
			}
			for k := range c {
				if (c[k] >= level) != (c[(k+1)%4] >= level) {
					hit = append(hit, point(sides[k]))
				}
			}
			switch {
			case len(hit) == 2:
				pieces = append(pieces, piece{hit[0], hit[1]})
			case len(hit) == 4 && ((c[0]+c[1]+c[2]+c[3])/4 >= level) == (c[0] >= level):
				pieces = append(pieces, piece{hit[0], hit[1]}, piece{hit[2], hit[3]})
			case len(hit) == 4:
				pieces = append(pieces, piece{hit[3], hit[0]}, piece{hit[1], hit[2]})
			}
		}
	}
	// join: walk from piece to piece over shared crossings
	at := map[edge][]int{}
	for k, p := range pieces {
		at[p.a] = append(at[p.a], k)
		at[p.b] = append(at[p.b], k)
	}
	used := make([]bool, len(pieces))
	walk := func(k int, from edge) []edge {
		var out []edge
		for {
			used[k] = true
			to := pieces[k].a
			if to == from {
				to = pieces[k].b
			}
			out = append(out, to)
			next := -1
			for _, m := range at[to] {
				if !used[m] {
					next = m
				}
			}
			if next < 0 {
				return out
			}
			k, from = next, to
		}
	}
	var out [][][2]float64
	for k := range pieces {
		if used[k] {
			continue
		}
		start := pieces[k].a
		ahead := walk(k, start)
		var back []edge
		for _, m := range at[start] {
			if !used[m] {
				back = walk(m, start)
				break
			}
		}
		slices.Reverse(back)
		var line [][2]float64
		for _, e := range append(append(back, start), ahead...) {
			line = append(line, cross[e])
		}
		out = append(out, line)
	}
	return out
}
