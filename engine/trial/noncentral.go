package trial

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// noncentralT is the chance that a non-central t with the given degrees of
// freedom and shift lies below x: the power of a t test, which gonum has not.
//
// Series of incomplete beta functions, Lenth 1989, Applied Statistics 38:185–189
// (algorithm AS 243), summed from its largest term outward, so that a large
// shift does not underflow. Absolute error below 1e-10 for |shift| ≤ 37.
func noncentralT(x, degrees, shift float64) float64 {
	if x < 0 {
		return 1 - noncentralT(-x, degrees, -shift)
	}
	lower := normal(-shift)
	if x == 0 {
		return lower
	}
	square := x * x / (x*x + degrees)
	half := shift * shift / 2
	// p and q are Poisson weights at the whole and the half numbers
	term := func(j float64) float64 {
		if half == 0 {
			if j == 0 {
				return mathext.RegIncBeta(0.5, degrees/2, square)
			}
			return 0
		}
		p := math.Exp(-half + j*math.Log(half) - lgamma(j+1))
		q := shift / math.Sqrt2 * math.Exp(-half+j*math.Log(half)-lgamma(j+1.5))
		return p*mathext.RegIncBeta(j+0.5, degrees/2, square) + q*mathext.RegIncBeta(j+1, degrees/2, square)
	}
	// upward both factors of a term fall, so a small one ends it; downward the
	// beta functions rise while the weights fall: all are needed
	largest := math.Floor(half)
	sum := 0.0
	for j := largest; j >= 0; j-- {
		sum += term(j)
	}
	for j := largest + 1; j < largest+10000; j++ {
		t := term(j)
		sum += t
		if math.Abs(t) < 1e-14 {
			break
		}
	}
	return math.Min(math.Max(lower+sum/2, 0), 1)
}

// power is the chance that a two-sided 95 % test tells a true difference from
// nothing, and gets its sign right: difference in standard errors of it.
func power(difference, degrees float64) float64 {
	if degrees < 1 {
		return 0
	}
	return 1 - noncentralT(studentT(0.975, degrees), degrees, math.Abs(difference))
}

// studentT is the quantile of Student's t.
func studentT(p, degrees float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: degrees}.Quantile(p)
}

// studentBelow is the chance that Student's t lies below x.
func studentBelow(x, degrees float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: degrees}.CDF(x)
}

func normal(x float64) float64 { return distuv.UnitNormal.CDF(x) }

func lgamma(x float64) float64 {
	v, _ := math.Lgamma(x)
	return v
}
