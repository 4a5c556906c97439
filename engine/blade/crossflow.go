package blade

import "math"

// crossflow is the lumped model of the older literature: f_n = ½ρ c w_i k_D
// s_n |s_n|, f_t = 0. The run along the shaft carries no force. Equation 3.3.
func (e *Elements) crossflow(v, omega, sin, cos float64) Load {
	drift := float64(v * cos)
	var normal, moment float64
	for i := range e.N {
		slip := float64(e.R[i]*omega) - drift
		f := float64(e.Half[i] * slip * math.Abs(slip))
		normal += f
		moment += float64(e.R[i] * f)
	}
	return e.sum(e.KD*normal, 0, e.KD*moment, v, omega, sin, cos)
}
