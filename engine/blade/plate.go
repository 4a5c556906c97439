package blade

import "math"

// plate is the law of a flat plate with lift and drag free of each other:
// C_L = k_L 2 sin α cos α, C_D = k_D sin² α, so that per strip
//
//	f_n = ½ρ c w_i s_n (k_D w + (2 k_L − k_D) s_t²/w),  f_t = ½ρ c w_i (k_D − 2 k_L) s_n² s_t/w.
//
// With k_L = k_D/2 the force is normal to the blade: Ortiz, Rival & Wood 2015,
// Energies 8:2438-2453 (aspect 0.4-9, Re 6e4-2e5). Real blades, curved and near
// the surface, are not validated here: grip and early stand for them. Equation 3.2.
func (e *Elements) plate(v, omega, sin, cos float64) Load {
	run, drift := -v*sin, float64(v*cos)
	run2 := float64(run * run)
	lift := e.KLTip
	if run < 0 {
		lift = e.KLNeck
	}
	extra := float64(2*lift) - e.KD
	var normal, along, moment float64
	if extra == 0 {
		// the usual blade: one root a strip and no division
		for i := range e.N {
			slip := float64(e.R[i]*omega) - drift
			f := float64(e.Half[i] * slip * math.Sqrt(float64(slip*slip)+run2))
			normal += f
			moment += float64(e.R[i] * f)
		}
		normal, moment = float64(e.KD*normal), float64(e.KD*moment)
	} else {
		for i := range e.N {
			slip := float64(e.R[i]*omega) - drift
			w := math.Sqrt(float64(slip*slip) + run2)
			if w == 0 {
				continue
			}
			share := extra * run / w
			f := float64(e.Half[i] * slip * (float64(e.KD*w) + float64(share*run)))
			normal += f
			moment += float64(e.R[i] * f)
			along -= float64(e.Half[i] * share * slip * slip)
		}
	}
	return e.sum(normal, along, moment, v, omega, sin, cos)
}

// sum completes a load: the power left in the water, Σ(f_n s_n + f_t s_t), follows
// from the sums since s_n = R ω − V cos θ and s_t = −V sin θ. The friction of the run along
// the shaft, ½ρ A C_T s_t |s_t| (Along), is the same under every law. Equation 3.8.
func (e *Elements) sum(normal, along, moment, v, omega, sin, cos float64) Load {
	if e.Along != 0 {
		run := -v * sin
		along += float64(e.Along * run * math.Abs(run))
	}
	return Load{normal, along, moment, float64(omega*moment) -
		float64(v*(float64(cos*normal)+float64(sin*along)))}
}
