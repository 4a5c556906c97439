package study

import (
	"math"
	"sort"

	"thole/engine/table"
)

// Estimate sums the draws of one output of one case up: middle, 95 % interval,
// the value with everything as set, and the verdict against 0.
func (d *Drawn) Estimate(c, output int) *table.Estimate {
	q := d.Outputs[output]
	e := Sum(d.Values[c][output])
	e.AsSet = d.AsSet[c][output]
	e.Unit, e.Digits = q.Unit, q.Digits
	e.Verdict = verdict(e.Low, e.High)
	return &e
}

// Sum gives the middle and the central 95 % of draws; blanks make it blank.
func Sum(draws []float64) table.Estimate {
	sorted := append([]float64(nil), draws...)
	sort.Float64s(sorted) // NaN first
	nan := math.NaN()
	if len(sorted) == 0 || math.IsNaN(sorted[0]) {
		return table.Estimate{Value: nan, Low: nan, High: nan, AsSet: nan}
	}
	return table.Estimate{Value: quantile(sorted, 0.5), Low: quantile(sorted, 0.025),
		High: quantile(sorted, 0.975), AsSet: nan}
}

// quantile is the median-unbiased one of Hyndman & Fan 1996, The American
// Statistician 50:361-365, definition 8. gonum's LinInterp is their definition
// 4, which lies low by up to half a draw at both ends.
func quantile(sorted []float64, p float64) float64 {
	n := float64(len(sorted))
	h := p*(n+1.0/3) + 1.0/3 // counted from 1
	low := int(math.Floor(h))
	switch {
	case low < 1:
		return sorted[0]
	case low >= len(sorted):
		return sorted[len(sorted)-1]
	}
	return sorted[low-1] + (h-float64(low))*(sorted[low]-sorted[low-1])
}

// verdict reads a 95 % interval of something that could be 0.
func verdict(low, high float64) string {
	switch {
	case low > 0:
		return MoreUnweighed
	case high < 0:
		return LessUnweighed
	case math.IsNaN(low):
		return ""
	}
	return NotApart
}
