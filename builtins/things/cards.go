package things

import (
	"fmt"
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/units"
	"thole/builtins/views"
	"thole/engine/blade"
	"thole/engine/document"
	"thole/engine/rigging"
	"thole/engine/table"
)

func init() {
	views.ByKind["oar"] = func(v, rig starlark.Value) []document.Block {
		o, _ := OarType.From(v)
		r, _ := RigType.From(rig)
		return []document.Block{&document.Shown{Card: oarCard(o, r)}}
	}
	views.ByKind["crew"] = func(v, _ starlark.Value) []document.Block {
		c, _ := CrewType.From(v)
		card := views.FieldCard(v.(lang.AnyThing), "rowers")
		if !c.alike {
			for i, r := range c.Rowers {
				card.Foot = append(card.Foot, fmt.Sprintf("%d %s", i+1, rowerType.Line(r)))
			}
		}
		return []document.Block{&document.Shown{Card: card}}
	}
}

// OarText says an oar in a few words: "288 / 88 cm, scull hatchet 820 cm² x 46 cm".
func OarText(o *Oar) string {
	return fmt.Sprintf("%s / %s cm, %s", table.Fixed(o.Length/units.Cm, -1), table.Fixed(o.Inboard/units.Cm,
		-1), BladeText(&o.Blade))
}

// oarCard shows an oar with its levers, and with a rig its ratios and overlap.
func oarCard(o *Oar, rig *Rig) *document.Card {
	title := o.Name
	if title == "" {
		title = "oar"
	}
	card := &document.Card{Title: title, Side: fmt.Sprintf("%s / %s cm, %s", table.Fixed(o.Length/units.Cm,
		-1), table.Fixed(o.Inboard/units.Cm, -1), o.Kind())}
	add := func(label string, x float64, digits int, unit, remark string) {
		card.Items = append(card.Items, document.Item{Label: label, Value: table.Fixed(x, digits), Unit: unit,
			Remark: remark})
	}
	add("outboard", o.Outboard()/units.Cm, -1, "cm", fmt.Sprintf("pin to blade centre %s, pin to hands %s",
		table.Fixed(o.Centre()/units.Cm, 1), table.Fixed(o.Lever()/units.Cm, 1)))
	add("hand_weight", o.HandWeight(), 1, "N", fmt.Sprintf("swing_weight %s kg·m², %s",
		table.Fixed(o.Inertia(), 2), o.swingFrom()))
	if o.Flexible() {
		add("stiffness", o.Deflection/units.Mm, 1, "mm", "bend under 10 kg at the blade centre")
	}
	add("lever ratio", rigging.LeverRatio(&o.Oar), 2, "", "outboard / inboard")
	if rig != nil && !math.IsNaN(rig.PinLine(o.Kind())) {
		below, half := "half the span of "+table.Fixed(rig.Span/units.Cm, -1), "the half span"
		if o.Kind() == blade.Sweep {
			below, half = "the spread of "+table.Fixed(rig.Spread/units.Cm, -1), "the spread"
		}
		add("spread ratio", rigging.SpreadRatio(&o.Oar, &rig.Rig), 2, "", "outboard / "+below)
		add("survey ratio", rigging.SurveyRatio(&o.Oar, &rig.Rig), 2, "",
			fmt.Sprintf("the same, half a gate (%s cm) off %s", table.Fixed(o.HalfGate()/units.Cm, -1), half))
	}
	add("effective ratio", rigging.EffectiveRatio(&o.Oar, 0), 2, "",
		"pin to blade centre / pin to hands; at 60 deg "+table.Fixed(rigging.EffectiveRatio(&o.Oar,
			60*units.Deg), 2))
	if rig != nil && !math.IsNaN(rig.PinLine(o.Kind())) {
		add("overlap", rigging.Overlap(&o.Oar, &rig.Rig, true)/units.Cm, 1, "cm",
			"gates counted; pin to pin "+
				table.Fixed(rigging.Overlap(&o.Oar, &rig.Rig, false)/units.Cm, 1))
	}
	card.Foot = []string{BladeText(&o.Blade)}
	if o.Note != "" { // of an equal load: between which lengths it lies over all definitions of load
		card.Foot = append(card.Foot, o.Note)
	}
	return card
}

func (o *Oar) swingFrom() string {
	switch {
	case o.Given.Has("swing_weight"):
		return "as given"
	case o.Given.Has("mass"):
		return "from " + table.Fixed(o.Mass, -1) + " kg"
	}
	return "from " + table.Fixed(o.Mass, -1) + " kg (usual)"
}
