package num

import (
	"math"
	"testing"
)

// A hand-worked case of the rules (Fritsch & Butland 1984's weighted harmonic mean
// inside, the three-point rule cut for monotone curves at the ends): x 0 1 3 4, y 0 1 2 5.
// Widths 1 2 1, slopes 1, 1/2, 3.
//
//	d1: w1 = 2·2+1 = 5, w2 = 2+2·1 = 4: 9/(5/1 + 4/0.5) = 9/13
//	d2: w1 = 2·1+2 = 4, w2 = 1+2·2 = 5: 9/(4/0.5 + 5/3) = 27/29
//	d0: ((2·1+2)·1 − 1·0.5)/3 = 7/6
//	d3: ((2·1+2)·3 − 1·0.5)/3 = 23/6
func TestCubicSlopesByHand(t *testing.T) {
	c, err := NewCubic([]float64{0, 1, 3, 4}, []float64{0, 1, 2, 5})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{7. / 6, 9. / 13, 27. / 29, 23. / 6} {
		if math.Abs(c.d[i]-want) > 1e-15 {
			t.Errorf("slope %d is %.16g, expected %.16g", i, c.d[i], want)
		}
	}
	// the Hermite cubic half way along the middle piece: (y1+y2)/2 + h/8 (d1 − d2)
	if got, want := c.At(2), 1.5+2.0/8*(9./13-27./29); math.Abs(got-want) > 1e-15 {
		t.Errorf("at 2: %.16g, expected %.16g", got, want)
	}
}

// The end rule's two cuts, as in SciPy's PchipInterpolator: level where the three-point
// slope has the wrong sign, 3 times the first slope where it is too steep at a turn.
func TestCubicEndRule(t *testing.T) {
	for _, c := range []struct {
		name string
		x, y []float64
		want float64
	}{
		// slopes 1 then 10 over equal widths: (3·1 − 10)/2 = −3.5, against the rise: 0
		{"wrong sign", []float64{0, 1, 2}, []float64{0, 1, 11}, 0},
		// slopes 1 then −10: (3 + 10)/2 = 6.5 > 3·1 at a turn: 3
		{"too steep", []float64{0, 1, 2}, []float64{0, 1, -9}, 3},
		{"as it is", []float64{0, 1, 2}, []float64{0, 1, 1.5}, 1.25},
		{"two points", []float64{0, 2}, []float64{0, 1}, 0.5},
	} {
		p, err := NewCubic(c.x, c.y)
		if err != nil {
			t.Fatal(err)
		}
		if p.d[0] != c.want {
			t.Errorf("%s: %v, expected %v", c.name, p.d[0], c.want)
		}
	}
}

// Between points the curve never overshoots, outside it stays constant, and it goes
// through every point; with few points and with many (two ways to look a piece up).
func TestCubicIsMonotoneAndMeetsItsPoints(t *testing.T) {
	for _, n := range []int{5, 40} {
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = float64(i) + 0.3*math.Sin(float64(5*i))
			y[i] = math.Atan(float64(i-n/2)) + 0.2*float64(i%3)
		}
		c, err := NewCubic(x, y)
		if err != nil {
			t.Fatal(err)
		}
		for i := range x {
			if math.Abs(c.At(x[i])-y[i]) > 1e-15 {
				t.Errorf("misses point %d", i)
			}
		}
		if c.At(x[0]-1) != y[0] || c.At(x[n-1]+1) != y[n-1] {
			t.Error("not constant outside")
		}
		for i := range n - 1 {
			low, high := math.Min(y[i], y[i+1]), math.Max(y[i], y[i+1])
			for u := 0.01; u < 1; u += 0.01 {
				if v := c.At(x[i] + u*(x[i+1]-x[i])); v < low-1e-14 || v > high+1e-14 {
					t.Errorf("overshoots between %d and %d: %v", i, i+1, v)
				}
			}
		}
	}
	if _, err := NewCubic([]float64{0, 0}, []float64{1, 2}); err == nil {
		t.Error("points that do not rise were taken")
	}
	if _, err := NewCubic([]float64{0}, []float64{1}); err == nil {
		t.Error("one point was taken")
	}
}

// The measured order where the data rise: 4 away from turns would be the spline's; the
// harmonic slopes leave 2 to 3.
func TestCubicOrder(t *testing.T) {
	miss := func(n int) float64 {
		x, y := make([]float64, n+1), make([]float64, n+1)
		for i := range x {
			x[i] = float64(i) / float64(n)
			y[i] = math.Exp(x[i])
		}
		c, err := NewCubic(x, y)
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for u := 0.3; u < 0.7; u += 0.001 {
			worst = math.Max(worst, math.Abs(c.At(u)-math.Exp(u)))
		}
		return worst
	}
	if p := order(miss, 20); p < 2 || p > 4.2 {
		t.Errorf("measured order %.2f", p)
	}
}

// Gauss-Legendre: exact for polynomials up to degree 2n − 1 (and not beyond), symmetric,
// Σw = 2; the two-point rule by hand.
func TestGaussLegendre(t *testing.T) {
	for n := 1; n <= MaxGauss; n++ {
		x, w := GaussLegendre(n)
		for _, degree := range []int{0, 1, 2*n - 2, 2*n - 1} {
			sum, want := 0.0, 0.0
			for i := range x {
				sum += w[i] * math.Pow(x[i], float64(degree))
			}
			if degree%2 == 0 {
				want = 2 / float64(degree+1)
			}
			if math.Abs(sum-want) > 1e-13 {
				t.Errorf("%d points, degree %d: %v, expected %v", n, degree, sum, want)
			}
		}
		for i := 1; i < n; i++ {
			if x[i] <= x[i-1] {
				t.Errorf("%d points do not rise", n)
			}
		}
	}
	if x, _ := GaussLegendre(2); math.Abs(x[1]-1/math.Sqrt(3)) > 2e-16 {
		t.Errorf("two points: %v", x)
	}
}

// S and its derivatives agree, and meet the ends with two level derivatives.
func TestRise(t *testing.T) {
	for u := 0.05; u < 1; u += 0.05 {
		const h = 1e-5
		if d := (Rise(u+h) - Rise(u-h)) / (2 * h); math.Abs(d-RiseSlope(u)) > 1e-8 {
			t.Errorf("S' at %v", u)
		}
		if d := (RiseSlope(u+h) - RiseSlope(u-h)) / (2 * h); math.Abs(d-RiseCurve(u)) > 1e-7 {
			t.Errorf("S'' at %v", u)
		}
	}
	if Rise(-1) != 0 || Rise(2) != 1 || Rise(0.5) != 0.5 || RiseSlope(0) != 0 || RiseCurve(1) != 0 {
		t.Error("S misses its ends")
	}
}
