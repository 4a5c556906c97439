package things

import (
	"fmt"
	"math"
	"slices"

	"thole/builtins/lang"
	"thole/builtins/units"
	"thole/engine/oar"
	"thole/engine/rounding"
	"thole/engine/table"
	"thole/engine/words"
)

// OarCautions are sentences on an oar with lengths outside the trade's.
func OarCautions(o *Oar) []string {
	return slices.Concat(unusual(OarRecord, "length", o.Length/units.Cm, UsualOf(&o.Oar, "length")),
		unusual(OarRecord, "inboard", o.Inboard/units.Cm, UsualOf(&o.Oar, "inboard")),
		unusual(bladeRecord, "area", o.Blade.Area/units.Cm2, o.Blade.Shape))
}

// RigCautions are sentences on a rig outside the trade's ranges; nil has none.
func RigCautions(r *Rig) []string {
	if r == nil {
		return nil
	}
	var out []string
	for _, m := range RigMeasures {
		out = append(out, unusual(rigRecord, m.Name, units.Trade(m.Of(r), m.Unit), "")...)
	}
	return out
}

// unusual says that a value lies outside the trade's range, which stands in the
// record of the function that takes it and nowhere else.
func unusual(r *lang.Record, param string, x float64, of string) []string {
	var out []string
	for _, p := range r.Params {
		if p.Name != param || math.IsNaN(x) {
			continue
		}
		for _, u := range p.Usual {
			if u.Of == of && (rounding.Clean(x) < u.Low || rounding.Clean(x) > u.High) {
				out = append(out, fmt.Sprintf("%s %s %s lies outside the usual %s to %s.",
					words.Capital(words.Spaced(param)), table.Fixed(x, 1), p.Unit, table.Fixed(u.Low, -1),
					table.Fixed(u.High, -1)))
			}
		}
	}
	return out
}

// UsualOf says of which kind of oar the usual length or inboard is: tulips are longer by
// custom, and a perfect grip's length is nobody's.
func UsualOf(o *oar.Oar, measure string) string {
	kind := o.Kind().String()
	switch {
	case measure == "length" && o.Blade.Shape == kind+" tulip":
		return o.Blade.Shape
	case measure == "length" && o.Blade.Shape == "perfect":
		return ""
	}
	return kind
}

// UsualRange is what the trade uses of a measure of an oar (of its kind), a blade (of its
// shape) or a rig.
func UsualRange(param, of string) (low, high float64) {
	for _, r := range []*lang.Record{OarRecord, bladeRecord, rigRecord} {
		for _, p := range r.Params {
			for _, u := range p.Usual {
				if p.Name == param && u.Of == of {
					return u.Low, u.High
				}
			}
		}
	}
	return math.NaN(), math.NaN()
}
