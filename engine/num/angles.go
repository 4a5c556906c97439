package num

import "math"

// Angles in radians; see elementary.go.

// Sincos gives the sine and the cosine of an angle of less than 2^20 turns.
func Sincos(x float64) (sin, cos float64) {
	const (
		a  = 7.85398125648498535156e-1 // π/4 in three parts
		b  = 3.77489470793079817668e-8
		c  = 2.69515142907905952645e-15
		s0 = 1.58962301576546568060e-10
		s1 = -2.50507477628578072866e-8
		s2 = 2.75573136213857245213e-6
		s3 = -1.98412698295895385996e-4
		s4 = 8.33333333332211858878e-3
		s5 = -1.66666666666666307295e-1
		c0 = -1.13585365213876817300e-11
		c1 = 2.08757008419747316778e-9
		c2 = -2.75573141792967388112e-7
		c3 = 2.48015872888517045348e-5
		c4 = -1.38888888888730564116e-3
		c5 = 4.16666666666665929218e-2
	)
	if !(math.Abs(x) < 1<<23) {
		return math.NaN(), math.NaN()
	}
	negative := x < 0
	x = math.Abs(x)
	j := uint64(x * (4 / math.Pi)) // eighths of a turn
	j += j & 1
	y := float64(j)
	z := ((x - float64(y*a)) - float64(y*b)) - float64(y*c)
	zz := float64(z * z)
	cos = 1 - float64(0.5*zz) +
		float64(float64(zz*zz)*(float64((float64((float64((float64((float64(c0*zz)+c1)*zz)+c2)*zz)+c3)*zz)+
			c4)*zz)+c5))
	sin = z +
		float64(float64(z*zz)*(float64((float64((float64((float64((float64(s0*zz)+s1)*zz)+s2)*zz)+s3)*zz)+
			s4)*zz)+s5))
	switch j & 7 {
	case 2:
		sin, cos = cos, -sin
	case 4:
		sin, cos = -sin, -cos
	case 6:
		sin, cos = -cos, sin
	}
	if negative {
		sin = -sin
	}
	return sin, cos
}

// Sin is the sine.
func Sin(x float64) float64 { s, _ := Sincos(x); return s }

// Cos is the cosine.
func Cos(x float64) float64 { _, c := Sincos(x); return c }

// Tan is the tangent, sine over cosine.
func Tan(x float64) float64 { s, c := Sincos(x); return s / c }

// Atan is the angle whose tangent is x.
func Atan(x float64) float64 {
	const rest = 6.123233995736765886130e-17 // π/2 less its nearest number
	a := math.Abs(x)
	switch {
	case a <= 0.66:
		a = arctangent(a)
	case a > 2.41421356237309504880: // tan 3π/8
		a = math.Pi/2 - arctangent(1/a) + rest
	default:
		a = math.Pi/4 + arctangent((a-1)/(a+1)) + 0.5*rest
	}
	return math.Copysign(a, x)
}

// arctangent is Atan within 0 to 0.66.
func arctangent(x float64) float64 {
	const (
		p0 = -8.750608600031904122785e-01
		p1 = -1.615753718733365076637e+01
		p2 = -7.500855792314704667340e+01
		p3 = -1.228866684490136173410e+02
		p4 = -6.485021904942025371773e+01
		q0 = +2.485846490142306297962e+01
		q1 = +1.650270098316988542046e+02
		q2 = +4.328810604912902668951e+02
		q3 = +4.853903996359136964868e+02
		q4 = +1.945506571482613964425e+02
	)
	z := float64(x * x)
	up := float64((float64((float64((float64(p0*z)+p1)*z)+p2)*z)+p3)*z) + p4
	down := float64((float64((float64((float64((z+q0)*z)+q1)*z)+q2)*z)+q3)*z) + q4
	return float64(x*(z*up/down)) + x
}

// Atan2 is the angle of the point (x, y) from the x axis, −π to π.
func Atan2(y, x float64) float64 {
	switch {
	case x > 0:
		return Atan(y / x)
	case x < 0:
		return Atan(y/x) + math.Copysign(math.Pi, y)
	case y == 0:
		return 0
	}
	return math.Copysign(math.Pi/2, y)
}

// Asin is the angle whose sine is x; NaN beyond ±1.
func Asin(x float64) float64 {
	if a := math.Abs(x); a == 1 {
		return math.Copysign(math.Pi/2, x)
	}
	return Atan(x / math.Sqrt(1-float64(x*x)))
}

// Asinh is the number whose hyperbolic sine is x.
func Asinh(x float64) float64 {
	a := math.Abs(x)
	square := float64(a * a)
	u := a + square/(1+math.Sqrt(1+square)) // Log1p(u)
	whole := 1 + u
	y := Ln(whole)
	if whole == 1 {
		y = u
	} else {
		y += (u - (whole - 1)) / whole // what 1 + u lost
	}
	return math.Copysign(y, x)
}

// Sinh is the hyperbolic sine.
func Sinh(x float64) float64 {
	e := Expm1(math.Abs(x))
	return math.Copysign((e+e/(e+1))/2, x)
}
