package study

import "thole/engine/num"

// Crossing finds x between a and b where f crosses nought, to within tol, from f(a) = fa
// and f(b) = fb of opposite signs: what Find does once it has a bracket, for a caller that
// has one. num.ErrBracket where the signs agree.
func Crossing(f func(float64) float64, a, b, fa, fb, tol float64) (float64, error) {
	return num.RootBetween(f, a, b, fa, fb, tol)
}
