package num

// Rise is the smooth step S(u) = u³(10 − 15u + 6u²), 0 before u = 0 and 1 after
// u = 1: slope and curvature vanish at both ends.
func Rise(u float64) float64 {
	if u <= 0 {
		return 0
	}
	if u >= 1 {
		return 1
	}
	return float64(u * u * u * (10 + float64(u*(float64(6*u)-15))))
}

// RiseSlope is S'(u) = 30 u²(1 − u)².
func RiseSlope(u float64) float64 {
	if u <= 0 || u >= 1 {
		return 0
	}
	v := u * (1 - float64(u)) // u may be a product: rounded before it is taken off
	return float64(30 * v * v)
}

// RiseCurve is S”(u) = 60 u(1 − u)(1 − 2u).
func RiseCurve(u float64) float64 {
	if u <= 0 || u >= 1 {
		return 0
	}
	return float64(60 * u * (1 - u) * (1 - float64(2*u)))
}
