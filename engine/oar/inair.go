package oar

import (
	"math"

	"thole/engine/fluid"
)

// InAir is an oar in the air, ready for the equations of motion: the shaft a cylinder from the
// boat's side of the gate to where the blade begins, the blade by itself. A piece at r sees the
// air cross it at u = (V+W) cos θ − r ω, W a headwind: on the way back, ω below 0, faster than
// the boat does. The shaft inside the gate moves the other way and is small: left out.
type InAir struct {
	half      float64    // ½ρ_a C_D d, kg/m²
	near, far float64    // the shaft's ends, m from the pin
	moment    [4]float64 // ∫ r^k dr between them
	blade     float64    // ½ρ_a A, kg/m
	centre    float64    // L, m
}

// Drag of a long cylinder across the flow at these Reynolds numbers (1e4 to 4e4), and the
// C_D A of a blade over its area when it goes back edge-on or squared.
const (
	cylinder  = 1.1
	feathered = 0.05
	squared   = 1.2
	gateSide  = 0.05 // m from the pin to the boat's side of the gate
)

// InAir prepares the oar in this air.
func (o *Oar) InAir(air fluid.Air) InAir {
	a := InAir{half: 0.5 * air.Density * cylinder * o.Diameter, near: gateSide, centre: o.Centre(),
		blade: 0.5 * air.Density * o.Blade.Area}
	a.far = math.Max(a.near, a.centre-o.Blade.Length/2)
	low, high := 1.0, 1.0
	for k := range a.moment {
		low, high = float64(low*a.near), float64(high*a.far)
		a.moment[k] = (high - low) / float64(k+1)
	}
	return a
}

// Shaft is the air's force on the shaft against n [N] and its moment about the pin [N·m], positive
// toward the finish, for u = across − r ω: across = (V+W) cos θ [m/s], omega [rad/s].
// Equation 11.3.
func (a *InAir) Shaft(across, omega float64) (force, moment float64) {
	u0, u1 := across-float64(a.near*omega), across-float64(a.far*omega)
	m := &a.moment
	aa, ao, oo := across*across, 2*across*omega, omega*omega
	force = float64(aa*m[0]) - float64(ao*m[1]) + float64(oo*m[2])
	moment = float64(aa*m[1]) - float64(ao*m[2]) + float64(oo*m[3])
	switch {
	case u0 >= 0 && u1 >= 0:
	case u0 <= 0 && u1 <= 0:
		force, moment = -force, -moment
	default:
		// the air crosses inside and outside of r = across/omega from opposite sides: twice the inner
		// part with its own sign, less the whole
		r := across / omega
		p, q := r, a.near
		var in [4]float64
		for k := range in {
			in[k] = (p - q) / float64(k+1)
			p, q = float64(p*r), float64(q*a.near)
		}
		innerForce := float64(aa*in[0]) - float64(ao*in[1]) + float64(oo*in[2])
		innerMoment := float64(aa*in[1]) - float64(ao*in[2]) + float64(oo*in[3])
		force, moment = float64(2*innerForce)-force, float64(2*innerMoment)-moment
		if u0 < 0 {
			force, moment = -force, -moment
		}
	}
	return a.half * force, a.half * moment
}

// Back is the air's force and moment on shaft and blade on the way back, the blade feathered or
// squared. Equation 11.4.
func (a *InAir) Back(across, omega float64, square bool) (force, moment float64) {
	force, moment = a.Shaft(across, omega)
	u := across - float64(a.centre*omega)
	f := float64(a.blade * feathered * u * math.Abs(u))
	if square {
		f = float64(a.blade * squared * u * math.Abs(u))
	}
	return force + f, moment + float64(f*a.centre)
}
