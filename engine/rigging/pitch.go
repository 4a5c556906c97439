package rigging

import (
	"math"

	"thole/engine/num"
	"thole/engine/oar"
)

// PitchAt is the blade's pitch at an oar angle θ [rad, before square below 0]: the
// angle by which the water's push on it points up, rad, the top edge toward the stern
// positive. The gate turns about a pin whose top leans outward by λ: in the pin's frame
// the push is cos p n + sin p k, n across the shaft and k along the pin; leaning the pin
// gives its upward part sin p cos λ − cos p sin λ sin θ. To first order p − λ sin θ: a
// pin that leans outward adds at the catch and takes at the finish. The oar's own slope
// (about 12 degrees: 2 % of the pitch) is left out. NaN where no stern pitch is given;
// an outward pitch not given counts as 0. Equation 12.8.
func (r *Rig) PitchAt(angle float64) float64 {
	lean := r.Outward
	if math.IsNaN(lean) {
		lean = 0
	}
	return num.Asin(float64(num.Sin(r.Pitch)*num.Cos(lean)) -
		float64(num.Cos(r.Pitch)*num.Sin(lean)*num.Sin(angle)))
}

// PitchFirstOrder is p − λ sin θ, rad, as handbooks reckon.
func PitchFirstOrder(pitch, outward, angle float64) float64 {
	return pitch - float64(outward*num.Sin(angle))
}

// LiftAtBlade is the upward part of the water's push on the blade, N.
func LiftAtBlade(force, pitch float64) float64 { return float64(force * num.Sin(pitch)) }

// LiftAtHands is what the hands of one oar bear upward in the drive, N: the blade's
// lift by the levers less the weight that hangs outboard. Below 0 they press down.
// The water's buoyancy is left out. Equation 12.9.
func LiftAtHands(o *oar.Oar, force, pitch float64) float64 {
	return LiftAtBlade(force, pitch)*o.Centre()/o.Lever() - o.HandWeight()
}

// PitchLoss is the share of the push that no longer drives the boat: 1 − cos(pitch).
func PitchLoss(pitch float64) float64 {
	s := num.Sin(pitch / 2) // 1 − cos without taking the difference of two near numbers
	return float64(2 * s * s)
}
