package num

import "math"

// logTable holds, for each 128th of an octave, the reciprocal of its middle and
// that middle's logarithm.
var logTable = func() (t [128]struct{ inverse, log float64 }) {
	for i := range t {
		middle := 1 + (float64(i)+0.5)/128
		t[i].inverse = 1 / middle
		t[i].log = -Ln(t[i].inverse)
	}
	return t
}()

// Log is the natural logarithm of a normal positive number, to 2e-16 of 1 or of the result,
// in a third of math.Log's time: friction along the hull asks for it at every
// right-hand side. Outside (0, subnormal, negative, NaN, Inf) it means nothing.
func Log(x float64) float64 {
	bits := math.Float64bits(x)
	t := &logTable[bits>>45&127]
	// x = 2^e m, m in [1, 2); r = m/middle − 1, |r| < 1/256
	m := math.Float64frombits(bits&(1<<52-1) | 1023<<52)
	r := float64(m*t.inverse) - 1
	r2 := r * r
	// log(1 + r): the first term left out is r⁷/7, 2e-18
	p := r - float64(r2*(0.5-float64(r*(1./3)))) - float64(r2*r2*(0.25-float64(r*0.2)+float64(r2*(1./6))))
	return float64(float64(int(bits>>52)-1023)*math.Ln2) + (t.log + p)
}
