// Package rigtest gives tests the rigs of all boats to draw, at an invented club.
package rigtest

import (
	"math"

	"thole/engine/blade"
	"thole/engine/document"
	"thole/engine/oar"
	"thole/engine/rigging"
)

// Boats are all boats.
var Boats = []string{"1x", "2x", "2-", "2+", "4x", "4-", "4+", "8+"}

const degree = math.Pi / 180

// Usual is a usual rig of a boat, everything given.
func Usual(boat string) document.Rigged {
	r := rigging.New()
	r.Pitch, r.Outward, r.WorkThrough, r.Stretcher = 4*degree, 1*degree, 0.08, 0.46
	if boat[1] == 'x' {
		r.Span, r.Height = 1.59, 0.16
		return Of("as rigged", boat, Oar(2.88, 0.88, "scull hatchet"), &r, 62, 43)
	}
	r.Spread, r.Height = 0.85, 0.17
	return Of("as rigged", boat, Oar(3.74, 1.15, "sweep hatchet"), &r, 56, 34)
}

// Changed is the same boat with everything a rigger may change changed, and a name that
// asks for room.
func Changed(boat string) document.Rigged {
	r := rigging.New()
	r.Pitch, r.Outward, r.WorkThrough, r.Stretcher = 5*degree, 2*degree, 0.10, 0.48
	if boat[1] == 'x' {
		r.Span, r.Height = 1.61, 0.17
		return Of("stretcher and span", boat, Oar(2.88, 0.89, "scull hatchet"), &r, 64.3, 40.9)
	}
	r.Spread, r.Height = 0.86, 0.18
	return Of("stretcher and spread", boat, Oar(3.74, 1.16, "sweep hatchet"), &r, 58.3, 32.9)
}

// Uneven is a usual scull's rig with its starboard gate a centimetre higher.
func Uneven(boat string) document.Rigged {
	r := rigging.New()
	r.Pitch, r.Outward, r.WorkThrough, r.Stretcher = 4*degree, 1*degree, 0.08, 0.46
	r.Span, r.Height, r.Apart = 1.59, 0.16, 0.01
	return Of("gates unlike", boat, Oar(2.88, 0.88, "scull hatchet"), &r, 62, 43)
}

// Oar makes an oar of a length and an inboard, m.
func Oar(length, inboard float64, shape string) *oar.Oar {
	b, err := blade.New(shape)
	if err != nil {
		panic(err)
	}
	o := oar.New(length, inboard, b)
	return &o
}

// Of lays a rig out as a stroke does; catch and finish in degrees.
func Of(name, boat string, o *oar.Oar, r *rigging.Rig, catch, finish float64) document.Rigged {
	const over, clear, cm = 0.12, 0.05, 100
	gate := func(height float64) document.GateHeights {
		h := rigging.HeightsOf(o, height, over, 0, clear)
		return document.GateHeights{Height: height * cm, Slope: h.Slope / degree, Drive: h.Drive * cm,
			Recovery: h.Recovery * cm}
	}
	port, starboard := r.Gates()
	rigged := document.Rigged{
		Name: name, Sculling: o.Kind() == blade.Scull, Boat: boat,
		PinLine: r.PinLine(o.Kind()) * cm, Inboard: o.Inboard * cm, Outboard: o.Outboard() * cm,
		Gate: o.Gate * cm, Pull: o.Hand * cm,
		BladeLength: o.Blade.Length * cm, BladeWidth: rigging.BladeWidth(o) * cm, Catch: catch,
		Finish:  finish,
		Overlap: rigging.Overlap(o, r, true) * cm, Apart: rigging.HandlesApart(o, r, finish*degree) * cm,
		WorkThrough: r.WorkThrough * cm, Stretcher: r.Stretcher * cm,
		GateHeights: gate(starboard), SeatOverWater: over * cm, Clear: clear * cm,
		Pitch: r.Pitch / degree, Outward: r.Outward / degree,
	}
	if port < starboard || port > starboard {
		other := gate(port)
		rigged.Port = &other
	}
	return rigged
}
