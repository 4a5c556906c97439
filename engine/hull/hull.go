// Package hull gives the resistance of water and air to a boat: friction along it, its
// waves, and the air on the bodies. Sideways forces, yaw, heave and pitch, and waves that
// answer within a stroke, are not modelled.
package hull

import (
	"fmt"
	"math"
	"slices"

	"thole/engine/defaults"
	"thole/engine/fluid"
)

// Boats lists the classes as they are typed.
var Boats = []string{"1x", "2x", "2-", "2+", "4x", "4-", "4+", "8+"}

// Hull is a boat as a user describes it. A changed hull is a changed copy.
type Hull struct {
	Boat        string
	Mass        float64 // kg, without crew and oars
	Waterline   float64 // L_wl, m
	FormFactor  float64 // k_form
	WaveFactor  float64 // k_wave; NaN = waves by speed, weight and depth (thin ship)
	ClassFactor float64 // k_class
	AirArea     float64 // C_dA of everything, m²; NaN = bodies and oars in the air, each by itself
	BodyArea    float64 // C_dA of the first rower with rigger and boat, m²; read where AirArea is NaN
	Sheltered   float64 // C_dA of each rower behind, m²
	Transition  float64 // Re_x where the flow along the hull turns turbulent; 0 = at the bow
	WettedArea  float64 // S_w, m²; NaN = 2.411 √(∇ L_wl) from the displacement
}

// New gives a class's default hull.
func New(boat string) (Hull, error) {
	if !slices.Contains(Boats, boat) {
		return Hull{}, fmt.Errorf("no boat is called %q", boat)
	}
	return Hull{
		Boat:        boat,
		Mass:        defaults.Must("hull", "mass", boat),
		Waterline:   defaults.Must("hull", "waterline", boat),
		FormFactor:  defaults.Must("hull", "form_factor", boat),
		WaveFactor:  math.NaN(),
		ClassFactor: defaults.Must("hull", "class_factor", boat),
		AirArea:     math.NaN(),
		BodyArea:    defaults.Must("hull", "body_area", boat),
		Sheltered:   defaults.Must("hull", "sheltered_area", boat),
		WettedArea:  math.NaN(),
	}, nil
}

// Seats is the number of rowers.
func (h *Hull) Seats() int { return int(h.Boat[0] - '0') }

// Sculling says whether each rower has two oars.
func (h *Hull) Sculling() bool { return h.Boat[1] == 'x' }

// Coxed says whether a cox sits in it.
func (h *Hull) Coxed() bool { return h.Boat[1] == '+' }

// OarsPerRower is 2 sculling, 1 sweep.
func (h *Hull) OarsPerRower() int {
	if h.Sculling() {
		return 2
	}
	return 1
}

// Plain is the hull under the plain law: waves a share of friction, one drag area of its class in the
// air.
func (h Hull) Plain() Hull {
	h.WaveFactor = defaults.Must("plain hull", "wave_factor", h.Boat)
	h.AirArea = defaults.Must("plain hull", "air_area", h.Boat)
	return h
}

// WavesByFactor says whether waves are a share of friction, as given.
func (h *Hull) WavesByFactor() bool { return !math.IsNaN(h.WaveFactor) }

// OarsInAir says whether the air on the oars is computed; else it is part of AirArea.
func (h *Hull) OarsInAir() bool { return math.IsNaN(h.AirArea) }

// BodyDrag is C_dA [m²] of what moves through the air with the boat: of everything as given, or of
// the first rower with rigger and boat and of those behind, who have shelter.
// Equation 11.2.
func (h *Hull) BodyDrag() float64 {
	if h.OarsInAir() {
		return h.BodyArea + float64(float64(h.Seats()-1)*h.Sheltered)
	}
	return h.AirArea
}

// Draught is T [m], how deep a boat of this total mass [kg] reaches, of the form whose waves are computed.
func (h *Hull) Draught(mass float64, water fluid.Water) float64 {
	f := formOf(h.Waterline, mass/water.Density)
	return f.draught
}

// CriticalSpeed is √(gh) [m/s], where waves in water of this depth [m] cannot keep up with the boat.
func CriticalSpeed(depth float64) float64 { return math.Sqrt(gravity * depth) }

// Wetted is S_w, m², for a boat of this total mass [kg]: given, or 2.411 √(∇ L_wl)
// (semicircular sections, parabolic area curve; derived). Equation 10.3.
func (h *Hull) Wetted(mass float64, water fluid.Water) float64 {
	if !math.IsNaN(h.WettedArea) {
		return h.WettedArea
	}
	return float64(2.411 * math.Sqrt(mass/water.Density*h.Waterline))
}
