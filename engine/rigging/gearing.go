package rigging

import (
	"thole/engine/blade"
	"thole/engine/num"
	"thole/engine/oar"
)

// LeverRatio is outboard/inboard. Equation 12.1.
func LeverRatio(o *oar.Oar) float64 { return o.Outboard() / o.Inboard }

// SpreadRatio is outboard/spread (sweep) or outboard/(span/2) (sculling). Equation 12.2.
func SpreadRatio(o *oar.Oar, r *Rig) float64 { return o.Outboard() / r.PinLine(o.Kind()) }

// SurveyRatio is the spread ratio of survey sheets, half the gate's width off the
// divisor: outboard/(spread − g) or outboard/(span/2 − g). Equation 12.3.
func SurveyRatio(o *oar.Oar, r *Rig) float64 {
	return o.Outboard() / (r.PinLine(o.Kind()) - o.HalfGate())
}

// EffectiveRatio is L/L_in at the perpendicular; at an oar angle θ [rad] the hull
// goes by 1/cos θ more for the same way of the hands. Equation 12.4.
func EffectiveRatio(o *oar.Oar, angle float64) float64 {
	return o.Centre() / o.Lever() / num.Cos(angle)
}

// Overlap is how far the handles cross, m: 2·inboard − span (+ 2 gate halves each
// side) for sculls, inboard − spread (+ half a gate) for sweep oars. Equation 12.5.
func Overlap(o *oar.Oar, r *Rig, gates bool) float64 {
	half := 0.0
	if gates {
		half = o.HalfGate()
	}
	if o.Kind() == blade.Scull {
		return float64(2*(o.Inboard+half)) - r.Span
	}
	return o.Inboard + half - r.Spread
}

// FitInboard gives the oar, length kept, with the inboard that crosses the
// handles by overlap [m] on this rig.
func FitInboard(o oar.Oar, r *Rig, overlap float64, gates bool) oar.Oar {
	half := 0.0
	if gates {
		half = o.HalfGate()
	}
	if o.Kind() == blade.Scull {
		o.Inboard = (overlap+r.Span)/2 - half
	} else {
		o.Inboard = overlap + r.Spread - half
	}
	return o
}
