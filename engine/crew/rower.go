// Package crew knows the rowers: how hard they pull over the arc (Style), how a
// pull fades with handle speed, and how the body moves in the boat.
package crew

import (
	"slices"

	"thole/engine/defaults"
	"thole/engine/num"
)

// Rower is one rower as a user describes them, apart from the angles, which
// belong to a seat. A changed rower is a changed copy.
type Rower struct {
	Mass       float64 // kg
	Power      float64 // own power, handle and body, W; at the handle alone where a problem holds that
	Style      Style
	FreeSpeed  float64 // v_0, unloaded handle speed, m/s; +Inf = none, a prescribed force
	BodyTravel float64 // A_com, way of the centre of mass, m
	Squaring   float64 // share of the recovery, its last, over which the blade is squared
}

// New gives a rower of this mass [kg] and power [W] with the defaults.
func New(mass, power float64) Rower {
	return Rower{Mass: mass, Power: power, Style: Usual(), FreeSpeed: defaults.Must("rower", "free_speed",
		""), BodyTravel: BodyTravel(mass), Squaring: defaults.Must("crew", "squaring", "")}
}

// BodyTravel is A_com [m] of a rower of this mass [kg] unless given: 0.122 m^⅓ metres.
// Equation 5.4.
func BodyTravel(mass float64) float64 {
	return float64(defaults.Must("rower", "body_travel", "") * num.Cbrt(mass))
}

// Fade is how much of the pull is left at handle speed v [m/s]: max(0, 1 − v/v_0),
// a linear force-velocity line (derived, low); 1 where v_0 is none.
func (r *Rower) Fade(v float64) float64 {
	if f := 1 - v/r.FreeSpeed; f > 0 {
		return f
	}
	return 0
}

// Equal says whether two rowers are the same in everything the physics reads.
func (r *Rower) Equal(o *Rower) bool {
	return r.Mass == o.Mass && r.Power == o.Power && r.FreeSpeed == o.FreeSpeed &&
		r.BodyTravel == o.BodyTravel && r.Squaring == o.Squaring &&
		r.Style.Peak == o.Style.Peak && r.Style.Start == o.Style.Start &&
		slices.Equal(r.Style.Points, o.Style.Points)
}
