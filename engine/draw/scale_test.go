package draw

import (
	"math"
	"testing"
)

// Steps of 1, 2 or 5, four to seven ticks, nought taken in where values come near.
func TestAxes(t *testing.T) {
	for _, c := range []struct{ low, high float64 }{{4.2, 4.32}, {0, 690}, {-63, 43}, {166, 183}, {.0021, .0094}, {-3e5, 8e5}, {5, 5}, {0, 0}, {-.4, .02}, {99, 101}} {
		s := Axis([]float64{c.low, math.NaN(), c.high}, 6)
		step := s.Ticks[1] - s.Ticks[0]
		lead := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9))
		if s.Low > c.low || s.High < c.high || len(s.Ticks) < 3 || len(s.Ticks) > 8 || math.Abs(lead-1) > 1e-6 && math.Abs(lead-2) > 1e-6 && math.Abs(lead-5) > 1e-6 {
			t.Errorf("%g to %g: axis %g to %g by %g", c.low, c.high, s.Low, s.High, step)
		}
	}
	if s := Axis([]float64{4.2, 4.32}, 6); s.Spans() != "axis 4.20 to 4.32" {
		t.Errorf("a cut axis says %q", s.Spans())
	}
	if s := Axis([]float64{100, 690}, 6); s.Low != 0 || s.Spans() != "" {
		t.Errorf("an axis near nought begins at %g", s.Low)
	}
}

// Labels move apart as little as they have to, in their order, within the ends.
func TestApart(t *testing.T) {
	for _, c := range []struct{ in, want []float64 }{
		{[]float64{10, 100, 50}, []float64{10, 100, 50}},
		{[]float64{50, 50}, []float64{42.5, 57.5}},
		{[]float64{100, 101, 99}, []float64{100, 115, 85}},
		{[]float64{0, 1}, []float64{0, 15}},
		{[]float64{120, 119}, []float64{120, 105}},
	} {
		got := Apart(c.in, 15, 0, 120)
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%v apart: %v, want %v", c.in, got, c.want)
				break
			}
		}
	}
}
