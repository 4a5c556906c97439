package builtins

import (
	"fmt"
	"math"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/blade"
	"thole/engine/document"
	"thole/engine/rigging"
	"thole/engine/stroke"
	"thole/engine/table"
)

// richViews makes the rich view of a kind of thing, by its type's name: what
// show puts on the page. A kind without one is shown field by field.
var richViews = map[string]func(v starlark.Value, rig *rigValue) []document.Block{}

// shortViews makes the few lines by which a value shows itself at the prompt.
// A kind without one shows its one line.
var shortViews = map[string]func(v starlark.Value) []string{}

func init() {
	richViews["stroke"] = func(v starlark.Value, _ *rigValue) []document.Block {
		s, _ := strokeType.From(v)
		return []document.Block{&document.Shown{Card: strokeCard(s)}}
	}
	richViews["oar"] = func(v starlark.Value, rig *rigValue) []document.Block {
		o, _ := oarType.From(v)
		return []document.Block{&document.Shown{Card: oarCard(o, rig)}}
	}
	richViews["crew"] = func(v starlark.Value, _ *rigValue) []document.Block {
		c, _ := crewType.From(v)
		card := fieldCard(v.(lang.AnyThing), "rowers")
		if !c.alike {
			for i, r := range c.rowers {
				card.Foot = append(card.Foot, fmt.Sprintf("%d %s", i+1, rowerType.Line(r)))
			}
		}
		return []document.Block{&document.Shown{Card: card}}
	}
	shortViews["stroke"] = func(v starlark.Value) []string {
		s, _ := strokeType.From(v)
		return strokeShort(s)
	}
}

// show writes a number with that many decimals, four figures for -1.
func show(x float64, digits int) string { return table.Fixed(x, digits) }

// Rich gives the rich view of any value, what show puts on the page.
func Rich(v starlark.Value, rig *rigValue) []document.Block {
	if view := richViews[v.Type()]; view != nil {
		return view(v, rig)
	}
	switch v := v.(type) {
	case *lang.Table:
		t := v.T
		if shown := comparisonShown(t); shown != nil {
			return []document.Block{shown}
		}
		return []document.Block{&document.Shown{Name: t.Name, Table: t, Side: t.Side, Foot: t.Foot}}
	case *lang.Estimate:
		return []document.Block{&document.Shown{Line: v.E.String()}}
	case *lang.Line:
		// a line that says itself in a sentence, as of a comparison, is that sentence
		if t, i := v.Of(); t.LineText != nil && t.LineText(t.T, i) != "" {
			return []document.Block{&document.Shown{Line: v.String()}}
		}
		return []document.Block{&document.Shown{Card: fieldCard(v)}}
	case lang.AnyThing:
		return []document.Block{&document.Shown{Card: fieldCard(v)}}
	}
	return []document.Block{&document.Shown{Line: Line(v)}}
}

// Short gives the few lines by which a value shows itself at the prompt; tables
// and figures are not among them.
func Short(v starlark.Value) []string {
	if view := shortViews[v.Type()]; view != nil {
		return view(v)
	}
	return strings.Split(Line(v), "\n")
}

// Line gives a value in one line, as print writes it.
func Line(v starlark.Value) string {
	switch v := v.(type) {
	case starlark.String:
		return string(v)
	case *lang.Estimate:
		return v.E.String()
	}
	if x, ok := lang.AsNumber(v); ok {
		return show(x, table.AutoDigits)
	}
	return v.String()
}

// fieldCard shows a thing field by field, but for those that are shown otherwise.
func fieldCard(v lang.AnyThing, otherwise ...string) *document.Card {
	title := v.Label()
	if title == "" {
		title = v.Type()
	}
	card := &document.Card{Title: title}
	if v.Label() != "" {
		card.Side = v.Type()
	}
	for _, name := range v.FieldNames() {
		x, f, ok := v.Field(name)
		if !ok || x == starlark.None || name == "name" || contains(otherwise, name) {
			continue
		}
		if name == "note" {
			card.Foot = append(card.Foot, Line(x))
			continue
		}
		text, unit := Line(x), f.Unit
		if n, isNumber := lang.AsNumber(x); isNumber {
			text, unit = valueAndUnit(n, name, f.Unit, f.Digits)
		}
		card.Items = append(card.Items, document.Item{Label: name, Value: text, Unit: unit})
	}
	return card
}

// valueAndUnit writes a quantity as cards do: a clock for splits and times over
// a distance, one decimal for the rate.
func valueAndUnit(x float64, name, unit string, digits int) (text, shownUnit string) {
	switch {
	case table.ClockFor(name, unit):
		return table.Clock(x, max(digits, 0)), map[string]string{"s/500 m": "/500 m"}[unit]
	case name == "rate":
		return show(x, 1), unit
	}
	return show(x, digits), unit
}

// strokeCard shows every result field of a stroke, its energy and its oar.
func strokeCard(s *strokeValue) *document.Card {
	title := s.name
	if title == "" {
		title = "stroke"
	}
	card := &document.Card{Title: title, Side: circumstances(s)}
	for _, f := range stroke.Fields {
		text, unit := valueAndUnit(f.Of(s.Stroke), f.Name, f.Unit, f.Digits)
		card.Items = append(card.Items, document.Item{Label: f.Name, Value: text, Unit: unit})
	}
	card.Foot = []string{"work " + show(s.Energy.Work(), 0) + " J a stroke: " + energyLine(s), oarLine(s)}
	return card
}

// circumstances say where and by whom the stroke was rowed.
func circumstances(s *strokeValue) string {
	parts := []string{s.hull.Boat}
	if s.crew.name != "" {
		parts = append(parts, s.crew.name)
	}
	parts = append(parts, show(s.crew.mean(func(r *rowerValue) float64 { return r.Mass }), -1)+" kg", show(s.crew.rate, -1)+"/min", windText(s), "water "+show(s.water.temperature, -1)+" °C")
	return strings.Join(parts, ", ")
}

func windText(s *strokeValue) string {
	switch w := s.Problem.Wind; {
	case w > 0:
		return "wind " + show(w, -1) + " m/s ahead"
	case w < 0:
		return "wind " + show(-w, -1) + " m/s astern"
	}
	return "no wind"
}

// energyLine says where the work went, in per cent: "water 71 %, blade 20 %".
func energyLine(s *strokeValue) string {
	e := &s.Energy
	var parts []string
	for _, p := range []struct {
		name string
		j    float64
	}{{"water", e.WaterDrag}, {"blade", e.BladeLoss}, {"air", e.AirDrag}, {"oar", e.OarSwing}, {"shaft", e.ShaftDamping + e.SpringLeft}} {
		if p.name == "shaft" && p.j < 0.005*e.Work() {
			continue
		}
		parts = append(parts, p.name+" "+show(100*p.j/e.Work(), 0)+" %")
	}
	return strings.Join(parts, ", ")
}

// oarLine says what was rowed with and how.
func oarLine(s *strokeValue) string {
	text := "oar " + oarText(s.oars[0])
	if len(s.oars) > 1 && s.unlike() {
		text = "an oar a seat, bow: " + oarText(s.oars[0])
	}
	text += "; " + s.crew.rowers[0].Style.Name + " style; " + strings.ReplaceAll(s.Problem.Hold.String(), "_", " ") + " held"
	return text
}

// unlike says whether the seats have different oars.
func (s *strokeValue) unlike() bool {
	for _, o := range s.oars[1:] {
		if !o.Oar.Equal(&s.oars[0].Oar) {
			return true
		}
	}
	return false
}

func oarText(o *oarValue) string {
	return fmt.Sprintf("%s / %s cm, %s", show(o.Length/cm, -1), show(o.Inboard/cm, -1), bladeText(&o.Blade))
}

// strokeShort is a stroke at the prompt.
func strokeShort(s *strokeValue) []string {
	name := s.name
	if name == "" {
		name = "stroke"
	}
	wind := windText(s)
	return []string{
		fmt.Sprintf("%s: %s, %s, %s over 2000 m; %s/min, %s, %s", name, s.said("speed"), s.said("split"), s.said("time_2000"), show(s.crew.rate, -1), s.said("power"), wind),
		fmt.Sprintf("  drive %s, rhythm %s, heaviness %s, peak %s, slip %s", s.said("drive_time"), show(s.of("rhythm"), 2), s.said("heaviness"), s.said("peak_force"), show(s.of("slip"), 0)+" cm"),
		fmt.Sprintf("  oar %s / %s cm, outboard %s; catch %s, finish %s deg", show(s.of("outboard")+s.of("inboard"), -1), show(s.of("inboard"), -1), show(s.of("outboard"), -1), show(s.of("catch"), -1), show(s.of("finish"), -1)),
	}
}

// oarCard shows an oar with its levers, and with a rig its ratios and overlap.
func oarCard(o *oarValue, rig *rigValue) *document.Card {
	title := o.name
	if title == "" {
		title = "oar"
	}
	card := &document.Card{Title: title, Side: fmt.Sprintf("%s / %s cm, %s", show(o.Length/cm, -1), show(o.Inboard/cm, -1), o.Kind())}
	add := func(label string, x float64, digits int, unit, remark string) {
		card.Items = append(card.Items, document.Item{Label: label, Value: show(x, digits), Unit: unit, Remark: remark})
	}
	add("outboard", o.Outboard()/cm, -1, "cm", fmt.Sprintf("pin to blade centre %s, pin to hands %s", show(o.Centre()/cm, 1), show(o.Lever()/cm, 1)))
	add("hand_weight", o.HandWeight(), 1, "N", fmt.Sprintf("swing_weight %s kg·m², %s", show(o.Inertia(), 2), o.swingFrom()))
	if o.Flexible() {
		add("stiffness", o.Deflection/mm, 1, "mm", "bend under 10 kg at the blade centre")
	}
	add("lever_ratio", rigging.LeverRatio(&o.Oar), 2, "", "outboard / inboard")
	if rig != nil && !math.IsNaN(rig.PinLine(o.Kind())) {
		below, half := "half the span of "+show(rig.Span/cm, -1), "the half span"
		if o.Kind() == blade.Sweep {
			below, half = "the spread of "+show(rig.Spread/cm, -1), "the spread"
		}
		add("spread_ratio", rigging.SpreadRatio(&o.Oar, &rig.Rig), 2, "", "outboard / "+below)
		add("survey_ratio", rigging.SurveyRatio(&o.Oar, &rig.Rig), 2, "", fmt.Sprintf("the same, half a gate (%s cm) off %s", show(o.HalfGate()/cm, -1), half))
	}
	add("effective_ratio", rigging.EffectiveRatio(&o.Oar, 0), 2, "", "pin to blade centre / pin to hands; at 60 deg "+show(rigging.EffectiveRatio(&o.Oar, 60*deg), 2))
	if rig != nil && !math.IsNaN(rig.PinLine(o.Kind())) {
		add("overlap", rigging.Overlap(&o.Oar, &rig.Rig, true)/cm, 1, "cm", "gates counted; pin to pin "+show(rigging.Overlap(&o.Oar, &rig.Rig, false)/cm, 1))
	}
	card.Foot = []string{bladeText(&o.Blade)}
	return card
}

func (o *oarValue) swingFrom() string {
	switch {
	case o.given.has("swing_weight"):
		return "as given"
	case o.given.has("mass"):
		return "from " + show(o.Mass, -1) + " kg"
	}
	return "from " + show(o.Mass, -1) + " kg (usual)"
}
