package things

import (
	"math"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/units"
	"thole/engine/rigging"
	"thole/engine/table"
)

// Rig is where the pins stand.
type Rig struct {
	rigging.Rig
	name  string
	given Given
}

// RigType is a rig: its fields, and what compares two.
var RigType = &lang.Type[*Rig]{
	Name:  "rig",
	Label: func(r *Rig) string { return r.name },
	Same:  SameRig,
	Line: func(r *Rig) string {
		var parts []string
		add := func(what string, x float64, digits int, unit string) {
			if !math.IsNaN(x) {
				parts = append(parts, what+" "+table.Fixed(x, digits)+" "+unit)
			}
		}
		add("span", r.Span/units.Cm, 1, "cm")
		add("spread", r.Spread/units.Cm, 1, "cm")
		add("height", r.Height/units.Cm, 1, "cm")
		add("pitch", r.Pitch/units.Deg, 1, "deg")
		add("work through", r.WorkThrough/units.Cm, 1, "cm")
		return "rig " + strings.Join(parts, ", ")
	},
}

// SameRig compares rigs; what was not given of both is alike.
func SameRig(a, b *Rig) bool {
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

func init() {
	rigRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		if !c.Given("span") && !c.Given("spread") {
			return nil, lang.Mistake("span, pin to pin, for sculling; spread, midline to pin, for sweep", "rig(span=159) or rig(spread=85)", "a rig needs a span or a spread")
		}
		if c.Given("span") && c.Given("spread") {
			return nil, lang.Mistake("span belongs to sculling, spread to sweep", "one of them", "a rig has a span or a spread, not both")
		}
		r := rigging.Rig{
			Span: c.SI("span"), Spread: c.SI("spread"), Height: c.SI("height"),
			Pitch: c.SI("pitch"), WorkThrough: c.SI("work_through"),
		}
		return RigType.New(&Rig{r, c.Text("name"), GivenOf(c)}), nil
	}
	RigType.Fields = []lang.FieldOf[*Rig]{
		lang.NumberField("span", "cm", 1, "pin to pin", func(r *Rig) float64 { return r.Span }),
		lang.NumberField("spread", "cm", 1, "midline to pin", func(r *Rig) float64 { return r.Spread }),
		lang.TextField("name", "how it is called", func(r *Rig) string { return r.name }),
		lang.NumberField("height", "cm", 1, "gate over the seat", func(r *Rig) float64 { return r.Height }),
		lang.NumberField("pitch", "deg", 1, "stern pitch", func(r *Rig) float64 { return r.Pitch }),
		lang.NumberField("work_through", "cm", 1, "", func(r *Rig) float64 { return r.WorkThrough }),
	}
	RigType.Methods = []*lang.Record{
		ChangeRecord("rig", rigRecord, nil, func(v starlark.Value) Given { r, _ := RigType.From(v); return r.given }, nil),
	}
}
