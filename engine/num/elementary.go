package num

import "math"

// Exp, Log, sines and their kin, with the same bits on every machine. Go's own are
// assembly on some processors and fused to one rounding on others, so that a stroke
// rowed on a laptop would not be, to the last bit, the one that a phone shows. What
// package math computes exactly (Sqrt, Abs, Floor, Frexp, Ldexp) is the same
// everywhere and taken from there.
//
// The reductions and coefficients are the published ones that Go uses too: FreeBSD's
// msun for Exp and the logarithm, Moshier's Cephes library for the angles. A product
// that is added to something is rounded first, float64(a*b) + c: Go may fuse the two
// elsewhere (language specification, floating-point operators).

// Exp is e to the power of x, to 1 unit in the last place.
func Exp(x float64) float64 {
	const (
		high  = 6.93147180369123816490e-01 // ln 2 in two parts
		low   = 1.90821492927058770002e-10
		log2e = 1.44269504088896338700e+00
		p1    = 1.66666666666666657415e-01
		p2    = -2.77777777770155933842e-03
		p3    = 6.61375632143793436117e-05
		p4    = -1.65339022054652515390e-06
		p5    = 4.13813679705723846039e-08
	)
	switch {
	case math.IsNaN(x):
		return x
	case x > 7.09782712893383973096e+02:
		return math.Inf(1)
	case x < -7.45133219101941108420e+02:
		return 0
	case math.Abs(x) < 1.0/(1<<28):
		return 1 + x
	}
	// x = k ln 2 + r, |r| < ln 2 / 2
	k := int(float64(log2e*x) + math.Copysign(0.5, x))
	hi, lo := x-float64(float64(k)*high), float64(float64(k)*low)
	r := hi - lo
	t := r * r
	c := r - float64(t*(p1+float64(t*(p2+float64(t*(p3+float64(t*(p4+float64(t*p5)))))))))
	return math.Ldexp(1-((lo-float64(r*c)/(2-c))-hi), k)
}

// Ln is the natural logarithm, to 1 unit in the last place; Log is the quick one.
// −Inf of 0, NaN below.
func Ln(x float64) float64 {
	const (
		high = 6.93147180369123816490e-01
		low  = 1.90821492927058770002e-10
		l1   = 6.666666666666735130e-01
		l2   = 3.999999999940941908e-01
		l3   = 2.857142874366239149e-01
		l4   = 2.222219843214978396e-01
		l5   = 1.818357216161805012e-01
		l6   = 1.531383769920937332e-01
		l7   = 1.479819860511658591e-01
	)
	switch {
	case !(x >= 0):
		return math.NaN()
	case x == 0 || math.IsInf(x, 1):
		return math.Copysign(math.Inf(1), x-1)
	}
	f, exponent := math.Frexp(x)
	if f < math.Sqrt2/2 {
		f *= 2
		exponent--
	}
	f--
	k := float64(exponent)
	s := f / (2 + f)
	s2 := s * s
	s4 := s2 * s2
	odd := float64(s2 * (l1 + float64(s4*(l3+float64(s4*(l5+float64(s4*l7)))))))
	even := float64(s4 * (l2 + float64(s4*(l4+float64(s4*l6)))))
	half := float64(0.5 * f * f)
	return float64(k*high) - ((half - (float64(s*(half+(odd+even))) + float64(k*low))) - f)
}

// Log10 is the logarithm to base 10 of a normal positive number.
func Log10(x float64) float64 { return float64(Log2(x) * (math.Ln2 / math.Ln10)) }

// Log2 is the logarithm to base 2 of a normal positive number, exact for powers of 2.
func Log2(x float64) float64 {
	f, exponent := math.Frexp(x)
	if f == 0.5 {
		return float64(exponent - 1)
	}
	return float64(exponent) + float64(Log(f)*(1/math.Ln2))
}

// Pow is x to the power of y for a normal positive x, to about |y log x| units in the
// last place.
func Pow(x, y float64) float64 { return Exp(y * Log(x)) }

// Cbrt is the cube root of a normal positive number, or 0.
func Cbrt(x float64) float64 {
	if x == 0 {
		return 0
	}
	y := Exp(Log(x) / 3)
	return y - (float64(float64(y*y)*y)-x)/(3*float64(y*y)) // Newton, once
}

// Expm1 is Exp(x) − 1 without the loss near 0.
func Expm1(x float64) float64 {
	u := Exp(x)
	if u == 1 {
		return x
	}
	if u < 1e-3 || u > 1e3 {
		return u - 1
	}
	return (u - 1) * x / Ln(u) // the error of u is the same above and below
}

// Tanh is the hyperbolic tangent.
func Tanh(x float64) float64 {
	e := Expm1(-2 * math.Abs(x))
	return math.Copysign(-e/(2+e), x)
}

// Hypot is √(x² + y²), for numbers whose squares are in range.
func Hypot(x, y float64) float64 { return math.Sqrt(float64(x*x) + float64(y*y)) }
