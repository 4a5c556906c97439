package hull

import (
	"math"

	"thole/engine/fluid"
	"thole/engine/num"
)

// Resistance is a hull in its water, air and wind: everything the equations of
// motion ask of it, without allocation.
type Resistance struct {
	water    float64    // ½ρ S_w (1+k_form)(1+k_wave) k_class, kg/m; k_wave 0 where waves are computed
	reynolds float64    // L_wl/ν, s/m
	laminar  float64    // A of the laminar start; 0 = turbulent from the bow
	table    *dragTable // friction and waves by speed, weight and depth; nil = waves by their factor
	air      float64    // ½ρ_air C_dA of the bodies, or of all, kg/m
	wind     float64    // m/s, positive a headwind
}

// Resistance prepares the drag of a hull of total mass [kg], rowed in this water
// and air, against wind [m/s], positive a headwind.
func (h *Hull) Resistance(mass float64, water fluid.Water, air fluid.Air, wind float64) Resistance {
	r := Resistance{
		water:    0.5 * water.Density * h.Wetted(mass, water) * (1 + h.FormFactor) * h.ClassFactor,
		reynolds: h.Waterline / water.Viscosity,
		laminar:  laminarStart(h.Transition),
		air:      0.5 * air.Density * h.BodyDrag(),
		wind:     wind,
	}
	if h.WavesByFactor() {
		r.water = 0.5 * water.Density * h.Wetted(mass, water) * (1 + h.FormFactor) * (1 + h.WaveFactor) *
			h.ClassFactor
		return r
	}
	key := dragKey{h.Waterline, mass / water.Density, water.Deep(), r.water, r.reynolds, r.laminar,
		water.Density * h.ClassFactor}
	r.table = key.tabled()
	return r
}

// Friction is the ITTC-1957 line C_F [-] = 0.075/(log10 Re − 2)², Re below 1e4
// counting as 1e4. Equation 10.2.
func Friction(re float64) float64 {
	if re < leastReynolds {
		re = leastReynolds
	}
	return ittc(re)
}

const leastReynolds = 1e4

// ittc is the line itself, short enough to be compiled in line where every right-hand side asks for it.
func ittc(re float64) float64 {
	d := float64(num.Log(re)*(1/math.Ln10)) - 2
	return 0.075 / (d * d)
}

// Water is D_w [N] at hull speed v [m/s] through the water, against v:
// ½ρ S_w C_F(Re)(1+k_form)(1+k_wave) k_class V|V| (Scragg & Nelson 1993's form and
// wave shares; k_class a calibration, see defaults), or with waves computed,
// k_class (½ρ S_w C_F(Re)(1+k_form) V|V| + R(V, ∇, depth)). Equation 10.1.
func (r *Resistance) Water(v float64) float64 {
	a := math.Abs(v)
	if r.table != nil {
		return math.Copysign(r.table.at(a), v)
	}
	re := a * r.reynolds
	if re < leastReynolds {
		re = leastReynolds
	}
	c := ittc(re)
	if r.laminar != 0 {
		c = settled(c, re, r.laminar)
	}
	return r.water * c * v * a
}

// Air is D_a [N] at hull speed v [m/s]: ½ρ_air C_dA (V+wind)|V+wind|; of the bodies alone
// where the oars' part is computed. Equation 11.1.
func (r *Resistance) Air(v float64) float64 {
	u := v + r.wind
	return float64(r.air * u * math.Abs(u))
}

// Total is D = D_w + D_a, N, the oars' part left out where it is computed.
func (r *Resistance) Total(v float64) float64 { return r.Water(v) + r.Air(v) }
