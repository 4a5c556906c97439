package trial

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// Student's t, two-sided 5 %: Fisher & Yates 1963, Statistical Tables, table III,
// three decimals.
func TestStudentTable(t *testing.T) {
	for degrees, want := range map[float64]float64{1: 12.706, 2: 4.303, 3: 3.182, 4: 2.776, 5: 2.571, 6: 2.447, 8: 2.306, 10: 2.228, 20: 2.086, 30: 2.042, 60: 2.000, 120: 1.980} {
		if got := studentT(0.975, degrees); math.Abs(got-want) > 0.0006 { // half of the last decimal printed
			t.Errorf("t(0.975, %v) = %.4f, table %.3f", degrees, got, want)
		}
	}
}

// The upper 5 % of F: Fisher & Yates 1963, table V, two decimals.
func TestFisherTable(t *testing.T) {
	for _, c := range []struct{ a, b, want float64 }{{1, 4, 7.71}, {2, 6, 5.14}, {3, 10, 3.71}, {4, 20, 2.87}, {2, 30, 3.32}} {
		if got := (distuv.F{D1: c.a, D2: c.b}).Quantile(0.95); math.Abs(got-c.want) > 0.006 {
			t.Errorf("F(0.95; %v, %v) = %.3f, table %.2f", c.a, c.b, got, c.want)
		}
	}
	// one degree above: what overall() and the t of two settings must agree on
	if got, want := (distuv.F{D1: 1, D2: 7}).Quantile(0.95), studentT(0.975, 7); math.Abs(got-want*want) > 1e-8 {
		t.Errorf("F(1, 7) is not t(7) squared: %v, %v", got, want*want)
	}
}

// Power of the two-sample t test, two-sided 5 %, n a group, effect d in standard
// deviations: Cohen 1988, Statistical Power Analysis, table 2.3.5 (two decimals;
// M high).
func TestPowerTable(t *testing.T) {
	for _, c := range []struct{ n, d, want float64 }{
		{20, 0.5, 0.33}, {30, 0.5, 0.47}, {50, 0.5, 0.70}, {64, 0.5, 0.80},
		{10, 1.0, 0.56}, {20, 1.0, 0.87}, {26, 0.8, 0.81}, {40, 0.8, 0.94}, {100, 0.2, 0.29},
	} {
		got := power(c.d*math.Sqrt(c.n/2), 2*c.n-2)
		if math.Abs(got-c.want) > 0.0101 { // Cohen's approximate method differs by up to 0.01 from the exact one
			t.Errorf("n %v, d %v: power %.4f, table %.2f", c.n, c.d, got, c.want)
		}
	}
	// n 20 a group, one standard deviation: 0.8689528 (the worked example of a
	// widely used statistics system's manual; M high)
	if got := power(math.Sqrt(10), 38); math.Abs(got-0.8689528) > 5e-8 {
		t.Errorf("power %.8f, published 0.8689528", got)
	}
}

// A second route to the same number: given the scatter found, the estimate is
// normal; its chance is averaged over the scatter by Simpson's rule. Shares
// nothing with the series.
func TestNoncentralTwoRoutes(t *testing.T) {
	for _, degrees := range []float64{1, 2, 4, 7, 30, 142} {
		for _, shift := range []float64{-2, 0, 0.5, 1.1785, 3, 8} {
			for _, x := range []float64{-1.5, 0, 0.7, 2.776, 6, 12.7} {
				got, want := noncentralT(x, degrees, shift), byQuadrature(x, degrees, shift)
				if math.Abs(got-want) > 2e-8 { // Simpson's own error with 40 000 steps, seen with one degree
					t.Errorf("x %v, degrees %v, shift %v: series %.10f, quadrature %.10f", x, degrees, shift, got, want)
				}
			}
		}
	}
}

func byQuadrature(x, degrees, shift float64) float64 {
	// s = chi/√degrees: density 2 (n/2)^(n/2)/Γ(n/2) s^(n−1) exp(−n s²/2)
	constant := math.Log(2) + degrees/2*math.Log(degrees/2) - lgamma(degrees/2)
	f := func(s float64) float64 {
		if s == 0 {
			if degrees == 1 {
				return math.Exp(constant) * normal(-shift)
			}
			return 0
		}
		return math.Exp(constant+(degrees-1)*math.Log(s)-degrees*s*s/2) * normal(x*s-shift)
	}
	const steps = 40000
	top := 8 / math.Pow(degrees, 0.25)
	h, sum := top/steps, f(0)+f(top)
	for i := 1; i < steps; i++ {
		sum += f(float64(i)*h) * float64(2+2*(i%2))
	}
	return sum * h / 3
}

// Derived: e 0.9 %, d 0.3 %, paired with n−1 degrees: 72 pairs for ±0.3 %,
// 144 for 80 % power; e 0.5 %: 24 and 46.
func TestPairsNeeded(t *testing.T) {
	for _, c := range []struct {
		e             float64
		within, power int
	}{{0.9, 72, 144}, {0.5, 24, 46}} {
		within := 2
		for ; studentT(0.975, float64(within-1))*c.e*math.Sqrt(2/float64(within)) > 0.3; within++ {
		}
		seen := 2
		for ; power(0.3/(c.e*math.Sqrt(2/float64(seen))), float64(seen-1)) < 0.8; seen++ {
		}
		if within != c.within || seen != c.power {
			t.Errorf("e %v: %d and %d pairs, facts say %d and %d", c.e, within, seen, c.within, c.power)
		}
	}
}
