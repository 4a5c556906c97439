package num

import (
	"math"
	"testing"
)

// Radau points integrate what is a polynomial of twice their number less two, up to a point those of their
// number less one: the method's defining identities, to rounding.
func TestRadauIntegrates(t *testing.T) {
	for power := range 2*RadauPoints - 1 {
		sum := 0.0
		for i := range RadauPoints {
			sum += Radau.Weight[i] * math.Pow(Radau.Node[i], float64(power))
		}
		if want := 1 / float64(power+1); math.Abs(sum-want) > 1e-15 {
			t.Errorf("∫ x^%d = %.17g, want %.17g", power, sum, want)
		}
	}
	for i := range RadauPoints {
		for power := range RadauPoints {
			sum := 0.0
			for j := range RadauPoints {
				sum += Radau.Within[i][j] * math.Pow(Radau.Node[j], float64(power))
			}
			want := math.Pow(Radau.Node[i], float64(power+1)) / float64(power+1)
			if math.Abs(sum-want) > 1e-15 {
				t.Errorf("∫ x^%d up to point %d = %.17g, want %.17g", power, i, sum, want)
			}
		}
	}
}

// Slope turns Within round: one after the other they change nothing, to rounding.
func TestRadauSlope(t *testing.T) {
	for i := range RadauPoints {
		for j := range RadauPoints {
			sum, want := 0.0, 0.0
			for k := range RadauPoints {
				sum += Radau.Slope[i][k] * Radau.Within[k][j]
			}
			if i == j {
				want = 1
			}
			if math.Abs(sum-want) > 1e-13 { // its numbers reach 30
				t.Errorf("row %d, column %d: %g", i, j, sum)
			}
		}
	}
}

// The dense curve is exact for polynomials that the points know.
func TestRadauCurve(t *testing.T) {
	y := func(u float64) float64 { return u * (3 + u*(u*u-2*u+0.5)) }
	values := [RadauPoints + 1]float64{}
	for i := range RadauPoints {
		values[i+1] = y(Radau.Node[i])
	}
	var c RadauCurve
	c.Through(&values)
	for _, u := range []float64{0, 0.13, 0.5, 0.77, 1} {
		if math.Abs(c.At(u)-y(u)) > 1e-12 { // its coefficients are some hundreds
			t.Errorf("at %g: %.16g, want %.16g", u, c.At(u), y(u))
		}
	}
}
