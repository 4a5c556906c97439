package num

import (
	"math"
	"testing"
)

// Gauss points integrate what is a polynomial of twice their number less one, up to a point those of their
// number less one: the method's defining identities, to rounding.
func TestGaussIntegrates(t *testing.T) {
	for power := range 2 * GaussPoints {
		sum := 0.0
		for i := range GaussPoints {
			sum += Gauss.Weight[i] * math.Pow(Gauss.Node[i], float64(power))
		}
		if want := 1 / float64(power+1); math.Abs(sum-want) > 1e-15 {
			t.Errorf("∫ x^%d = %.17g, want %.17g", power, sum, want)
		}
	}
	for i := range GaussPoints {
		for power := range GaussPoints {
			sum := 0.0
			for j := range GaussPoints {
				sum += Gauss.Within[i][j] * math.Pow(Gauss.Node[j], float64(power))
			}
			want := math.Pow(Gauss.Node[i], float64(power+1)) / float64(power+1)
			if math.Abs(sum-want) > 1e-15 {
				t.Errorf("∫ x^%d up to point %d = %.17g, want %.17g", power, i, sum, want)
			}
		}
	}
}

// The end's rise and the dense curve are exact for polynomials that the points know.
func TestGaussCurve(t *testing.T) {
	y := func(u float64) float64 { return u * (3 + u*(u*u-2*u+0.5)) }
	end := 0.0
	values := [GaussPoints + 2]float64{GaussPoints + 1: y(1)}
	for i := range GaussPoints {
		values[i+1] = y(Gauss.Node[i])
		end += Gauss.End[i] * values[i+1]
	}
	if math.Abs(end-y(1)) > 1e-13 {
		t.Errorf("end %.16g, want %.16g", end, y(1))
	}
	var c GaussCurve
	c.Through(&values)
	for _, u := range []float64{0, 0.13, 0.5, 0.77, 1} {
		if math.Abs(c.At(u)-y(u)) > 1e-12 { // its coefficients are some hundreds
			t.Errorf("at %g: %.16g, want %.16g", u, c.At(u), y(u))
		}
	}
}
