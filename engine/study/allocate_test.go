package study

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// brute tries every whole answer and gives the best two, by what Allocate promises and
// nothing of how it looks for it.
func brute(a Allocation) (best, second *Allotted) {
	left := slices.Clone(a.Count)
	now := make([]int, len(a.Cost))
	better := func(x, y *Allotted) bool {
		switch {
		case y == nil || x.Served != y.Served:
			return y == nil || x.Served > y.Served
		case a.Whole && x.Shares != y.Shares:
			return x.Shares < y.Shares
		}
		return x.Total < y.Total
	}
	var walk func(i, served int, total float64)
	walk = func(i, served int, total float64) {
		if i == len(a.Cost) {
			x := &Allotted{Stock: slices.Clone(now), Served: served, Total: total}
			on := map[int]bool{}
			for _, j := range now {
				if j >= 0 && on[j] {
					x.Shares++
				}
				on[j] = true
			}
			if better(x, best) {
				best, second = x, best
			} else if better(x, second) {
				second = x
			}
			return
		}
		for j := range a.Count {
			if left[j] >= a.Need[i] && !math.IsNaN(a.Cost[i][j]) {
				left[j] -= a.Need[i]
				now[i] = j
				walk(i+1, served+a.Need[i], total+a.Cost[i][j])
				left[j] += a.Need[i]
			}
		}
		now[i] = -1
		walk(i+1, served, total)
	}
	walk(0, 0, 0)
	return best, second
}

// boathouse draws one: crews that take 1, 2 or 4 pairs of oars, sets of up to most pairs.
func boathouse(r *rand.Rand, crews, sets, most int) Allocation {
	a := Allocation{Whole: r.IntN(3) > 0}
	for range sets {
		a.Count = append(a.Count, r.IntN(most+1))
	}
	for range crews {
		a.Need = append(a.Need, 1<<r.IntN(3))
		line := make([]float64, sets)
		for j := range line {
			if line[j] = 100*r.Float64() - 20; r.IntN(4) == 0 {
				line[j] = math.NaN()
			}
		}
		a.Cost = append(a.Cost, line)
	}
	return a
}

// Small boathouses with sets that must be shared, too few oars, pairs that never fit:
// the answer and the next best are those of trying everything.
func TestAllocateAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	shared := 0
	same := func(x, y *Allotted) bool {
		return x.Served == y.Served && (x.Shares == y.Shares) && math.Abs(x.Total-y.Total) < 1e-6
	}
	for trial := range 1000 {
		a := boathouse(r, 1+r.IntN(6), 1+r.IntN(4), 7)
		best, second := Allocate(a)
		wantBest, wantSecond := brute(a)
		if !a.Whole { // how often a line is shared is not asked
			best.Shares, wantBest.Shares = 0, 0
		}
		if !same(best, wantBest) || !best.Proved {
			t.Fatalf("trial %d: %+v: %+v, brute force %+v", trial, a, best, wantBest)
		}
		if (second == nil) != (wantSecond == nil) {
			t.Fatalf("trial %d: second %+v, brute force %+v", trial, second, wantSecond)
		}
		if second != nil {
			if !a.Whole {
				second.Shares, wantSecond.Shares = 0, 0
			}
			if !same(second, wantSecond) {
				t.Fatalf("trial %d: %+v best %+v %+v second %+v, brute force %+v", trial, a, best, wantBest,
					second, wantSecond)
			}
		}
		used := make([]int, len(a.Count))
		for i, j := range best.Stock {
			if j < 0 {
				continue
			}
			if used[j] += a.Need[i]; used[j] > a.Count[j] || math.IsNaN(a.Cost[i][j]) {
				t.Fatalf("trial %d: %v breaks its own rules", trial, best.Stock)
			}
		}
		shared += best.Shares
	}
	if shared < 100 {
		t.Errorf("only %d sets were shared in all", shared)
	}
}

// Equal answers are settled by the order of the lists.
func TestAllocateSettlesTies(t *testing.T) {
	a := Allocation{Cost: [][]float64{{1, 1, 1}, {1, 1, 1}}, Count: []int{1, 1, 1}, Whole: true}
	if best, _ := Allocate(a); !slices.Equal(best.Stock, []int{0, 1}) {
		t.Errorf("%v", best.Stock)
	}
}

// Kinds of boathouse a club may have: two sets a crew and more, and a scarce one, in which
// sets are shared and crews go without.
func BenchmarkAllocate(b *testing.B) {
	for _, size := range [][3]int{{12, 40, 7}, {60, 200, 7}, {12, 6, 7}, {20, 9, 8}} {
		b.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(b *testing.B) {
			r := rand.New(rand.NewPCG(3, 4))
			a := boathouse(r, size[0], size[1], size[2])
			a.Whole = true
			for b.Loop() {
				if best, _ := Allocate(a); !best.Proved {
					b.Fatal("the search was cut short")
				}
			}
		})
	}
}
