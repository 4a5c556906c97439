package rigging

import (
	"math"

	"thole/engine/blade"
	"thole/engine/num"
	"thole/engine/oar"
)

// Moved is how far the body goes sternward, m, when a crew whose angles were measured
// on one rig sits in another: by the stretcher's way and by the work-through's. The
// stretcher is measured from the front stop, so slides and stretcher that go together
// count once, slides that go alone move nothing (the stretcher's number falls as the
// work-through's rises), and pins that go sternward by p count −p. An error where only
// one of the two rigs says a measure.
// Equation 12.6.
func Moved(measured, now *Rig) (float64, error) {
	sum := 0.0
	for _, m := range []struct {
		name     string
		was, now float64
	}{{"stretcher", measured.Stretcher, now.Stretcher}, {"work_through", measured.WorkThrough,
		now.WorkThrough}} {
		switch {
		case math.IsNaN(m.was) && math.IsNaN(m.now):
		case math.IsNaN(m.was):
			return 0, &Untold{m.name, true}
		case math.IsNaN(m.now):
			return 0, &Untold{m.name, false}
		default:
			sum += m.now - m.was
		}
	}
	return sum, nil
}

// Untold is the error of two rigs of which only one says a measure.
type Untold struct {
	Measure  string // "stretcher" or "work_through"
	Measured bool   // it is the rig of the angles that says nothing
}

func (e *Untold) Error() string { return "only one of the two rigs has a " + e.Measure }

// Fit gives the inboard's lever [m] and the body's way sternward [m] that bring catch
// and finish [rad] to hands that reached others on an oar with lever was:
// L' (sin θ_c' + sin θ_f') = L (sin θ_c + sin θ_f), moved = L' sin θ_c' − L sin θ_c.
// The way of the hands along the boat is the crew's and stays.
// Equation 12.10.
func Fit(was, catch, finish, newCatch, newFinish float64) (lever, moved float64) {
	lever = was * (num.Sin(catch) + num.Sin(finish)) / (num.Sin(newCatch) + num.Sin(newFinish))
	return lever, float64(lever*num.Sin(newCatch)) - float64(was*num.Sin(catch))
}

// FollowCollar gives the oar whose collar follows the pins: length and overlap kept.
func FollowCollar(o oar.Oar, was, now *Rig) oar.Oar {
	o.Inboard += now.PinLine(o.Kind()) - was.PinLine(o.Kind())
	return o
}

// Handle is pin to handle's end, m.
func Handle(o *oar.Oar) float64 { return o.Inboard + o.HalfGate() }

// HandlesApart is the way between two sculls' handle ends, m, or of a sweep oar's
// handle end to the hull's midline, at an oar angle [rad]; below 0 they overlap, or
// the end stands past the midline. At square it is the overlap with gates, negated.
// Equation 12.11.
func HandlesApart(o *oar.Oar, r *Rig, angle float64) float64 {
	side := r.PinLine(o.Kind()) - float64(Handle(o)*num.Cos(angle))
	if o.Kind() == blade.Scull {
		return float64(2 * side)
	}
	return side
}
