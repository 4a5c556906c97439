// Package fluid knows water and air: density and viscosity, and how they follow
// temperature.
package fluid

import "math"

// Water is what the hull and the blades move through.
type Water struct {
	Density   float64 // ρ, kg/m³
	Viscosity float64 // ν, kinematic, m²/s
	Depth     float64 // m; 0 = deep
	Drift     float64 // speed of its surface over the wind's, which it runs with; 0 = it stands
}

// Deep is the depth [m], +Inf in deep water.
func (w Water) Deep() float64 {
	if w.Depth == 0 {
		return math.Inf(1)
	}
	return w.Depth
}

// Air is what the crew moves through.
type Air struct {
	Density float64 // ρ_air, kg/m³
}

// StandardAir is air at 15 °C: 1.225 kg/m³ (ISO 2533 standard atmosphere).
func StandardAir() Air { return Air{1.225} }
