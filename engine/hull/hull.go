// Package hull gives the resistance of water and air to a boat. Sideways
// forces, yaw, heave and pitch, and waves that depend on speed, are not modelled.
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
	Boat       string
	Mass       float64 // kg, without crew and oars
	Waterline  float64 // L_wl, m
	FormFactor float64 // k_form
	WaveFactor float64 // k_wave
	DragFactor float64 // k_class
	AirArea    float64 // C_dA, m²
	WettedArea float64 // S_w, m²; NaN = 2.411 √(∇ L_wl) from the displacement
}

// New gives a class's default hull (facts.md section 1).
func New(boat string) (Hull, error) {
	if !slices.Contains(Boats, boat) {
		return Hull{}, fmt.Errorf("no boat is called %q", boat)
	}
	return Hull{
		Boat:       boat,
		Mass:       defaults.Must("hull", "mass", boat),
		Waterline:  defaults.Must("hull", "waterline", boat),
		FormFactor: defaults.Must("hull", "form_factor", boat),
		WaveFactor: defaults.Must("hull", "wave_factor", boat),
		DragFactor: defaults.Must("hull", "drag_factor", boat),
		AirArea:    defaults.Must("hull", "air_area", boat),
		WettedArea: math.NaN(),
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

// Wetted is S_w, m², for a boat of this total mass [kg]: given, or 2.411 √(∇ L_wl)
// (semicircular sections, parabolic area curve; derived).
func (h *Hull) Wetted(mass float64, water fluid.Water) float64 {
	if !math.IsNaN(h.WettedArea) {
		return h.WettedArea
	}
	return 2.411 * math.Sqrt(mass/water.Density*h.Waterline)
}
