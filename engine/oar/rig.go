package oar

import (
	"fmt"
	"math"

	"thole/engine/blade"
)

// Rig is where the pins stand. It moves no equation of the stroke: it acts when
// the inboard follows it (FitInboard) and the hands keep their reach (KeepReach).
type Rig struct {
	Span        float64 // pin to pin, sculling, m; NaN = not given
	Spread      float64 // hull's midline to pin, sweep, m; NaN = not given
	Height      float64 // gate over the seat, m; NaN = not given
	Pitch       float64 // stern pitch, rad; NaN = not given
	WorkThrough float64 // m; NaN = not given
}

// PinLine is y_p, from the hull's midline to the pin, m: spread or half the span;
// NaN where the rig does not say.
func (r *Rig) PinLine(k blade.Kind) float64 {
	if k == blade.Scull {
		return r.Span / 2
	}
	return r.Spread
}

// LeverRatio is outboard/inboard.
func LeverRatio(o *Oar) float64 { return o.Outboard() / o.Inboard }

// SpreadRatio is outboard/spread (sweep) or outboard/(span/2) (sculling).
func SpreadRatio(o *Oar, r *Rig) float64 { return o.Outboard() / r.PinLine(o.Kind()) }

// SurveyRatio is the spread ratio of survey sheets, half the gate's width off the
// divisor: outboard/(spread − g) or outboard/(span/2 − g).
func SurveyRatio(o *Oar, r *Rig) float64 {
	return o.Outboard() / (r.PinLine(o.Kind()) - o.HalfGate())
}

// EffectiveRatio is L/L_in at the perpendicular; at an oar angle θ [rad] the hull
// goes by 1/cos θ more for the same way of the hands.
func EffectiveRatio(o *Oar, angle float64) float64 {
	return o.Centre() / o.Lever() / math.Cos(angle)
}

// Overlap is how far the handles cross, m: 2·inboard − span (+ 2 gate halves each
// side) for sculls, inboard − spread (+ half a gate) for sweep oars.
func Overlap(o *Oar, r *Rig, gates bool) float64 {
	half := 0.0
	if gates {
		half = o.HalfGate()
	}
	if o.Kind() == blade.Scull {
		return 2*(o.Inboard+half) - r.Span
	}
	return o.Inboard + half - r.Spread
}

// FitInboard gives the oar, length kept, with the inboard that crosses the
// handles by overlap [m] on this rig.
func FitInboard(o Oar, r *Rig, overlap float64, gates bool) Oar {
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

// KeepReach gives catch and finish [rad, magnitudes] on oar o for hands that
// reached catch and finish on another oar: L_in sin θ is kept at both ends. An
// error where o is too short inboard to reach as far.
func KeepReach(measured, o *Oar, catch, finish float64) (c, f float64, err error) {
	if measured.Lever() == o.Lever() {
		return catch, finish, nil // to the last bit
	}
	ratio := measured.Lever() / o.Lever()
	sc, sf := ratio*math.Sin(catch), ratio*math.Sin(finish)
	if sc >= 1 || sf >= 1 {
		return 0, 0, fmt.Errorf("hands that reach %.0f and %.0f deg on an inboard of %.1f cm cannot on %.1f cm: they would have to pass the square",
			catch*180/math.Pi, finish*180/math.Pi, 100*measured.Inboard, 100*o.Inboard)
	}
	return math.Asin(sc), math.Asin(sf), nil
}
