package report

import (
	"math"
	"sort"
)

// scale maps values onto a stretch of the drawing. The stretch may run upward,
// from a larger coordinate to a smaller.
type scale struct {
	low, high float64 // values at the two ends
	from, to  float64 // where they lie
	ticks     []float64
	digits    int
}

func (s scale) at(v float64) float64 {
	return s.from + (v-s.low)/(s.high-s.low)*(s.to-s.from)
}

// label writes a tick's value.
func (s scale) label(v float64) string { return numeral(v, s.digits) }

// spans says "axis 4.20 to 4.32" when the axis does not begin at nought: a
// reader has to be told that a small difference fills the drawing.
func (s scale) spans() string {
	if s.low <= 0 && s.high >= 0 {
		return ""
	}
	return "axis " + numeral(s.low, s.digits) + " to " + numeral(s.high, s.digits)
}

// axisFor makes a scale over values whose ticks are whole steps of 1, 2 or 5 and
// whose ends are ticks. It begins at nought unless the values keep well away
// from it. about is the number of ticks to aim for, between 4 and 7.
func axisFor(values []float64, about int) scale {
	low, high := extent(values)
	if math.IsInf(low, 1) {
		low, high = 0, 1
	}
	if high-low < 1e-9*math.Max(1, math.Abs(high)) {
		pad := math.Max(math.Abs(high)*.05, .5)
		if low == 0 {
			pad = .5
		}
		low, high = low-pad, high+pad
	}
	if low > 0 && low < .45*high {
		low = 0
	}
	if high < 0 && high > .45*low {
		high = 0
	}
	step := bestStep(low, high, about)
	return ticked(math.Floor(low/step+1e-9)*step, math.Ceil(high/step-1e-9)*step, step)
}

// bestStep is the step of 1, 2 or 5 that leaves least room beyond the values
// with 4 to about+1 ticks; of those that leave alike, the one with fewest.
func bestStep(low, high float64, about int) float64 {
	best, least := niceStep((high-low)/float64(about-1)), math.Inf(1)
	for step := niceStep((high - low) / 20); step <= high-low; step = niceStep(step * 1.5) {
		span := (math.Ceil(high/step-1e-9) - math.Floor(low/step+1e-9)) * step
		ticks := int(math.Round(span/step)) + 1
		if ticks >= 4 && ticks <= about+1 && span <= least*(1+1e-9) {
			best, least = step, span
		}
	}
	return best
}

// spanFor makes a scale that ends at the values themselves, with ticks inside:
// for an axis of settings, whose ends are the range that was asked for.
func spanFor(values []float64, about int) scale {
	low, high := extent(values)
	if math.IsInf(low, 1) {
		low, high = 0, 1
	}
	if high <= low {
		low, high = low-.5, high+.5
	}
	step := niceStep((high - low) / float64(about-1))
	for inside(low, high, step) < 4 {
		finer := niceStep(step / 2.6)
		if inside(low, high, finer) > about+2 {
			break
		}
		step = finer
	}
	s := ticked(math.Ceil(low/step-1e-9)*step, math.Floor(high/step+1e-9)*step, step)
	s.low, s.high = low, high
	return s
}

// inside counts the ticks of a step between two ends.
func inside(low, high, step float64) int {
	return int(math.Floor(high/step+1e-9)-math.Ceil(low/step-1e-9)) + 1
}

func ticked(low, high, step float64) scale {
	s := scale{low: low, high: high, digits: stepDigits(step)}
	n := int(math.Round((high - low) / step))
	for i := 0; i <= n; i++ {
		v := low + float64(i)*step
		if math.Abs(v) < step*1e-9 {
			v = 0
		}
		s.ticks = append(s.ticks, v)
	}
	return s
}

// niceStep is the smallest of 1, 2, 5 times a power of ten that is not below raw.
func niceStep(raw float64) float64 {
	if raw <= 0 || math.IsNaN(raw) || math.IsInf(raw, 0) {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, f := range []float64{1, 2, 5} {
		if f*power >= raw*(1-1e-9) {
			return f * power
		}
	}
	return 10 * power
}

func stepDigits(step float64) int {
	return max(0, int(-math.Floor(math.Log10(step)+1e-9)))
}

// farthest is as far from nought as anything is drawn: no quantity of a boat
// comes near it, and beyond it an axis has no steps left to count.
const farthest = 1e12

func drawable(v float64) bool { return math.Abs(v) <= farthest } // false for NaN

// extent is the lowest and the highest of the values that can be drawn.
func extent(values []float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if drawable(v) {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	return
}

// apart moves places that are nearer than gap away from each other, as little as
// possible, and keeps them within [low, high] where they fit.
func apart(places []float64, gap, low, high float64) []float64 {
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
