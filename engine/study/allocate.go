package study

import (
	"math"
	"slices"
)

// Allocation is a question of who gets what: wants, each of which takes Need pieces of one
// line of stock, and stock, of which line j has Count[j] pieces.
type Allocation struct {
	Cost  [][]float64 // of want i with stock j, NaN: never
	Need  []int       // pieces that want i takes, all of one line of stock; nil: one each
	Count []int       // pieces of stock j
	Whole bool        // a line of stock is shared only where nothing else serves
}

// Allotted is a whole answer of Allocate.
type Allotted struct {
	Stock  []int // for each want the index into the stock, or -1: not served
	Served int   // pieces in use
	Shares int   // wants that have a line of stock together with an earlier one
	Total  float64
	Proved bool // nothing better exists; false where the search was cut short

	priced price
}

// mostNodes bounds the search of one answer, and of all next best ones together. Registers of
// clubs take tens; many wants that fight for few large lines could take longer than anybody waits.
const mostNodes = 50_000

// Allocate finds the whole answer that puts most pieces to use, then, where lines are to be
// kept whole, shares fewest, then costs least; and the next best whole answer, which differs
// in at least one pair (nil: there is no other). Answers that cost the same to a
// hundred-millionth are settled by the order of the lists: the first want has the first stock.
func Allocate(a Allocation) (best, second *Allotted) {
	s := newDeal(a)
	s.nodes = mostNodes
	best = s.best(nil)
	s.nodes = mostNodes
	// The next best differs in one pair at least: forbid each in turn (Murty 1968,
	// Operations Research 16:682-687, the first step).
	for i, j := range best.Stock {
		if j < 0 {
			continue
		}
		was := s.pair[i][j]
		s.pair[i][j] = never
		if other := s.best(second); other != nil {
			second = other
		}
		s.pair[i][j] = was
	}
	return best, second
}

// deal is an allocation in prices: a piece left unserved weighs more than all shares, a
// share more than all costs.
type deal struct {
	Allocation
	pair    [][]price // of a want with a stock
	without []price   // of a want that is not served
	share   price
	slack   price // prices nearer than this are the same
	nodes   int   // that may still be looked at
}

func newDeal(a Allocation) *deal {
	n, m := len(a.Cost), len(a.Count)
	if a.Need == nil {
		a.Need = make([]int, n)
		for i := range a.Need {
			a.Need[i] = 1
		}
	}
	s := &deal{Allocation: a, without: make([]price, n)}
	if a.Whole {
		s.share = price{steps: 1}
	}
	lowest, highest := math.Inf(1), math.Inf(-1)
	for i := range n {
		s.without[i] = price{steps: int64(n+1) * int64(a.Need[i])}
		for _, c := range a.Cost[i] {
			if finite(c) {
				lowest, highest = min(lowest, c), max(highest, c)
			}
		}
	}
	scale := 1e-8 * max(highest-lowest, 1e-6*max(math.Abs(highest), math.Abs(lowest)), 1e-12)
	s.slack = price{cost: scale / 2 / float64((n+1)*(m+1))}
	s.pair = make([][]price, n)
	for i := range n {
		s.pair[i] = make([]price, m)
		for j := range m {
			s.pair[i][j] = never
			if c := a.Cost[i][j]; finite(c) && a.Count[j] >= a.Need[i] {
				first := float64(n-i) / float64(n) * float64(j) / float64(m)
				s.pair[i][j] = price{cost: c + scale*first}
			}
		}
	}
	return s
}

// node is a part of the search: wants already given a stock, pairs forbidden.
type node struct {
	given     []int // stock, or -1: open
	forbidden [][2]int
}

// best searches by branch and bound, depth first, for an answer better than one that is
// known already (nil: any); nil where there is none.
func (s *deal) best(known *Allotted) *Allotted {
	var found *Allotted
	limit := price{steps: never.steps}
	if known != nil {
		limit = known.priced
	}
	first := node{given: make([]int, len(s.pair))}
	for i := range first.given {
		first.given[i] = -1
	}
	open := []node{first}
	var worth []price
	for ; len(open) > 0 && s.nodes > 0; s.nodes-- {
		at := open[len(open)-1]
		open = open[:len(open)-1]
		relaxed, bound := s.relax(at, make([]price, len(s.Count)))
		if !bound.plus(s.slack).less(limit) {
			continue
		}
		want, stock := s.overfull(at, relaxed)
		if want < 0 { // nothing is overfull: it is a whole answer, and the best of this node
			found = s.answer(relaxed)
			limit = found.priced
			continue
		}
		if worth == nil {
			worth = s.worthOfPieces()
		}
		if _, bound = s.relax(at, worth); !bound.plus(s.slack).less(limit) {
			continue
		}
		not := node{at.given, append(slices.Clip(at.forbidden), [2]int{want, stock})}
		with := node{slices.Clone(at.given), at.forbidden}
		with.given[want] = stock
		open = append(open, not, with)
	}
	if found != nil {
		found.Proved = len(open) == 0
	}
	return found
}

// answer reads a whole answer off the stock of each want.
func (s *deal) answer(stock []int) *Allotted {
	a := &Allotted{Stock: slices.Clone(stock)}
	seen := make([]bool, len(s.Count))
	for i, j := range stock {
		if j < 0 {
			a.priced = a.priced.plus(s.without[i])
			continue
		}
		a.Served += s.Need[i]
		a.Total += s.Cost[i][j]
		a.priced = a.priced.plus(s.pair[i][j])
		if seen[j] {
			a.Shares++
			a.priced = a.priced.plus(s.share)
		}
		seen[j] = true
	}
	return a
}

// overfull finds a stock that holds more than it has, and of the open wants on it the one
// that takes most; -1 where there is none.
func (s *deal) overfull(at node, stock []int) (want, on int) {
	load := make([]int, len(s.Count))
	for i, j := range stock {
		if j >= 0 {
			load[j] += s.Need[i]
		}
	}
	want = -1
	for i, j := range stock {
		if j >= 0 && at.given[i] < 0 && load[j] > s.Count[j] && (want < 0 || s.Need[i] > s.Need[want]) {
			want, on = i, j
		}
	}
	return want, on
}
