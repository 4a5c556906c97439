package num

import "math"

// Minimum finds a local minimum of f in [a, b] to within tol in x, by Brent's
// method (Brent 1973, ch. 5): parabolic steps guarded by the golden section. For
// a function with one valley it is the minimum; ends are approached, not asked.
func Minimum(f func(float64) float64, a, b, tol float64) (x, fx float64) {
	const golden = 0.3819660112501051 // (3 − √5)/2
	x = a + float64(golden*(b-a))
	w, v := x, x
	fx = f(x)
	fw, fv := fx, fx
	var step, before float64
	for range 200 {
		mid := (a + b) / 2
		near := float64(math.Sqrt(epsilon)*1e-2*math.Abs(x)) + tol/3
		if math.Abs(x-mid) <= float64(2*near)-(b-a)/2 {
			break
		}
		// the parabola through the last three points, where it can be trusted
		parabolic := false
		if math.Abs(before) > near {
			r := float64((x - w) * (fx - fv))
			q := float64((x - v) * (fx - fw))
			p := float64((x-v)*q) - float64((x-w)*r)
			q = float64(2 * (q - r))
			if q > 0 {
				p = -p
			} else {
				q = -q
			}
			if math.Abs(p) < math.Abs(q*before/2) && p > q*(a-x) && p < q*(b-x) {
				before, step = step, p/q
				if u := x + step; u-a < 2*near || b-u < 2*near {
					step = math.Copysign(near, mid-x)
				}
				parabolic = true
			}
		}
		if !parabolic {
			if x < mid {
				before = b - x
			} else {
				before = a - x
			}
			step = float64(golden * before)
		}
		u := x + step
		if math.Abs(step) < near {
			u = x + math.Copysign(near, step)
		}
		fu := f(u)
		if fu <= fx {
			if u < x {
				b = x
			} else {
				a = x
			}
			v, fv, w, fw, x, fx = w, fw, x, fx, u, fu
			continue
		}
		if u < x {
			a = u
		} else {
			b = u
		}
		if fu <= fw || w == x {
			v, fv, w, fw = w, fw, u, fu
		} else if fu <= fv || v == x || v == w {
			v, fv = u, fu
		}
	}
	return x, fx
}
