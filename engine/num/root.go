package num

import (
	"errors"
	"math"
)

// ErrBracket says that a function has the same sign at both ends of an interval.
var ErrBracket = errors.New("the ends of the interval do not enclose a root")

const epsilon = 2.220446049250313e-16

// Root finds x in [a, b] with f(x) = 0 to within tol, from a bracket: f(a) and
// f(b) differ in sign or one of them is 0. Brent's method (Brent 1973, ch. 4):
// inverse quadratic steps, guarded by bisection, so it never leaves the bracket.
func Root(f func(float64) float64, a, b, tol float64) (float64, error) {
	return RootBetween(f, a, b, f(a), f(b), tol)
}

// RootBetween is Root where f(a) = fa and f(b) = fb are known already.
func RootBetween(f func(float64) float64, a, b, fa, fb, tol float64) (float64, error) {
	if fa == 0 {
		return a, nil
	}
	if fb == 0 {
		return b, nil
	}
	if math.IsNaN(fa) || math.IsNaN(fb) || (fa > 0) == (fb > 0) {
		return math.NaN(), ErrBracket
	}
	// b is the best point so far, c the other side of the bracket, a the point before b
	c, fc := a, fa
	step, before := b-a, b-a
	for range 200 {
		if math.Abs(fc) < math.Abs(fb) {
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		near := float64(2*epsilon*math.Abs(b)) + tol/2
		half := (c - b) / 2
		if math.Abs(half) <= near || fb == 0 {
			return b, nil
		}
		if p, q := brentQuotient(a, b, c, fa, fb, fc); math.Abs(before) >= near &&
			math.Abs(fa) > math.Abs(fb) &&
			2*p < math.Min(float64(3*half*q)-math.Abs(near*q), math.Abs(before*q)) {
			before, step = step, p/q
		} else {
			step, before = half, half
		}
		a, fa = b, fb
		if math.Abs(step) > near {
			b += step
		} else {
			b += math.Copysign(near, half)
		}
		fb = f(b)
		if (fb > 0) == (fc > 0) {
			c, fc = a, fa
			step, before = b-a, b-a
		}
	}
	return b, nil
}

// brentQuotient gives the secant step (two points) or the inverse quadratic step
// (three points) from b as p/q with p ≥ 0.
func brentQuotient(a, b, c, fa, fb, fc float64) (p, q float64) {
	s, half := fb/fa, (c-b)/2
	if a == c {
		p, q = 2*half*s, 1-s
	} else {
		t, r := fa/fc, fb/fc
		p = s * (float64(2*half*t*(t-r)) - float64((b-a)*(r-1)))
		q = (t - 1) * (r - 1) * (s - 1)
	}
	if p > 0 {
		return p, -q
	}
	return -p, q
}
