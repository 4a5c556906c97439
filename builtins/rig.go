package builtins

import (
	"math"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/fluid"
	"thole/engine/rigging"
)

// rigValue is where the pins stand.
type rigValue struct {
	rigging.Rig
	name  string
	given given
}

var rigType = &lang.Type[*rigValue]{
	Name:  "rig",
	Label: func(r *rigValue) string { return r.name },
	Same:  sameRig,
	Line: func(r *rigValue) string {
		var parts []string
		add := func(what string, x float64, digits int, unit string) {
			if !math.IsNaN(x) {
				parts = append(parts, what+" "+show(x, digits)+" "+unit)
			}
		}
		add("span", r.Span/cm, 1, "cm")
		add("spread", r.Spread/cm, 1, "cm")
		add("height", r.Height/cm, 1, "cm")
		add("pitch", r.Pitch/deg, 1, "deg")
		add("work through", r.WorkThrough/cm, 1, "cm")
		return "rig " + strings.Join(parts, ", ")
	},
}

// sameRig compares rigs; what was not given of both is alike.
func sameRig(a, b *rigValue) bool {
	alike := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
	return a == b || a.name == b.name && alike(a.Span, b.Span) && alike(a.Spread, b.Spread) && alike(a.Height, b.Height) &&
		alike(a.Pitch, b.Pitch) && alike(a.WorkThrough, b.WorkThrough)
}

var rigRecord = &lang.Record{
	Name: "rig", Topic: "things", Makes: "rigs",
	Summary: "where the pins stand: for ratios, overlap and cards",
	Params: []lang.Param{
		{Name: "span", Unit: "cm", Is: lang.Number, ByName: true, Low: 120, High: 200, Usual: []lang.Usual{{Low: 154, High: 162}}, Help: "pin centre to pin centre, sculling"},
		{Name: "spread", Unit: "cm", Is: lang.Number, ByName: true, Low: 60, High: 110, Usual: []lang.Usual{{Low: 81, High: 89}}, Help: "hull's midline to pin centre, sweep"},
		{Name: "name", Is: lang.Text, ByName: true, Help: "how it is called"},
		{Name: "height", Unit: "cm", Is: lang.Number, ByName: true, Low: 0, High: 35, Usual: []lang.Usual{{Low: 14, High: 20}}, Help: "gate over the seat"},
		{Name: "pitch", Unit: "deg", Is: lang.Number, ByName: true, Low: -2, High: 15, Usual: []lang.Usual{{Low: 2, High: 7}}, Help: "stern pitch"},
		{Name: "work_through", Unit: "cm", Is: lang.Number, ByName: true, Low: -20, High: 20, Help: "how far the pins stand sternward of the front stops"},
	},
	Gives:   "a rig. It moves no equation: spread and span act through inboard and angles (fit_inboard)",
	Example: `rig(span=159, height=16, pitch=4)`,
	Sources: []string{"model 1", "facts 6: federation survey sheet"},
}

// waterValue is what the boat moves in.
type waterValue struct {
	temperature float64 // °C
	water       fluid.Water
}

var waterType = &lang.Type[*waterValue]{
	Name: "water",
	Same: func(a, b *waterValue) bool { return a.temperature == b.temperature },
	Line: func(w *waterValue) string { return "water " + show(w.temperature, 1) + " °C" },
}

var waterRecord = &lang.Record{
	Name: "water", Topic: "things",
	Summary: "fresh water at a temperature",
	Params: []lang.Param{
		{Name: "temperature", Unit: "°C", Is: lang.Number, Default: fact("water", "temperature", ""), Low: 0, High: 30, Help: "colder water is denser and stickier"},
	},
	Gives:   "water: .temperature .density .viscosity",
	Example: `water(temperature=8)`,
	Sources: []string{"ITTC 7.5-02-01-03 (density; viscosity at 15 °C), other viscosities from memory, high"},
}

func init() {
	rigRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		if !c.Given("span") && !c.Given("spread") {
			return nil, lang.Mistake("span, pin to pin, for sculling; spread, midline to pin, for sweep", "rig(span=159) or rig(spread=85)", "a rig needs a span or a spread")
		}
		if c.Given("span") && c.Given("spread") {
			return nil, lang.Mistake("span belongs to sculling, spread to sweep", "one of them", "a rig has a span or a spread, not both")
		}
		r := rigging.Rig{
			Span: c.Number("span") * cm, Spread: c.Number("spread") * cm, Height: c.Number("height") * cm,
			Pitch: c.Number("pitch") * deg, WorkThrough: c.Number("work_through") * cm,
		}
		return rigType.New(&rigValue{r, c.Text("name"), givenOf(c)}), nil
	}
	rigType.Fields = []lang.FieldOf[*rigValue]{
		number("span", "cm", 1, "pin to pin", func(r *rigValue) float64 { return r.Span / cm }),
		number("spread", "cm", 1, "midline to pin", func(r *rigValue) float64 { return r.Spread / cm }),
		word("name", "how it is called", func(r *rigValue) string { return r.name }),
		number("height", "cm", 1, "gate over the seat", func(r *rigValue) float64 { return r.Height / cm }),
		number("pitch", "deg", 1, "stern pitch", func(r *rigValue) float64 { return r.Pitch / deg }),
		number("work_through", "cm", 1, "", func(r *rigValue) float64 { return r.WorkThrough / cm }),
	}
	rigType.Methods = []*lang.Record{
		changeRecord("rig", rigRecord, nil, func(v starlark.Value) given { r, _ := rigType.From(v); return r.given }, nil),
	}

	waterRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		return waterType.New(waterAt(c.Number("temperature"))), nil
	}
	waterType.Fields = []lang.FieldOf[*waterValue]{
		number("temperature", "°C", 1, "", func(w *waterValue) float64 { return w.temperature }),
		number("density", "kg/m³", 2, "", func(w *waterValue) float64 { return w.water.Density }),
		number("viscosity", "m²/s", -1, "", func(w *waterValue) float64 { return w.water.Viscosity }),
	}
}

func waterAt(celsius float64) *waterValue { return &waterValue{celsius, fluid.FreshWater(celsius)} }
