package num

import (
	"math"
	"sync"
)

// MaxGauss is the largest number of points GaussLegendre gives.
const MaxGauss = 64

var gauss [MaxGauss + 1]struct {
	once sync.Once
	x, w []float64
}

// GaussLegendre gives the n points (rising) and weights on [−1, 1] that integrate
// polynomials of degree 2n − 1 exactly; Σw = 2. Roots of the Legendre polynomial
// by Newton from Tricomi's estimate. The slices are shared: read only. n outside
// 1 to MaxGauss is a programmer's mistake.
func GaussLegendre(n int) (x, w []float64) {
	g := &gauss[n]
	g.once.Do(func() {
		g.x, g.w = make([]float64, n), make([]float64, n)
		for i := range (n + 1) / 2 {
			z := Cos(math.Pi * (float64(i) + 0.75) / (float64(n) + 0.5))
			if 2*i+1 == n {
				z = 0
			}
			var slope float64
			for range 100 {
				var p float64
				p, slope = legendre(n, z)
				step := p / slope
				z -= step
				if math.Abs(step) < 1e-16 {
					break
				}
			}
			_, slope = legendre(n, z)
			weight := 2 / ((1 - float64(z*z)) * slope * slope)
			g.x[i], g.x[n-1-i] = -z, z
			g.w[i], g.w[n-1-i] = weight, weight
		}
	})
	return g.x, g.w
}

// legendre gives the Legendre polynomial of degree n and its slope at z.
func legendre(n int, z float64) (p, slope float64) {
	p, before := 1.0, 0.0
	for k := range n {
		fk := float64(k)
		p, before = (float64((float64(2*fk)+1)*z*p)-float64(fk*before))/(fk+1), p
	}
	return p, float64(n) * (float64(z*p) - before) / (float64(z*z) - 1)
}
