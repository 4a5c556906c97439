// Package rigging knows where the pins, the slides and the stretcher stand and what
// follows by geometry alone: gearing and overlap, the angles that keep the hands'
// reach, the hands' heights over the seat, the pitch of the blade over the arc.
// It knows oars, not strokes.
//
// Along the boat everything is counted from the line through the pins, sternward
// positive; up from the seat's top or from the water.
package rigging

import (
	"math"

	"thole/engine/blade"
)

// Rig is how one seat is set. What was not given is NaN; New makes such a rig.
type Rig struct {
	Span        float64 // pin to pin, sculling, m
	Spread      float64 // hull's midline to pin, sweep, m
	Height      float64 // gate over the seat, m; of two gates unlike each other the mean
	Apart       float64 // how much higher the starboard gate stands than the port gate, m; NaN = alike
	Pitch       float64 // stern pitch: the blade's top edge toward the stern, rad
	Outward     float64 // outward pitch: the pin's top leans away from the hull, rad
	WorkThrough float64 // seat's front stop sternward of the line through the pins, m
	Stretcher   float64 // heels of the stretcher sternward of the seat's front stop, m
}

// New gives a rig of which nothing is known.
func New() Rig {
	none := math.NaN()
	return Rig{none, none, none, none, none, none, none, none}
}

// PinLine is y_p, from the hull's midline to the pin, m: spread or half the span;
// NaN where the rig does not say.
func (r *Rig) PinLine(k blade.Kind) float64 {
	if k == blade.Scull {
		return r.Span / 2
	}
	return r.Spread
}

// StretcherToPins is from the line through the pins sternward to the heels, m.
func (r *Rig) StretcherToPins() float64 { return r.Stretcher + r.WorkThrough }

// Equal says whether two rigs are set alike; what neither says is alike.
func (r *Rig) Equal(q *Rig) bool {
	a, b := r.numbers(), q.numbers()
	for i := range a {
		if a[i] != b[i] && !(math.IsNaN(a[i]) && math.IsNaN(b[i])) {
			return false
		}
	}
	return true
}

func (r *Rig) numbers() [8]float64 {
	return [8]float64{r.Span, r.Spread, r.Height, r.Apart, r.Pitch, r.Outward, r.WorkThrough, r.Stretcher}
}
