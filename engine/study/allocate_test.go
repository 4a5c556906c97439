package study

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// brute tries every whole answer and gives the best two.
func brute(cost [][]float64, count []int) (best, second *Allotted) {
	left := append([]int(nil), count...)
	now := make([]int, len(cost))
	var walk func(i, served int, total float64)
	walk = func(i, served int, total float64) {
		if i == len(cost) {
			a := &Allotted{Stock: append([]int(nil), now...), Served: served, Total: total}
			switch {
			case best == nil || a.Served > best.Served || a.Served == best.Served && a.Total < best.Total:
				best, second = a, best
			case second == nil || a.Served > second.Served || a.Served == second.Served &&
				a.Total < second.Total:
				second = a
			}
			return
		}
		for j := range count {
			if left[j] > 0 && !math.IsNaN(cost[i][j]) {
				left[j]--
				now[i] = j
				walk(i+1, served+1, total+cost[i][j])
				left[j]++
			}
		}
		now[i] = -1
		walk(i+1, served, total)
	}
	walk(0, 0, 0)
	return best, second
}

func TestAllocateAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for trial := range 400 {
		wants, stocks := 1+r.IntN(5), 1+r.IntN(4)
		cost, count := make([][]float64, wants), make([]int, stocks)
		for j := range count {
			count[j] = r.IntN(3)
		}
		for i := range cost {
			cost[i] = make([]float64, stocks)
			for j := range cost[i] {
				cost[i][j] = 100*r.Float64() - 20
				if r.IntN(4) == 0 {
					cost[i][j] = math.NaN()
				}
			}
		}
		best, second := Allocate(cost, count)
		wantBest, wantSecond := brute(cost, count)
		if best.Served != wantBest.Served || math.Abs(best.Total-wantBest.Total) > 1e-9 {
			t.Fatalf("trial %d: %+v, brute force %+v", trial, best, wantBest)
		}
		if (second == nil) != (wantSecond == nil) {
			t.Fatalf("trial %d: second %+v, brute force %+v", trial, second, wantSecond)
		}
		if second != nil && (second.Served != wantSecond.Served ||
			math.Abs(second.Total-wantSecond.Total) > 1e-9) {
			t.Fatalf("trial %d: second %+v, brute force %+v", trial, second, wantSecond)
		}
		used := make([]int, stocks)
		for i, j := range best.Stock {
			if j < 0 {
				continue
			}
			if used[j]++; used[j] > count[j] || math.IsNaN(cost[i][j]) {
				t.Fatalf("trial %d: %v breaks its own rules", trial, best.Stock)
			}
		}
	}
}

func TestAllocateSixtyBySixty(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	cost, count := make([][]float64, 60), make([]int, 60)
	for i := range cost {
		count[i] = 1
		cost[i] = make([]float64, 60)
		for j := range cost[i] {
			cost[i][j] = 100 * r.Float64()
		}
	}
	start := time.Now()
	best, second := Allocate(cost, count)
	if took := time.Since(start); took > 900*time.Millisecond {
		t.Errorf("60 × 60 with its second best took %v", took)
	}
	if best.Served != 60 || second.Total < best.Total {
		t.Errorf("best %g, second %g", best.Total, second.Total)
	}
}
