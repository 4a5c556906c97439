package things

import (
	"math"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/units"
	"thole/engine/rigging"
	"thole/engine/table"
	"thole/engine/words"
)

// Rig is where pins, slides and stretcher stand.
type Rig struct {
	rigging.Rig
	Sides string // the seats' sides from bow, p port and s starboard; "" where not said
	Name  string
	given Given
}

// RigType is a rig: its fields, and what compares two.
var RigType = &lang.Type[*Rig]{
	Name:  "rig",
	Label: func(r *Rig) string { return r.Name },
	Same:  SameRig,
	Line: func(r *Rig) string {
		var parts []string
		for _, m := range RigMeasures {
			if x := m.Of(r); !math.IsNaN(x) {
				parts = append(parts, words.Spaced(m.Name)+" "+table.Fixed(units.Trade(x, m.Unit), 1)+" "+
					m.Unit)
			}
		}
		if r.Sides != "" {
			parts = append(parts, "sides "+r.Sides)
		}
		return "rig " + strings.Join(parts, ", ")
	},
}

// SameRig compares rigs; what was not given of both is alike.
func SameRig(a, b *Rig) bool {
	return a == b || a.Name == b.Name && a.Sides == b.Sides && a.Rig.Equal(&b.Rig)
}

// RigMeasure is one number that a rigger sets, as it is typed and told.
type RigMeasure struct {
	Name, Unit string
	Help       string
	Of         func(r *Rig) float64 // in SI; NaN where not given
}

// RigMeasures are all of them, in the order in which a rigger sets them.
var RigMeasures = []RigMeasure{
	{"span", "cm", "pin to pin", func(r *Rig) float64 { return r.Span }},
	{"spread", "cm", "midline to pin", func(r *Rig) float64 { return r.Spread }},
	{"height", "cm", "gate over the seat", func(r *Rig) float64 { return r.Height }},
	{"gates_apart", "cm", "starboard gate over port gate", func(r *Rig) float64 { return r.Apart }},
	{"pitch", "deg", "stern pitch", func(r *Rig) float64 { return r.Pitch }},
	{"outward_pitch", "deg", "the pin's lean outward", func(r *Rig) float64 { return r.Outward }},
	{"work_through", "cm", "front stop sternward of the pins",
		func(r *Rig) float64 { return r.WorkThrough }},
	{"stretcher", "cm", "heels sternward of the front stop", func(r *Rig) float64 { return r.Stretcher }},
}

var narrowWide = [2]string{"narrower", "wider"}

// washers is what a rigger has in his hand; the rig's number is what it does.
var washers = lang.Gone{Why: "a washer sets how high the gate stands over the seat: measure it, and give " +
	"that", Type: "height=17"}

var rigRecord = &lang.Record{
	Name: "rig", Topic: "things", Makes: "rigs",
	Summary: "where pins, slides and stretcher stand",
	Params: []lang.Param{
		{Name: "span", Unit: "cm", Is: lang.Number, ByName: true, Low: 120, High: 200,
			Usual: []lang.Usual{{Low: 154, High: 162}}, Extremes: narrowWide,
			Help: "pin centre to pin centre, sculling"},
		{Name: "spread", Unit: "cm", Is: lang.Number, ByName: true, Low: 60, High: 110,
			Usual: []lang.Usual{{Low: 81, High: 89}}, Extremes: narrowWide,
			Help: "hull's midline to pin centre, sweep"},
		{Name: "name", Is: lang.Text, ByName: true, Help: "how it is called"},
		{Name: "height", Unit: "cm", Is: lang.Number, ByName: true, Low: 0, High: 35,
			Usual: []lang.Usual{{Low: 14, High: 20}}, Extremes: [2]string{"lower", "higher"},
			Help: "gate over the seat; the mean of two unlike gates", Also: []string{"gate_height"}},
		{Name: "gates_apart", Unit: "cm", Is: lang.Number, ByName: true, Low: -5, High: 5,
			Help: "how much higher the starboard gate stands, sculling; 0 unless given"},
		{Name: "pitch", Unit: "deg", Is: lang.Number, ByName: true, Low: -2, High: 15,
			Usual: []lang.Usual{{Low: 2, High: 7}},
			Help:  "stern pitch: the blade's top edge toward the stern", Also: []string{"stern_pitch"}},
		{Name: "outward_pitch", Unit: "deg", Is: lang.Number, ByName: true, Low: -6, High: 8,
			Usual: []lang.Usual{{Low: 0, High: 3}}, Help: "the pin's top leans away from the hull",
			Also: []string{"lateral_pitch"}},
		{Name: "work_through", Unit: "cm", Is: lang.Number, ByName: true, Low: -20, High: 20,
			Help: "the seat's front stop sternward of the line through the pins", Also: []string{"through",
				"workthrough"}},
		{Name: "stretcher", Unit: "cm", Is: lang.Number, ByName: true, Low: 0, High: 120,
			Help: "heels sternward of the front stop; measured from the pins: take the work-through off",
			Also: []string{"foot_stretcher", "footstretcher", "stretchers"}},
		{Name: "sides", Is: lang.Text, ByName: true,
			Help: `a letter a seat, bow first: p port, s starboard, as "psps"; sweep`},
	},
	Gives: "a rig. Pins, slides and stretcher move the hands against the pins: stroke.change(rig=) " +
		"moves catch and finish",
	Errors: []string{"neither span nor spread, or both",
		"sides in a sculling rig, or of other letters than p and s"},
	Gone: map[string]lang.Gone{"washers": washers, "washer": washers, "spacers": washers,
		"spacer": washers},
	Example: `rig(span=159, height=16, pitch=4, work_through=8, stretcher=46)`,
	Notes: []string{"oarlock, gate and button: the button (collar) rests on the gate (oarlock) that turns " +
		"about the pin",
		"a pin moved sternward by 1 cm takes 1 cm off work_through; slides moved sternward alone put 1 cm " +
			"on work_through and take 1 cm off stretcher"},
	Sources: []string{"model 12", "federation survey sheet",
		"stretcher from the front stop, outward pitch 0 to 3: common practice, no source"},
	Next: "plot_rig",
}

func init() {
	rigRecord.Do = makeRig
	for _, m := range RigMeasures {
		RigType.Fields = append(RigType.Fields, lang.NumberField(m.Name, m.Unit, 1, m.Help, m.Of))
	}
	RigType.Fields = append(RigType.Fields,
		lang.TextField("sides", "port and starboard, bow first", func(r *Rig) string { return r.Sides }),
		lang.TextField("name", "how it is called", func(r *Rig) string { return r.Name }))
	RigType.Methods = []*lang.Record{
		ChangeRecord("rig", rigRecord, nil, func(v starlark.Value) Given {
			r, _ := RigType.From(v)
			return r.given
		}, nil),
	}
}

func makeRig(c *lang.Call) (starlark.Value, error) {
	if !c.Given("span") && !c.Given("spread") {
		return nil, lang.Mistake("span, pin to pin, for sculling; spread, midline to pin, for sweep",
			"rig(span=159) or rig(spread=85)", "a rig needs a span or a spread")
	}
	if c.Given("span") && c.Given("spread") {
		return nil, lang.Mistake("span belongs to sculling, spread to sweep", "one of them",
			"a rig has a span or a spread, not both")
	}
	sides := c.Text("sides")
	switch {
	case sides != "" && c.Given("span"):
		return nil, c.Wrong("sides", lang.Mistake("scullers row on both sides", "sides out of this rig",
			"sides belong to sweep boats"))
	case strings.Trim(sides, "ps") != "":
		return nil, c.Wrong("sides", lang.Mistake("a letter a seat, bow first: p port, s starboard",
			`sides="psps"`, "sides %q has other letters than p and s", sides))
	case c.Given("gates_apart") && c.Given("spread"):
		return nil, c.Wrong("gates_apart", lang.Mistake("a sweep seat has one gate", "height= alone",
			"gates apart belong to sculling"))
	}
	r := rigging.Rig{
		Span: c.SI("span"), Spread: c.SI("spread"),
		Height: c.SI("height"), Apart: c.SI("gates_apart"),
		Pitch: c.SI("pitch"), Outward: c.SI("outward_pitch"),
		WorkThrough: c.SI("work_through"), Stretcher: c.SI("stretcher"),
	}
	return RigType.New(&Rig{r, sides, c.Text("name"), GivenOf(c)}), nil
}
