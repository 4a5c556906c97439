package draw

import (
	"math"

	"thole/engine/typeset"
)

// Scale maps values onto a stretch of the drawing. The stretch may run upward,
// from a larger coordinate to a smaller.
type Scale struct {
	Low, High float64 // values at the two ends
	From, To  float64 // where they lie
	Ticks     []float64
	Digits    int
}

func (s Scale) At(v float64) float64 {
	return s.From + (v-s.Low)/(s.High-s.Low)*(s.To-s.From)
}

// Label writes a tick's value.
func (s Scale) Label(v float64) string { return typeset.Number(v, s.Digits) }

// Spans says "axis 4.20 to 4.32" when the axis does not begin at nought: a
// reader has to be told that a small difference fills the drawing.
func (s Scale) Spans() string {
	if s.Low <= 0 && s.High >= 0 {
		return ""
	}
	return "axis " + typeset.Number(s.Low, s.Digits) + " to " + typeset.Number(s.High, s.Digits)
}

// Axis makes a scale over values whose ticks are whole steps of 1, 2 or 5 and
// whose ends are ticks. It begins at nought unless the values keep well away
// from it. about is the number of ticks to aim for, between 4 and 7.
func Axis(values []float64, about int) Scale {
	low, high := Extent(values)
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
	best, least := NiceStep((high-low)/float64(about-1)), math.Inf(1)
	for step := NiceStep((high - low) / 20); step <= high-low; step = NiceStep(step * 1.5) {
		span := (math.Ceil(high/step-1e-9) - math.Floor(low/step+1e-9)) * step
		ticks := int(math.Round(span/step)) + 1
		if ticks >= 4 && ticks <= about+1 && span <= least*(1+1e-9) {
			best, least = step, span
		}
	}
	return best
}

// Span makes a scale that ends at the values themselves, with ticks inside:
// for an axis of settings, whose ends are the range that was asked for.
func Span(values []float64, about int) Scale {
	low, high := Extent(values)
	if math.IsInf(low, 1) {
		low, high = 0, 1
	}
	if high <= low {
		low, high = low-.5, high+.5
	}
	step := NiceStep((high - low) / float64(about-1))
	for inside(low, high, step) < 4 {
		finer := NiceStep(step / 2.6)
		if inside(low, high, finer) > about+2 {
			break
		}
		step = finer
	}
	s := ticked(math.Ceil(low/step-1e-9)*step, math.Floor(high/step+1e-9)*step, step)
	s.Low, s.High = low, high
	return s
}

// inside counts the ticks of a step between two ends.
func inside(low, high, step float64) int {
	return int(math.Floor(high/step+1e-9)-math.Ceil(low/step-1e-9)) + 1
}

func ticked(low, high, step float64) Scale {
	s := Scale{Low: low, High: high, Digits: StepDigits(step)}
	n := int(math.Round((high - low) / step))
	for i := 0; i <= n; i++ {
		v := low + float64(i)*step
		if math.Abs(v) < step*1e-9 {
			v = 0
		}
		s.Ticks = append(s.Ticks, v)
	}
	return s
}

// NiceStep is the smallest of 1, 2, 5 times a power of ten that is not below raw.
func NiceStep(raw float64) float64 {
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

func StepDigits(step float64) int {
	return max(0, int(-math.Floor(math.Log10(step)+1e-9)))
}

// farthest is as far from nought as anything is drawn: no quantity of a boat
// comes near it, and beyond it an axis has no steps left to count.
const farthest = 1e12

func Drawable(v float64) bool { return math.Abs(v) <= farthest } // false for NaN

// Extent is the lowest and the highest of the values that can be drawn.
func Extent(values []float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if Drawable(v) {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	return
}

// Levels draws a level rule for every tick of the axis, its value written so far
// to the left of the panel.
func (d *Surface) Levels(x, y Scale, away float64) {
	for _, v := range y.Ticks {
		class := "hair"
		if v == 0 {
			class = "axis"
		}
		d.Line(class, x.From, y.At(v), x.To, y.At(v))
		d.Text("t2 end", x.From-away, y.At(v)+4.4, y.Label(v))
	}
}
