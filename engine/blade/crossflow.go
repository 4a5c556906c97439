package blade

import "math"

// crossflow is the lumped model of the older literature: f_n = ½ρ c w_i k_D
// s_n |s_n|, f_t = 0. The run along the shaft carries no force.
func (e *Elements) crossflow(v, omega, cos float64) Load {
	var l Load
	for i := range e.N {
		slip := e.R[i]*omega - v*cos
		normal := e.Half[i] * e.KD * slip * math.Abs(slip)
		l.Normal += normal
		l.Moment += e.R[i] * normal
		l.Loss += normal * slip
	}
	return l
}
