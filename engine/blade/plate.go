package blade

import "math"

// plate is the law of a flat plate with lift and drag free of each other:
// C_L = k_L 2 sin α cos α, C_D = k_D sin² α, so that per strip
//
//	f_n = ½ρ c w_i s_n (2 k_L s_t² + k_D s_n²)/w,  f_t = ½ρ c w_i (k_D − 2 k_L) s_n² s_t/w.
//
// With k_L = k_D/2 the force is normal to the blade: Ortiz, Rival & Wood 2015,
// Energies 8:2438-2453 (aspect 0.4-9, Re 6e4-2e5). Real blades, curved and near
// the surface, are not validated here: grip and early stand for them.
func (e *Elements) plate(v, omega, sin, cos float64) Load {
	var l Load
	run := -v * sin
	run2 := run * run
	lift := e.KLTip
	if run < 0 {
		lift = e.KLNeck
	}
	across, along := 2*lift*run2, e.KD-2*lift
	for i := range e.N {
		slip := e.R[i]*omega - v*cos
		slip2 := slip * slip
		w := math.Sqrt(slip2 + run2)
		if w == 0 {
			continue
		}
		h := e.Half[i] / w
		normal := h * slip * (across + e.KD*slip2)
		tangential := h * along * slip2 * run
		l.Normal += normal
		l.Along += tangential
		l.Moment += e.R[i] * normal
		l.Loss += normal*slip + tangential*run
	}
	return l
}
