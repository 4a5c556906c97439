package draw

import (
	"math"
	"slices"
)

// LevelLines follows a level of z[y][x] through the cells between grid points (marching
// squares, saddle cells parted by the mean of their corners) and joins the
// pieces to lines.
func LevelLines(xs, ys []float64, z [][]float64, level float64) [][][2]float64 {
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
		a, b := z[e.j][e.i], z[j2][i2]
		u := (level - a) / (b - a)
		cross[e] = [2]float64{xs[e.i] + u*(xs[i2]-xs[e.i]), ys[e.j] + u*(ys[j2]-ys[e.j])}
		return e
	}
	for j := 0; j+1 < len(ys); j++ {
		for i := 0; i+1 < len(xs); i++ {
			c := [4]float64{z[j][i], z[j][i+1], z[j+1][i+1], z[j+1][i]}
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
