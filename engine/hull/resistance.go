package hull

import (
	"math"

	"thole/engine/fluid"
	"thole/engine/num"
)

// Resistance is a hull in its water, air and wind: everything the equations of
// motion ask of it, without allocation.
type Resistance struct {
	water    float64 // ½ρ S_w (1+k_form)(1+k_wave) k_class, kg/m
	reynolds float64 // L_wl/ν, s/m
	air      float64 // ½ρ_air C_dA, kg/m
	wind     float64 // m/s, positive a headwind
}

// Resistance prepares the drag of a hull of total mass [kg], rowed in this water
// and air, against wind [m/s], positive a headwind.
func (h *Hull) Resistance(mass float64, water fluid.Water, air fluid.Air, wind float64) Resistance {
	return Resistance{
		water:    0.5 * water.Density * h.Wetted(mass, water) * (1 + h.FormFactor) * (1 + h.WaveFactor) * h.DragFactor,
		reynolds: h.Waterline / water.Viscosity,
		air:      0.5 * air.Density * h.AirArea,
		wind:     wind,
	}
}

// Friction is the ITTC-1957 line C_F [-] = 0.075/(log10 Re − 2)², Re below 1e4
// counting as 1e4.
func Friction(re float64) float64 {
	if re < 1e4 {
		re = 1e4
	}
	d := num.Log(re)*(1/math.Ln10) - 2
	return 0.075 / (d * d)
}

// Water is D_w [N] at hull speed v [m/s] through the water, against v:
// ½ρ S_w C_F(Re)(1+k_form)(1+k_wave) k_class V|V| (Scragg & Nelson 1993's form and
// wave shares; k_class a calibration, see facts).
func (r *Resistance) Water(v float64) float64 {
	a := math.Abs(v)
	return r.water * Friction(a*r.reynolds) * v * a
}

// Air is D_a [N] at hull speed v [m/s]: ½ρ_air C_dA (V+wind)|V+wind|.
func (r *Resistance) Air(v float64) float64 {
	u := v + r.wind
	return r.air * u * math.Abs(u)
}

// Total is D = D_w + D_a, N.
func (r *Resistance) Total(v float64) float64 { return r.Water(v) + r.Air(v) }
