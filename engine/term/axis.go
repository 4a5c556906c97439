package term

import (
	"math"
	"strings"

	"thole/engine/rounding"
	"thole/engine/table"
)

// axis is a span with round ticks.
type axis struct {
	low, high, step float64
	digits          int
}

func (a axis) ticks() []float64 {
	var at []float64
	for k := 0; ; k++ {
		v := a.low + float64(k)*a.step
		if v > a.high+a.step*1e-6 {
			return at
		}
		at = append(at, rounding.Decimals(v, a.digits))
	}
}

// roundAxis gives 4 to 7 ticks in steps of 1, 2 or 5; tight keeps the span as
// the data have it, else it is widened to the ticks.
func roundAxis(low, high float64, most int, tight bool) axis {
	if high-low < 1e-9*math.Max(math.Abs(high), 1e-9) {
		pad := math.Max(math.Abs(high)*0.01, 1e-6)
		low, high = low-pad, high+pad
		tight = false
	}
	power := math.Pow(10, math.Floor(math.Log10((high-low)/float64(most))))
	var step, first, last float64
	for _, times := range []float64{1, 2, 5, 10, 20} {
		step = times * power
		first, last = math.Floor(low/step+1e-9), math.Ceil(high/step-1e-9)
		if tight {
			first, last = math.Ceil(low/step-1e-9), math.Floor(high/step+1e-9)
		}
		if last-first <= float64(most) {
			break
		}
	}
	return axis{low: first * step, high: last * step, step: step,
		digits: max(0, int(-math.Floor(math.Log10(step)+1e-9)))}
}

// Frame is the characters of a chart's edges.
type Frame struct {
	Edge, Tick          string // the left edge, and where a number stands at it
	Corner, Floor, Foot string // where the edges meet, the lower edge, a tick on it
}

// Frame gives the characters this window has for a chart's edges.
func (w Window) Frame() Frame {
	if w.ASCII {
		return Frame{Edge: "|", Tick: "+", Corner: "+", Floor: "-", Foot: "+"}
	}
	return Frame{Edge: "│", Tick: "┤", Corner: "└", Floor: "─", Foot: "┬"}
}

// XAxis is the lower edge of a chart.
type XAxis struct {
	Name      string
	Low, High float64  // its ends, which stand on the first and the last column
	Places    []string // texts that stand at 0, 1, 2... instead of numbers
	Columns   int      // how wide the chart's field is
	Margin    int      // how wide the numbers of its left edge are
}

// Column tells where a number stands.
func (x XAxis) Column(v float64) float64 {
	if x.High == x.Low {
		return float64(x.Columns-1) / 2
	}
	return (v - x.Low) / (x.High - x.Low) * float64(x.Columns-1)
}

// Foot draws the axis with its ticks, their numbers or texts, and its name.
func (w Window) Foot(x XAxis) []string {
	frame, margin := w.Frame(), Spaces(x.Margin+2)
	floor, labels := []rune(strings.Repeat(frame.Floor, x.Columns)), ""
	label := func(v float64, text string) {
		at := int(math.Round(x.Column(v)))
		floor[min(max(at, 0), x.Columns-1)] = []rune(frame.Foot)[0]
		start := max(min(at-Width(text)/2, w.TextWidth()-x.Margin-2-Width(text)), 0)
		if labels == "" || start > Width(labels) { // else there is no room for it
			labels = PadRight(labels, start) + text
		}
	}
	switch {
	case x.Places != nil:
		for k, name := range x.Places {
			label(float64(k), Cut(w.Clean(name), max(x.Columns/len(x.Places)-1, 3)))
		}
	case x.Low == x.High:
		label(x.Low, table.FourFigures(x.Low))
	default:
		a := roundAxis(x.Low, x.High, max(2, min(7, x.Columns/6)), true)
		for _, v := range a.ticks() {
			label(v, table.Fixed(v, a.digits))
		}
	}
	return []string{Spaces(x.Margin+1) + frame.Corner + string(floor), margin + labels, margin +
		w.Clean(x.Name)}
}
