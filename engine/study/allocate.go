package study

import "math"

// Allotted is a whole answer of Allocate.
type Allotted struct {
	Stock  []int // for each want the index into the stock, or -1: not served
	Served int
	Total  float64 // cost of those served
}

// Allocate gives each want one of the stock so that as many wants as possible
// are served and, among those answers, the total cost is least; and the next
// best whole answer, which differs in at least one pair (nil: there is no other).
// cost[i][j] is that of want i with stock j, NaN: never. count says how many
// wants each stock serves. Equal answers are settled by the order of the lists.
func Allocate(cost [][]float64, count []int) (best, second *Allotted) {
	best = assign(cost, count, -1, -1)

	// The next best differs in one pair at least: forbid each in turn (Murty
	// 1968, Operations Research 16:682-687, the first step).
	for i, j := range best.Stock {
		if j < 0 {
			continue
		}
		other := assign(cost, count, i, j)
		if second == nil || other.Served > second.Served ||
			other.Served == second.Served && other.Total < second.Total {
			second = other
		}
	}
	return best, second
}

// assign solves the assignment with pair (want, stock) forbidden.
//
// Shortest augmenting paths with potentials (Kuhn 1955; Jonker & Volgenant
// 1987, Computing 38:325-340): wants are rows; the columns are the pieces of
// stock, one a piece, and behind them one empty place a want at a price above
// all that can be saved, so that nobody goes without who could be served.
func assign(cost [][]float64, count []int, want, stock int) *Allotted {
	wants := len(cost)
	var piece []int // column -> stock
	for j, n := range count {
		for range min(n, wants) {
			piece = append(piece, j)
		}
	}
	lowest, highest := 0.0, 0.0
	for i := range cost {
		for _, c := range cost[i] {
			if finite(c) {
				lowest, highest = min(lowest, c), max(highest, c)
			}
		}
	}
	without := (highest-lowest)*float64(wants+1) + 1
	price := func(i, column int) float64 {
		if column >= len(piece) {
			return without
		}
		j := piece[column]
		if i == want && j == stock || !finite(cost[i][j]) {
			return math.Inf(1)
		}
		return cost[i][j] - lowest
	}

	columns := len(piece) + wants
	var (
		rowPrice    = make([]float64, wants+1)
		columnPrice = make([]float64, columns+1)
		taken       = make([]int, columns+1) // column -> row, from 1; column 0 holds the row in hand
		cameFrom    = make([]int, columns+1)
	)
	for row := 1; row <= wants; row++ {
		taken[0] = row
		at := 0
		nearest := make([]float64, columns+1)
		seen := make([]bool, columns+1)
		for k := range nearest {
			nearest[k] = math.Inf(1)
		}
		for taken[at] != 0 {
			seen[at] = true
			i, step, next := taken[at], math.Inf(1), 0
			for k := 1; k <= columns; k++ {
				if seen[k] {
					continue
				}
				if c := price(i-1, k-1) - rowPrice[i] - columnPrice[k]; c < nearest[k] {
					nearest[k], cameFrom[k] = c, at
				}
				if nearest[k] < step {
					step, next = nearest[k], k
				}
			}
			for k := 0; k <= columns; k++ {
				if seen[k] {
					rowPrice[taken[k]] += step
					columnPrice[k] -= step
				} else {
					nearest[k] -= step
				}
			}
			at = next
		}
		for at != 0 {
			taken[at] = taken[cameFrom[at]]
			at = cameFrom[at]
		}
	}

	a := &Allotted{Stock: make([]int, wants)}
	for i := range a.Stock {
		a.Stock[i] = -1
	}
	for k := 1; k <= len(piece); k++ {
		if taken[k] != 0 {
			a.Stock[taken[k]-1] = piece[k-1]
		}
	}
	for i, j := range a.Stock {
		if j >= 0 {
			a.Served++
			a.Total += cost[i][j]
		}
	}
	return a
}
