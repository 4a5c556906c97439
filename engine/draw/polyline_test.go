package draw

import (
	"math"
	"testing"
)

// jagged is a line of n points that turns at every one of them.
func jagged(n int) (xs, ys []float64) {
	for i := range n {
		xs = append(xs, 700*float64(i)/float64(n))
		ys = append(ys, float64(i*7919%1009)/5)
	}
	return
}

// A long jagged line keeps, in every column of half a unit, its lowest and highest
// point, and no more than a few points a column.
func TestLongLineKeepsWhatIsSeen(t *testing.T) {
	xs, ys := jagged(100_000)
	picked := thinned(xs, ys)
	if len(picked) > 4*1401 {
		t.Errorf("%d points of a line over 1400 columns", len(picked))
	}
	ends := func(points []int) (low, high []float64) {
		low, high = make([]float64, 1401), make([]float64, 1401)
		for c := range low {
			low[c], high[c] = math.Inf(1), math.Inf(-1)
		}
		for _, i := range points {
			c := int(xs[i] / .5)
			low[c], high[c] = math.Min(low[c], ys[i]), math.Max(high[c], ys[i])
		}
		return
	}
	low, high := ends(all(len(xs)))
	low2, high2 := ends(picked)
	for c := range 1400 {
		// a point within the tolerance of a straight line may go: an eighth of a unit
		if low2[c]-low[c] > .13 || high[c]-high2[c] > .13 {
			t.Fatalf("column %d: %v to %v, of the whole line %v to %v", c, low2[c], high2[c], low[c], high[c])
		}
	}
	for k := 1; k < len(picked); k++ {
		if picked[k] <= picked[k-1] {
			t.Fatalf("point %d after %d", picked[k], picked[k-1])
		}
	}
}

// The time of a line grows as its points do.
func BenchmarkJaggedLine(b *testing.B) {
	xs, ys := jagged(400_000)
	for b.Loop() {
		Polyline(xs, ys)
	}
}
