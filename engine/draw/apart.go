package draw

import "sort"

// Apart moves places that are nearer than gap away from each other, as little as
// possible, and keeps them within [low, high] where they fit.
func Apart(places []float64, gap, low, high float64) []float64 {
	n := len(places)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return places[order[a]] < places[order[b]] })
	// groups that touch are centred on the mean of their wishes
	type group struct {
		sum   float64
		count int
	}
	var groups []group
	top := func(g group) float64 { return g.sum/float64(g.count) - gap*float64(g.count-1)/2 }
	for _, i := range order {
		groups = append(groups, group{places[i], 1})
		for len(groups) > 1 {
			a, b := groups[len(groups)-2], groups[len(groups)-1]
			if top(a)+gap*float64(a.count) <= top(b)+1e-9 {
				break
			}
			groups = append(groups[:len(groups)-2], group{a.sum + b.sum, a.count + b.count})
		}
	}
	out := make([]float64, n)
	k := 0
	for _, g := range groups {
		for j := range g.count {
			out[order[k]] = top(g) + gap*float64(j)
			k++
		}
	}
	// pushed in from the ends, keeping the order and the gap
	for j := 0; j < n; j++ {
		least := low + gap*float64(j)
		if out[order[j]] < least {
			out[order[j]] = least
		}
	}
	for j := n - 1; j >= 0; j-- {
		most := high - gap*float64(n-1-j)
		if out[order[j]] > most {
			out[order[j]] = most
		}
	}
	return out
}
