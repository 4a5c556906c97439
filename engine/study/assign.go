package study

import "math"

// price is what a pairing costs, in order of weight: steps (whole numbers, settled first),
// then cost. Prices add and compare like numbers, and a cost never drowns in the weight of
// a step, as it would in one float64.
type price struct {
	steps int64
	cost  float64
}

// never is the price of what cannot be.
var never = price{steps: math.MaxInt64 / 4}

func (p price) isNever() bool         { return p.steps >= never.steps/2 }
func (p price) plus(q price) price    { return price{p.steps + q.steps, p.cost + q.cost} }
func (p price) minus(q price) price   { return price{p.steps - q.steps, p.cost - q.cost} }
func (p price) times(n float64) price { return price{p.steps * int64(n), p.cost * n} }

func (p price) less(q price) bool {
	return p.steps < q.steps || p.steps == q.steps && p.cost < q.cost
}

// relax answers a node's question with the pieces of a stock counted as places: as many as
// its smallest want leaves room for, the first of them free, each further one a share.
// That a large want takes more is charged by the worth of a piece, and what all pieces are
// worth is given back (Lagrange's bound): no answer of the node costs less than bound.
func (s *deal) relax(at node, worth []price) (stock []int, bound price) {
	left := append([]int(nil), s.Count...)
	in := make([]int, len(left)) // wants given a stock already
	stock = make([]int, len(at.given))
	var rows []int
	for i, j := range at.given {
		stock[i] = j
		if j < 0 {
			rows = append(rows, i)
			continue
		}
		left[j] -= s.Need[i]
		in[j]++
		bound = bound.plus(s.pair[i][j]).plus(worth[j].times(float64(s.Need[i])))
		if in[j] > 1 {
			bound = bound.plus(s.share)
		}
	}
	for j := range worth {
		bound = bound.minus(worth[j].times(float64(s.Count[j])))
	}
	pair := make([][]price, len(rows))
	smallest := make([]int, len(left))
	for r, i := range rows {
		pair[r] = make([]price, len(left))
		for j, p := range s.pair[i] {
			if p.isNever() || s.Need[i] > left[j] {
				pair[r][j] = never
				continue
			}
			pair[r][j] = p.plus(worth[j].times(float64(s.Need[i])))
		}
	}
	for _, f := range at.forbidden {
		for r, i := range rows {
			if i == f[0] {
				pair[r][f[1]] = never
			}
		}
	}
	for r, i := range rows {
		for j, p := range pair[r] {
			if !p.isNever() && (smallest[j] == 0 || s.Need[i] < smallest[j]) {
				smallest[j] = s.Need[i]
			}
		}
	}
	var columns []column
	for j, need := range smallest {
		if need == 0 {
			continue
		}
		for k := range min(left[j]/need, len(rows)) {
			c := column{stock: j}
			if in[j]+k > 0 {
				c.more = s.share
			}
			columns = append(columns, c)
		}
	}
	without := make([]price, len(rows))
	for r, i := range rows {
		without[r] = s.without[i]
	}
	taken, _, total := assign(pair, without, columns)
	for r, i := range rows {
		stock[i] = taken[r]
	}
	return stock, bound.plus(total)
}

// worthOfPieces is what one piece more of each stock would save if a want could be served by
// pieces of several: the prices of the transportation problem.
func (s *deal) worthOfPieces() []price {
	worth := make([]price, len(s.Count))
	most := 0
	for _, n := range s.Need {
		most = max(most, n)
	}
	if most <= 1 {
		return worth // places are pieces
	}
	var pair [][]price
	var without []price
	for i, need := range s.Need {
		units := make([]price, len(s.Count))
		for j, p := range s.pair[i] {
			if units[j] = p; !p.isNever() {
				units[j].cost /= float64(need)
			}
		}
		for range need {
			pair = append(pair, units)
			without = append(without, price{steps: s.without[i].steps / int64(need)})
		}
	}
	var columns []column
	for j, n := range s.Count {
		for range min(n, len(pair)) {
			columns = append(columns, column{stock: j})
		}
	}
	_, prices, _ := assign(pair, without, columns)
	for k, c := range columns {
		w := price{}.minus(prices[k])
		if k == 0 || columns[k-1].stock != c.stock || w.less(worth[c.stock]) {
			worth[c.stock] = w
		}
	}
	return worth
}

// column is a place that one want may take: of which stock, and what it costs besides.
type column struct {
	stock int
	more  price
}

// assign gives each row one column, or none at the price of going without, at the least
// total; prices are the columns' own (0 or less: what a place more would save).
//
// Shortest augmenting paths with potentials (Kuhn 1955; Jonker & Volgenant 1987, Computing
// 38:325-340): behind the columns stands one empty place a row.
func assign(pair [][]price, without []price, columns []column) (stock []int, prices []price, total price) {
	rows, all := len(pair), len(columns)+len(pair)
	var (
		rowPrice    = make([]price, rows+1)
		columnPrice = make([]price, all+1)
		taken       = make([]int, all+1) // column -> row, from 1; column 0 holds the row in hand
		cameFrom    = make([]int, all+1)
		nearest     = make([]price, all+1)
		seen        = make([]bool, all+1)
	)
	for row := 1; row <= rows; row++ {
		taken[0] = row
		at := 0
		for k := range nearest {
			nearest[k], seen[k] = never, false
		}
		for taken[at] != 0 {
			seen[at] = true
			i, step, next := taken[at], never, 0
			line, base := pair[i-1], rowPrice[i]
			for k := 1; k <= all; k++ {
				if seen[k] {
					continue
				}
				p := never
				if k > len(columns) {
					p = without[i-1]
				} else if c := &columns[k-1]; !line[c.stock].isNever() {
					p = line[c.stock].plus(c.more)
				}
				if !p.isNever() {
					if p = p.minus(base).minus(columnPrice[k]); p.less(nearest[k]) {
						nearest[k], cameFrom[k] = p, at
					}
				}
				if nearest[k].less(step) {
					step, next = nearest[k], k
				}
			}
			for k := range nearest {
				if seen[k] {
					rowPrice[taken[k]] = rowPrice[taken[k]].plus(step)
					columnPrice[k] = columnPrice[k].minus(step)
				} else if !nearest[k].isNever() {
					nearest[k] = nearest[k].minus(step)
				}
			}
			at = next
		}
		for at != 0 {
			taken[at] = taken[cameFrom[at]]
			at = cameFrom[at]
		}
	}
	stock = make([]int, rows)
	for i := range stock {
		stock[i] = -1
	}
	for k, i := range taken[1:] {
		switch {
		case i == 0:
		case k < len(columns):
			c := columns[k]
			stock[i-1] = c.stock
			total = total.plus(pair[i-1][c.stock]).plus(c.more)
		default:
			total = total.plus(without[i-1])
		}
	}
	return stock, columnPrice[1 : len(columns)+1], total
}
