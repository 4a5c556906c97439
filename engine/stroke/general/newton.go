package general

import "math"

// newton holds the arrays of a small damped Newton iteration with Broyden's
// updates; n unknowns, rows of n.
type newton struct {
	n                  int
	x, r, step, x1, r1 []float64
	jacobian, factor   []float64
}

func (w *newton) size(n int) {
	w.n = n
	if len(w.x) == n {
		return
	}
	all := make([]float64, 5*n+2*n*n)
	cut := func(k int) []float64 {
		s := all[:k:k]
		all = all[k:]
		return s
	}
	w.x, w.r, w.step, w.x1, w.r1 = cut(n), cut(n), cut(n), cut(n), cut(n)
	w.jacobian, w.factor = cut(n*n), cut(n*n)
}

// solveStep sets step = −J⁻¹ r by elimination with row exchange; false where J is
// singular.
func (w *newton) solveStep() bool {
	n, a := w.n, w.factor
	copy(a, w.jacobian)
	for i := range n {
		w.step[i] = -w.r[i]
	}
	for k := range n {
		best := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i*n+k]) > math.Abs(a[best*n+k]) {
				best = i
			}
		}
		if !(math.Abs(a[best*n+k]) > 1e-300) {
			return false
		}
		if best != k {
			for j := range n {
				a[k*n+j], a[best*n+j] = a[best*n+j], a[k*n+j]
			}
			w.step[k], w.step[best] = w.step[best], w.step[k]
		}
		for i := k + 1; i < n; i++ {
			f := a[i*n+k] / a[k*n+k]
			for j := k; j < n; j++ {
				a[i*n+j] -= float64(f * a[k*n+j])
			}
			w.step[i] -= float64(f * w.step[k])
		}
	}
	for i := n - 1; i >= 0; i-- {
		for j := i + 1; j < n; j++ {
			w.step[i] -= float64(a[i*n+j] * w.step[j])
		}
		w.step[i] /= a[i*n+i]
	}
	return true
}

// learn is Broyden's update from the move x1 − x and the change r1 − r.
func (w *newton) learn() {
	n, length := w.n, 0.0
	for j := range n {
		d := w.x1[j] - w.x[j]
		length += float64(d * d)
	}
	if length == 0 {
		return
	}
	for i := range n {
		miss := w.r1[i] - w.r[i]
		for j := range n {
			miss -= float64(w.jacobian[i*n+j] * (w.x1[j] - w.x[j]))
		}
		for j := range n {
			w.jacobian[i*n+j] += miss * (w.x1[j] - w.x[j]) / length
		}
	}
}

// largest is the largest absolute residual.
func largest(r []float64) float64 {
	m := 0.0
	for _, v := range r {
		if a := math.Abs(v); !(a <= m) {
			m = a
		}
	}
	return m
}
