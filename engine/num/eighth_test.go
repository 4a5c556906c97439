package num

import (
	"math"
	"testing"
)

// swing is a test problem with a known answer: v' = −2x v w, w' = 2x v² with
// v² + w² = 1 (v = sech x², w = tanh x²), nonlinear and driven by x.
type swing struct{ x, h float64 }

func (p *swing) Slope(stage int, v, w float64) (float64, float64) {
	x := p.x + EighthNodes[stage]*p.h
	return -2 * x * v * w, 2 * x * v * v
}

func exactSwing(x float64) (v, w float64) { return 1 / math.Cosh(x*x), math.Tanh(x * x) }

// run takes n steps over [0, 1.5] and gives the error at the end, the largest
// error of the dense output and the largest error estimate.
func runSwing(n int) (end, dense, estimate float64) {
	p := &swing{h: 1.5 / float64(n)}
	s := PlaneStep{H: p.h, V0: 1}
	for i := range n {
		p.x = float64(i) * p.h
		s.Advance(p)
		estimate = max(estimate, s.Error(1, 1))
		s.Extend(p)
		cv, cw := s.Curves()
		for u := 0.1; u < 1; u += 0.1 {
			v, w := cv.At(u), cw.At(u)
			xv, xw := exactSwing(p.x + u*p.h)
			dense = max(dense, math.Abs(v-xv), math.Abs(w-xw))
		}
		s.V0, s.W0 = s.V1, s.W1
	}
	v, w := exactSwing(1.5)
	return max(math.Abs(s.V0-v), math.Abs(s.W0-w)), dense, estimate
}

// The measured orders: eight at the grid's points; seven between them, where the
// local error falls like h⁸ and drowns the global one; eight for the estimate of
// a single step, h⁶·h⁶/h⁴ by Hairer, Nørsett & Wanner's combination.
func TestEighthOrder(t *testing.T) {
	end1, dense1, _ := runSwing(10)
	end2, dense2, _ := runSwing(20)
	// the estimate reaches its order where the third-order error dwarfs the fifth
	_, _, est1 := runSwing(60)
	_, _, est2 := runSwing(120)
	for _, c := range []struct {
		name        string
		order, want float64
	}{
		{"grid points", math.Log2(end1 / end2), 8},
		{"dense output", math.Log2(dense1 / dense2), 8},
		{"estimate", math.Log2(est1 / est2), 8},
	} {
		t.Logf("%s: order %.2f", c.name, c.order)
		// a power of two between steps leaves the next term of the error: 0.7 of an order
		if c.order < c.want-0.7 {
			t.Errorf("%s: order %.2f, want %g", c.name, c.order, c.want)
		}
	}
	if end2 > 1e-10 {
		t.Errorf("error %g with 20 steps", end2)
	}
}

// The order conditions a misprinted digit breaks: row sums, and the quadrature
// conditions Σ b c^k = 1/(k+1) to order eight (Hairer, Nørsett & Wanner 1993, II.1).
func TestEighthConditions(t *testing.T) {
	// f = 1 gives the row sums through the nodes: v' = 1 keeps v − x at 0 in every stage
	p := &clock{h: 0.3}
	s := PlaneStep{H: 0.3}
	s.Advance(p)
	s.Extend(p)
	// rounding: weights up to 43 cancel to a sum below 1
	if p.worst > 1e-14 {
		t.Errorf("row sums miss the nodes by %g", p.worst)
	}
	for k := range 8 {
		sum := 0.0
		for i, b := range EighthWeights {
			sum += b * math.Pow(EighthNodes[i], float64(k))
		}
		if math.Abs(sum*float64(k+1)-1) > 1e-14 {
			t.Errorf("Σ b c^%d = %.17g, want 1/%d", k, sum, k+1)
		}
	}
}

// clock is v' = 1, and looks at how far v lies from x in each stage.
type clock struct{ h, worst float64 }

func (p *clock) Slope(stage int, v, _ float64) (float64, float64) {
	p.worst = max(p.worst, math.Abs(v-EighthNodes[stage]*p.h))
	return 1, 0
}

// The running integral of eˣ: its local error falls like h⁸ inside the step, and
// the step's own sum stands at its end.
func TestEighthDenseIntegral(t *testing.T) {
	worst := func(h float64) (inside, end float64) {
		var k [16]float64
		for i, c := range EighthNodes {
			k[i] = math.Exp(c * h)
		}
		sum := 0.0
		for i, b := range EighthWeights {
			sum += h * b * k[i]
		}
		curve := EighthCurve(0, sum, h, &k)
		for _, u := range []float64{0.1, 0.25, 0.4, 0.6, 0.85} {
			inside = max(inside, math.Abs(curve.At(u)-math.Expm1(u*h)))
		}
		return inside, math.Abs(curve.At(1) - math.Expm1(h))
	}
	wide, end := worst(1)
	narrow, _ := worst(0.5)
	if order := math.Log2(wide / narrow); order < 7.3 {
		t.Errorf("order %.2f inside the step, want 8", order)
	}
	// the first term left out is h⁹/9! times a small number
	if end > 1e-8 {
		t.Errorf("error %g at the end of a step of 1", end)
	}
}
