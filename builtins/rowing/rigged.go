package rowing

import (
	"math"

	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/blade"
	"thole/engine/document"
	"thole/engine/rigging"
	"thole/engine/rounding"
)

// Rigged lays one seat's rig, oar and angles out for a drawing: cm and degrees, NaN where
// the rig does not say. ok is false where the stroke has no rig to draw.
func (s *Stroke) Rigged(seat int, name string) (r document.Rigged, ok bool) {
	if s.Rig == nil {
		return r, false
	}
	p, rig := s.problemSeat(seat), s.RigOf(seat)
	o := &p.Oar
	over, _ := s.Hull.SeatHeight()
	clear := things.Fact("rig", "clear", "") * units.Cm
	cm := func(x float64) float64 { return rounding.Clean(x / units.Cm) }
	gate := func(height float64) document.GateHeights {
		h := rigging.HeightsOf(o, height, over, 0, clear)
		if math.IsNaN(h.Slope) { // no height, or none from which the blade reaches the water
			return document.GateHeights{Height: h.Slope, Slope: h.Slope, Drive: h.Slope, Recovery: h.Slope}
		}
		return document.GateHeights{Height: cm(height), Slope: h.Slope / units.Deg, Drive: cm(h.Drive),
			Recovery: cm(h.Recovery)}
	}
	port, starboard := rig.Gates()
	r = document.Rigged{
		Name: name, Sculling: o.Kind() == blade.Scull, Boat: s.Hull.Boat, Sides: s.Sides(),
		PinLine: cm(rig.PinLine(o.Kind())), Inboard: cm(o.Inboard), Outboard: cm(o.Outboard()),
		Gate: cm(o.Gate), Pull: cm(o.Hand),
		BladeLength: cm(o.Blade.Length), BladeWidth: cm(rigging.BladeWidth(o)),
		Catch: p.Catch / units.Deg, Finish: p.Finish / units.Deg,
		Overlap: cm(rigging.Overlap(o, &rig.Rig, true)), Apart: cm(rigging.HandlesApart(o, &rig.Rig,
			p.Finish)),
		WorkThrough: cm(rig.WorkThrough), Stretcher: cm(rig.Stretcher),
		GateHeights: gate(starboard), SeatOverWater: cm(over), Clear: cm(clear),
		Pitch: rig.Pitch / units.Deg, Outward: rig.Outward / units.Deg,
	}
	if port < starboard || port > starboard {
		other := gate(port)
		r.Port = &other
	}
	return r, true
}
