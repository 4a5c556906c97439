package num

import (
	"errors"
	"math"
	"sort"
)

// Cubic is a monotone piecewise cubic through given points, constant outside
// them: Fritsch & Carlson 1980 with the weighted harmonic slopes of Fritsch &
// Butland 1984 and the one-sided three-point end slopes of SciPy's
// PchipInterpolator, which it equals to rounding inside the points. It keeps
// rises rises and never overshoots. It cannot change once made and is safe for
// many goroutines.
type Cubic struct {
	x, y, d []float64
}

// ErrPoints says that a curve has fewer than two points or that x does not rise.
var ErrPoints = errors.New("a curve needs two points or more, each further along than the one before")

// NewCubic makes the curve through (x[i], y[i]); x must rise strictly.
func NewCubic(x, y []float64) (*Cubic, error) {
	n := len(x)
	if n < 2 || len(y) != n {
		return nil, ErrPoints
	}
	for i := 1; i < n; i++ {
		if !(x[i] > x[i-1]) {
			return nil, ErrPoints
		}
	}
	c := &Cubic{append([]float64(nil), x...), append([]float64(nil), y...), make([]float64, n)}
	if n == 2 {
		s := (y[1] - y[0]) / (x[1] - x[0])
		c.d[0], c.d[1] = s, s
		return c, nil
	}
	width := func(i int) float64 { return x[i+1] - x[i] }
	slope := func(i int) float64 { return (y[i+1] - y[i]) / width(i) }
	for i := 1; i < n-1; i++ {
		a, b := slope(i-1), slope(i)
		if a*b <= 0 {
			continue // an extreme: level there
		}
		w1, w2 := float64(2*width(i))+width(i-1), width(i)+float64(2*width(i-1))
		c.d[i] = (w1 + w2) / (w1/a + w2/b)
	}
	c.d[0] = endSlope(width(0), width(1), slope(0), slope(1))
	c.d[n-1] = endSlope(width(n-2), width(n-3), slope(n-2), slope(n-3))
	return c, nil
}

// endSlope is the three-point slope at an end, cut so that the curve stays
// monotone (SciPy's end rule, after Moler's pchip).
func endSlope(h0, h1, s0, s1 float64) float64 {
	d := (float64((float64(2*h0)+h1)*s0) - float64(h0*s1)) / (h0 + h1)
	switch {
	case sign(d) != sign(s0):
		return 0
	case sign(s0) != sign(s1) && math.Abs(d) > 3*math.Abs(s0):
		return float64(3 * s0)
	}
	return d
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

// At gives the curve's value at x.
func (c *Cubic) At(x float64) float64 {
	n := len(c.x)
	if x <= c.x[0] {
		return c.y[0]
	}
	if x >= c.x[n-1] {
		return c.y[n-1]
	}
	i := c.segment(x)
	h := c.x[i+1] - c.x[i]
	u := (x - c.x[i]) / h
	v := 1 - u
	return float64(v*v*(float64((1+float64(2*u))*c.y[i])+float64(u*h*c.d[i]))) +
		float64(u*u*(float64((1+float64(2*v))*c.y[i+1])-float64(v*h*c.d[i+1])))
}

// segment gives i with x[i] <= x < x[i+1], for x inside the points.
func (c *Cubic) segment(x float64) int {
	if len(c.x) <= 16 {
		i := 0
		for c.x[i+1] <= x {
			i++
		}
		return i
	}
	return sort.SearchFloat64s(c.x[1:], math.Nextafter(x, math.Inf(1)))
}

// Knots gives the curve's own x values, where its curvature jumps. Read only.
func (c *Cubic) Knots() []float64 { return c.x }
