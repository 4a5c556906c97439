package rigging

import (
	"math"

	"thole/engine/num"
	"thole/engine/oar"
)

// Heights is how the oar slopes in the drive and where the hands are, m over the seat.
type Heights struct {
	Gate     float64 // over the water
	Slope    float64 // of the shaft, blade down, rad
	Drive    float64 // hands over the seat, the blade covered
	Recovery float64 // hands over the seat, the blade feathered and clear of the water
	PerGate  float64 // what one of height moves the hands in the drive: 1 + L_in/L
}

// HeightsOf gives a gate's heights: height over the seat, seat over the water, the
// blade's top edge depth under the water in the drive, the feathered blade clear over
// it on the recovery, all m. The blade's centre lies half its width under its top
// edge; with lengths along the shaft, sin φ = (H + width/2 + depth)/L and the hands
// stand L_in sin φ over the gate. (L_in tan φ, which some use, is 0.4 cm more in a
// scull and takes L as level.) NaN where the oar cannot reach the water. Equation 12.7.
func HeightsOf(o *oar.Oar, height, seatOverWater, depth, clear float64) Heights {
	h := Heights{Gate: height + seatOverWater, PerGate: 1 + o.Lever()/o.Centre()}
	down := (h.Gate + BladeWidth(o)/2 + depth) / o.Centre()
	h.Slope = num.Asin(down) // NaN above 1
	h.Drive = height + float64(o.Lever()*num.Sin(h.Slope))
	h.Recovery = height + o.Lever()*(h.Gate-clear)/o.Centre()
	return h
}

// BladeWidth is the blade's width if it were as wide all along, m: area over length.
func BladeWidth(o *oar.Oar) float64 { return o.Blade.Area / o.Blade.Length }

// Gates are the heights of the port and the starboard gate, m: the mean height less
// and plus half of what they are apart.
func (r *Rig) Gates() (port, starboard float64) {
	half := r.Apart / 2
	if math.IsNaN(half) {
		half = 0
	}
	return r.Height - half, r.Height + half
}
