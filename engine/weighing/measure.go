package weighing

import (
	"fmt"
	"math"

	"thole/engine/forms"
	"thole/engine/study"
)

// Measure says which doubt spans most of a quantity, and what measuring it to half would
// leave of the whole span.
func (w *Weighed) Measure(k int) string {
	if w.Draws == nil {
		return w.measureForms(k)
	}
	widest, most := -1, 0.0
	for i := range w.Inputs {
		if low, high := w.ends(i, k); !(math.Abs(high-low) <= most) {
			widest, most = i, math.Abs(high-low)
		}
	}
	if widest < 0 {
		return "nothing to measure: no input in doubt moves it"
	}
	whole := study.Sum(w.Draws[k])
	half := study.Sum(w.inMiddle(widest, k))
	return fmt.Sprintf("%s spans most, %s to %s; measured to half, %s of an interval of %s would be left",
		w.Inputs[widest], w.says(k, whole.Low), w.says(k, whole.High), w.size(k, half.High-half.Low),
		w.size(k, whole.High-whole.Low))
}

// size is a span of changes, without a sign.
func (w *Weighed) size(k int, x float64) string {
	return w.says(k, math.Abs(x))[1:]
}

// ends are the changes at both ends of an input; NaN where one has none.
func (w *Weighed) ends(input, k int) (low, high float64) {
	n := 0
	low, high = math.NaN(), math.NaN()
	for _, t := range w.Tries {
		if t.Kind != Input {
			continue
		}
		if t.Change != nil && n/2 == input {
			if n%2 == 0 {
				low = t.Change[k]
			} else {
				high = t.Change[k]
			}
		}
		n++
	}
	return low, high
}

// inMiddle are the draws with the input in the middle half of what was drawn: what would
// be left of them if it were measured to half.
func (w *Weighed) inMiddle(input, k int) []float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range w.Drawn {
		low, high = min(low, p[input]), max(high, p[input])
	}
	var out []float64
	for i, p := range w.Drawn {
		if i < len(w.Draws[k]) && math.Abs(p[input]-(low+high)/2) <= (high-low)/4 {
			out = append(out, w.Draws[k][i])
		}
	}
	return out
}

// measureForms names the axis of forms that spans most, where no input was drawn.
func (w *Weighed) measureForms(k int) string {
	spans := map[forms.Axis][2]float64{}
	widest, most := forms.Axis(""), 0.0
	asSet := w.Tries[0].Change[k]
	for _, t := range w.Tries {
		if t.Kind != FormOf || t.Change == nil || math.IsNaN(t.Change[k]) {
			continue
		}
		axis := t.Set[0].Axis
		s, ok := spans[axis]
		if !ok {
			s = [2]float64{asSet, asSet}
		}
		s = [2]float64{min(s[0], t.Change[k]), max(s[1], t.Change[k])}
		spans[axis] = s
		if s[1]-s[0] > most {
			widest, most = axis, s[1]-s[0]
		}
	}
	if widest == "" {
		return "nothing to measure: no doubt moves it"
	}
	s := spans[widest]
	return fmt.Sprintf("%s spans most, %s to %s; measured to half, about %s of these %s would be left",
		widest,
		w.says(k, s[0]), w.says(k, s[1]), w.size(k, most/2), w.size(k, most))
}
