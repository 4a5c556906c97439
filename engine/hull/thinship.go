package hull

import (
	"math"

	"thole/engine/num"
)

// The waves of a slender boat by thin-ship theory (Michell 1898), of a hull form that
// stands for every racing boat: half-breadth
//
//	y = ½B (1 − (2x/L)²)^p √(1 − (z/T)²), p = 1.4,
//
// parabola-like waterlines on elliptic sections, as Tuck & Lazauskas 1996 use them.
// Each wave number κ that keeps up with the boat carries away its share:
//
//	R = (2ρU²/π) ∫ α P²/(N β) dα,  α² = (g/U²) κ tanh κh,  β = √(κ² − α²),
//
// P the hull's slope against the wave, N = ∫ Z² dz of its profile over the depth,
// Z = cosh κ(h−z)/cosh κh. In deep water that is Michell's integral, in water of depth
// h Sretensky's. Speed is taken as steady: within a stroke the waves are those of the
// speed at the moment, though water takes longer to follow.

// gravity is standard gravity, m/s².
const gravity = 9.80665

// fullness is p; breadthToDraught is B/T, from memory (low): racing boats have 2 to 3,
// which moves the waves' share of friction by 0.002.
const (
	fullness         = 1.4
	breadthToDraught = 2.5
)

// form is the hull form of one boat at one weight.
type form struct {
	length, breadth, draught float64 // L, B, T, m
}

// formOf scales the form to a waterline [m] and a displaced volume [m³]:
// ∇ = B (πT/4) (L/2) ∫(1 − s²)^p ds. Equation 10.4.
func formOf(length, volume float64) form {
	t := math.Sqrt(volume / (breadthToDraught * math.Pi / 4 * length / 2 * hump(0)))
	return form{length, breadthToDraught * t, t}
}

// waves is R/ρ [m⁴/s²] at speed u [m/s] in water of this depth [m], +Inf = deep.
// Equation 10.5.
func (f *form) waves(u, depth float64) float64 {
	nu := gravity / (u * u)
	first := slowest(nu, depth)
	// κ = first + t²: takes out the root at the first wave. The last one is where the
	// profile over the draught is spent.
	last := math.Sqrt(spent / f.draught)
	// one period of P² to a panel
	panels := 6 + int(math.Sqrt(nu)*f.length/(2*math.Pi)*last)
	x, w := num.GaussLegendre(8)
	sum, width := 0.0, last/float64(panels)
	for i := range panels {
		for j := range x {
			sum += float64(w[j] * f.share(nu, depth, first, width*(float64(i)+(1+x[j])/2)))
		}
	}
	return 2 * u * u / math.Pi * (float64(sum*width)/2 + f.rest(nu, math.Sqrt(first+float64(last*last))))
}

// spent is κT where the integral by panels ends.
const spent = 24

// rest is what the waves shorter than κ = last² carry, ∫ 2α P² dα: they feel only the ends of
// the waterlines and the waterline itself, so cos² counts ½ in hump and 1/κT stands for keel.
// About 2e-5 of the whole, itself good to a tenth.
func (f *form) rest(nu, last float64) float64 {
	alpha := math.Sqrt(nu) * last
	ends := f.breadth * f.length / 4 * humpFar
	return ends * ends * nu * nu * num.Pow(alpha*f.length/2, -2*fullness-2) / (2*fullness + 2)
}

// share is the integrand over t: α P²/(N β) dα/dt at κ = first + t².
func (f *form) share(nu, depth, first, t float64) float64 {
	k := first + float64(t*t)
	tanh, sech2 := 1.0, 0.0 // of κh
	if kh := k * depth; kh < 20 {
		tanh = num.Tanh(kh)
		sech2 = 1 - float64(tanh*tanh)
	}
	alpha := math.Sqrt(nu * k * tanh)
	profile, turn := tanh/(2*k), tanh // N; dα²/dκ over ν
	if sech2 > 0 {
		profile += float64(depth / 2 * sech2)
		turn += float64(k * depth * sech2)
	}
	beta := math.Sqrt(k * (k - float64(nu*tanh)))
	p := alpha * f.breadth / 2 * f.length / 2 * hump(alpha*f.length/2) * f.draught * keel(k*f.draught,
		k*depth)
	// α dα = ν turn/2 dκ, dκ = 2t dt
	return p * p * nu * turn * t / (profile * beta)
}

// slowest is the smallest wave number that keeps up with the boat, the root of
// κ = ν tanh κh; 0 above the critical speed √(gh), where the longest waves fall behind.
func slowest(nu, depth float64) float64 {
	switch {
	case math.IsInf(depth, 1):
		return nu
	case nu*depth <= 1:
		return 0
	}
	// Newton from above on the convex side: monotone, and at most a few steps but near
	// the critical speed
	k := nu
	for range 60 {
		tanh := num.Tanh(k * depth)
		step := (k - float64(nu*tanh)) / (1 - float64(nu*depth*(1-float64(tanh*tanh))))
		k -= step
		if math.Abs(step) <= 1e-15*k {
			break
		}
	}
	return k
}

// hump is ∫(1 − s²)^p cos(ks) ds over −1 to 1 = √π Γ(p+1) (2/k)^(p+½) J_{p+½}(k): its power
// series for small k, Hankel's expansion of the Bessel function beyond. To 1e-9 of hump(0).
func hump(k float64) float64 {
	const order = fullness + 0.5
	if k < 12 {
		// Σ (−k²/4)^m Γ(p+1)√π/(m! Γ(p+m+3/2))
		term, sum := humpStart, 0.0
		q := k * k / 4
		for m := 0.0; m < 60; m++ {
			sum += term
			term *= -q / ((m + 1) * (fullness + m + 1.5))
			if math.Abs(term) < 1e-17 {
				break
			}
		}
		return sum
	}
	even, odd, term := 0.0, 0.0, 1.0
	for m := 0; m < 12 && math.Abs(term) > 1e-11; m++ {
		switch m % 4 {
		case 0:
			even += term
		case 1:
			odd += term
		case 2:
			even -= term
		case 3:
			odd -= term
		}
		half := float64(2*m + 1)
		next := term * (4*order*order - float64(half*half)) / (float64(m+1) * 8 * k)
		if math.Abs(next) > math.Abs(term) {
			break // the expansion begins to run away
		}
		term = next
	}
	sin, cos := num.Sincos(k - (order/2+0.25)*math.Pi)
	return humpFar * num.Exp(-(order+0.5)*num.Log(k)) * (float64(even*cos) - float64(odd*sin))
}

// What stands before both: √π Γ(p+1)/Γ(p+3/2), and √π Γ(p+1) 2^(p+½) √(2/π).
var (
	humpStart = 1.204849490659236
	humpFar   = 6.5562091063720445
)

// keel is ∫√(1 − s²) Z ds over the draught, s = z/T from 0 to 1, for a = κT and b = κh:
// the wave's profile e^(−as), in shallow water with its echo from the bottom.
func keel(a, b float64) float64 {
	if a > 16 {
		q := 1 / (a * a)
		return (1 - float64(q*(1+float64(q*(3+float64(q*(45+float64(1575*q)))))))) / a
	}
	bottom := 0.0
	if b < 20 {
		bottom = num.Exp(-2 * b)
	}
	sum := 0.0
	for i := range keelNode {
		e := num.Exp(-a * keelNode[i])
		if bottom > 0 {
			e = (e + bottom/e) / (1 + bottom)
		}
		sum += float64(keelWeight[i] * e)
	}
	return sum
}

// s = sin u takes out the root at the keel.
var keelNode, keelWeight = func() (node, weight [12]float64) {
	x, w := num.GaussLegendre(len(node))
	for i := range x {
		u := math.Pi / 4 * (1 + x[i])
		node[i], weight[i] = num.Sin(u), math.Pi/4*w[i]*num.Cos(u)*num.Cos(u)
	}
	return node, weight
}()
