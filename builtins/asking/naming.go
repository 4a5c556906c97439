package asking

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/things"
	"thole/engine/table"
	"thole/engine/words"
)

// arrow stands between the two values by which a case is named.
const arrow = " → "

// namesOf names the things of a comparison, the first of which the others are held
// against. A name of their own that no other has is theirs; the rest are called by what
// differs from the first: "288 → 290, inboard 88".
func namesOf(things []lang.AnyThing) []string {
	names := make([]string, len(things))
	for i, thing := range things {
		own := thing.Label()
		switch {
		case i == 0 && own == "":
			names[i] = "before"
		case own != "" && !slices.Contains(names[:i], own):
			names[i] = own
		case i > 0:
			names[i] = words.Cut(joined(differences(things[0], thing)), 60)
			if names[i] == "" {
				names[i] = "after"
			}
		default:
			names[i] = own
		}
		for own, n := names[i], 2; slices.Contains(names[:i], names[i]); n++ {
			names[i] = fmt.Sprintf("%s (%d)", own, n)
		}
	}
	return names
}

// joined keeps the first three differences: a name is to be read in a table's head.
func joined(parts []string) string {
	if more := len(parts) - 3; more > 0 {
		parts = append(parts[:3:3], fmt.Sprintf("%d more", more))
	}
	return strings.Join(parts, ", ")
}

// headOf is the line above a comparison: "now -> longer", or what differs alone where the
// names say it.
func headOf(names []string) string {
	if len(names) == 2 && names[0] == "before" && strings.Contains(names[1], arrow) {
		return names[1]
	}
	return names[0] + " -> " + strings.Join(names[1:], ", ")
}

// chosen are the fields of a thing that someone sets, in the order in which a name says
// them; those of a stroke are the things it was rowed with.
var chosen = map[string][]string{
	"stroke": {"hull", "crew", "oar", "rig", "wind", "water"},
	"hull": {"boat", "mass", "waterline", "form_factor", "wave_factor", "class_factor", "air_area",
		"wetted_area"},
	"crew": {"rate", "mass", "power", "catch", "finish", "style", "cox"},
	"oar":  {"length", "inboard", "blade", "mass", "stiffness", "hand", "gate"},
	"blade": {"shape", "area", "length", "law", "grip", "early", "drag", "lift", "added_mass", "bury",
		"release"},
	"rig": {"span", "spread", "height", "pitch", "outward_pitch", "work_through", "stretcher",
		"gates_apart"},
	"water": {"temperature"},
}

// differences says what was chosen otherwise in b than in a.
func differences(a, b lang.AnyThing) []string {
	var out []string
	s, rowed := rowing.StrokeType.From(a)
	t, _ := rowing.StrokeType.From(b)
	var moved []int
	if rowed {
		moved = s.SeatsMoved(t)
		for _, i := range moved {
			parts := differences(things.OarType.New(s.Oar(i)), things.OarType.New(t.Oar(i)))
			if was, is := s.RigOf(i), t.RigOf(i); was != nil && is != nil {
				parts = append(parts, differences(things.RigType.New(was), things.RigType.New(is))...)
			}
			for _, part := range parts {
				out = append(out, fmt.Sprintf("seat %d %s", i+1, part))
			}
		}
	}
	for _, name := range chosen[a.Type()] {
		if len(moved) > 0 && (name == "oar" || name == "rig") {
			continue
		}
		x, f, ok := a.Field(name)
		y, _, also := b.Field(name)
		if !ok || !also {
			continue
		}
		out = append(out, difference(a.Type(), name, f, x, y)...)
	}
	if rowed {
		if was, is := s.Problem.Hold.String(), t.Problem.Hold.String(); was != is {
			out = append(out, "hold "+words.Spaced(was)+arrow+words.Spaced(is))
		}
	}
	if a.Type() == "oar" && len(out) > 0 && strings.HasPrefix(out[0], "length ") {
		out[0] = strings.TrimPrefix(out[0], "length ") // as an oar is called: 288, inboard 88
		x, _, _ := a.Field("inboard")
		if y, _, _ := b.Field("inboard"); valueText(x) == valueText(y) {
			out = slices.Insert(out, 1, "inboard "+valueText(x))
		}
	}
	return out
}

// difference says one field's two values, nothing where they are the same.
func difference(of, name string, f lang.Field, x, y starlark.Value) []string {
	inner, isThing := x.(lang.AnyThing)
	other, too := y.(lang.AnyThing)
	if isThing && too && inner.Type() == other.Type() {
		parts := differences(inner, other)
		if was, is := inner.Label(), other.Label(); len(parts) > 0 && was != "" && is != "" && was != is {
			return []string{was + arrow + is}
		}
		return parts
	}
	was, is := valueText(x), valueText(y)
	if was == is {
		return nil
	}
	label := words.Spaced(name) + " "
	if of == "blade" && name != "area" {
		label = "blade's " + label
	}
	unit := f.Unit
	if of == "oar" && (name == "length" || name == "inboard") {
		unit = "" // centimetres, as every oar is called
	}
	return []string{label + was + arrow + table.WithUnit(is, unit)}
}

// valueText writes a value as one would type it, without its unit.
func valueText(v starlark.Value) string {
	if x, ok := lang.AsNumber(v); ok {
		if math.IsNaN(x) {
			return "none"
		}
		return table.Fixed(x, -1)
	}
	if text, ok := starlark.AsString(v); ok {
		return text
	}
	if v == starlark.None {
		return "none"
	}
	return v.String()
}
