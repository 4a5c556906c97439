package things

import (
	"fmt"
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/units"
	"thole/engine/hull"
	"thole/engine/table"
)

// Hull is a boat of a study.
type Hull struct {
	hull.Hull
	SeatOverWater float64 // m; NaN: by boat, SeatHeight
	name          string
	given         Given
}

// Called is the boat's own name, "" where it has none.
func (h *Hull) Called() string { return h.name }

// SeatHeight is the seat over the water, m, and whether the study measured it; else it is
// the boat's default.
func (h *Hull) SeatHeight() (x float64, measured bool) {
	if !math.IsNaN(h.SeatOverWater) {
		return h.SeatOverWater, true
	}
	return Fact("hull", "seat_over_water", h.Boat) * units.Cm, false
}

// HullType is a boat: its fields, and what compares two.
var HullType = &lang.Type[*Hull]{
	Name:  "hull",
	Label: func(h *Hull) string { return h.name },
	Same: func(a, b *Hull) bool {
		return a.name == b.name && sameHull(a.Hull, b.Hull) && seat(a) == seat(b)
	},
	Line: func(h *Hull) string {
		return fmt.Sprintf("hull %s, %s kg, waterline %s m", h.Boat, table.Fixed(h.Mass, table.AutoDigits),
			table.Fixed(h.Waterline, 2))
	},
}

func seat(h *Hull) float64 {
	x, _ := h.SeatHeight()
	return x
}

// sameHull compares hulls, what is left open being equal to itself.
func sameHull(a, b hull.Hull) bool {
	for _, open := range [][2]*float64{{&a.WettedArea, &b.WettedArea}, {&a.WaveFactor, &b.WaveFactor},
		{&a.AirArea, &b.AirArea}} {
		if math.IsNaN(*open[0]) && math.IsNaN(*open[1]) {
			*open[0], *open[1] = 0, 0
		}
	}
	return a == b
}

var hullRecord = &lang.Record{
	Name: "hull", Topic: "things", Makes: "hulls",
	Summary: "a boat by its class",
	Params: []lang.Param{
		{Name: "boat", Is: lang.Text, Needed: true, Choices: hull.Boats,
			Help: "class: 1x 2x 2- 2+ 4x 4- 4+ 8+", Also: []string{"kind"}, Meant: boatsMeant},
		{Name: "name", Is: lang.Text, ByName: true, Help: "how it is called"},
		{Name: "mass", Unit: "kg", Is: lang.Number, ByName: true, Shown: "by boat", Low: 5, High: 300,
			Help: "without crew and oars", Also: []string{"weight"}},
		{Name: "waterline", Unit: "m", Is: lang.Number, ByName: true, Shown: "by boat", Low: 3, High: 25,
			Help: "length in the water", Also: []string{"length"}},
		{Name: "form_factor", Is: lang.Number, ByName: true, Default: Fact("hull", "form_factor", ""), Low: 0,
			High: 1, Help: "resistance of the shape over that of a flat plate"},
		{Name: "wave_factor", Is: lang.Number, ByName: true, Shown: "waves computed", Low: 0, High: 1,
			Help: "waves as this share of friction, whatever speed and depth; left out they follow speed, " +
				"weight and depth of water"},
		{Name: "class_factor", Is: lang.Number, ByName: true, Shown: "by boat", Low: 0.5, High: 2,
			Help: "calibration of the class; 1 is bare theory"},
		{Name: "air_area", Unit: "m²", Is: lang.Number, ByName: true, Shown: "bodies and oars computed",
			Low: 0.1, High: 6,
			Help: "one drag area for all that is in the air; left out the oars meet the air by " +
				"themselves, forward and back"},
		{Name: "body_area", Unit: "m²", Is: lang.Number, ByName: true, Default: Fact("hull", "body_area", ""),
			Low: 0.1, High: 2, Help: "drag area in the air of the first rower with rigger and boat"},
		{Name: "sheltered_area", Unit: "m²", Is: lang.Number, ByName: true, Default: Fact("hull",
			"sheltered_area", ""), Low: 0, High: 2, Help: "drag area in the air of each rower behind"},
		{Name: "transition", Is: lang.Number, ByName: true, Default: Fact("hull", "transition", ""), Low: 0,
			High: 5e6,
			Help: "Reynolds number where the smooth flow along the hull turns rough, such as 1e6; 0: " +
				"rough from the bow"},
		{Name: "wetted_area", Unit: "m²", Is: lang.Number, ByName: true, Shown: "from the weight", Low: 0.5,
			High: 20, Help: "wetted surface"},
		{Name: "seat_over_water", Unit: "cm", Is: lang.Number, ByName: true, Shown: "by boat", Low: 0,
			High: 40, Help: "the seat's top over the water, the crew aboard: for hands and heights only"},
	},
	Gives:   "a hull: .seats .sculling .change() and what it takes",
	Example: `hull("4x", name="Otter's boat")`,
	Sources: []string{"model 10", "model 11", "masses: World Rowing minimum masses",
		"class_factor: a calibration, derived from best times of record"},
	Also: []string{"boat", "shell"},
}

// boatsMeant are what people call the classes.
var boatsMeant = map[string]lang.Meant{
	"single": {Choice: "1x", Why: "one sculler is a 1x"}, "skiff": {Choice: "1x", Why: "one sculler is a 1x"},
	"double": {Choice: "2x", Why: "two scullers are a 2x"}, "quad": {Choice: "4x",
		Why: "four scullers are a 4x"},
	"pair":         {Choice: "2-", Why: "two with an oar each are a 2-, with a cox a 2+"},
	"four":         {Choice: "4-", Why: "four with an oar each are a 4-, with a cox a 4+"},
	"coxless four": {Choice: "4-", Why: "four with an oar each and no cox are a 4-"},
	"coxed four":   {Choice: "4+", Why: "four with an oar each and a cox are a 4+"},
	"coxless pair": {Choice: "2-", Why: "two with an oar each and no cox are a 2-"},
	"coxed pair":   {Choice: "2+", Why: "two with an oar each and a cox are a 2+"},
	"eight":        {Choice: "8+", Why: "eight with a cox are an 8+"}, "8": {Choice: "8+",
		Why: "an eight has a cox: 8+"},
}

func init() {
	hullRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		h, err := hull.New(c.Text("boat"))
		if err != nil {
			return nil, lang.Mistake("boats are 1x 2x 2- 2+ 4x 4- 4+ 8+", `hull("1x")`, "%v", err)
		}
		boat := h.Boat
		c.Put("mass", &h.Mass)
		c.Put("waterline", &h.Waterline)
		c.Put("form_factor", &h.FormFactor)
		c.Put("wave_factor", &h.WaveFactor)
		c.Put("class_factor", &h.ClassFactor)
		c.Put("air_area", &h.AirArea)
		c.Put("wetted_area", &h.WettedArea)
		c.Put("body_area", &h.BodyArea)
		c.Put("sheltered_area", &h.Sheltered)
		c.Put("transition", &h.Transition)
		for _, name := range []string{"body_area", "sheltered_area"} {
			if c.Given(name) && c.Given("air_area") {
				return nil, c.Wrong(name, lang.Mistake("air_area= is one area for everything in the air, "+
					name+"= a part of what is computed without it", "one of the two",
					"%s= and air_area= do not go together", name))
			}
		}
		account.Used(c, "hull", boat, "mass", "waterline", "form_factor", "class_factor")
		if h.OarsInAir() {
			account.Used(c, "hull", boat, "body_area")
			if h.Seats() > 1 {
				account.Used(c, "hull", boat, "sheltered_area")
			}
		}
		return HullType.New(&Hull{h, c.SI("seat_over_water"), c.Text("name"), GivenOf(c)}), nil
	}
	HullType.Fields = []lang.FieldOf[*Hull]{
		lang.TextField("boat", "class", func(h *Hull) string { return h.Boat }),
		lang.TextField("name", "how it is called", func(h *Hull) string { return h.name }),
		lang.NumberField("seats", "", 0, "rowers", func(h *Hull) float64 { return float64(h.Seats()) }),
		lang.ValueField("sculling", "two oars a rower", func(h *Hull) starlark.Value {
			return starlark.Bool(h.Sculling())
		}),
		lang.NumberField("mass", "kg", 1, "without crew and oars", func(h *Hull) float64 { return h.Mass }),
		lang.NumberField("waterline", "m", 2, "length in the water", func(h *Hull) float64 {
			return h.Waterline
		}),
		lang.NumberField("form_factor", "", 3, "", func(h *Hull) float64 { return h.FormFactor }),
		lang.NumberField("wave_factor", "", 3, "None: waves computed", func(h *Hull) float64 {
			return h.WaveFactor
		}),
		lang.NumberField("class_factor", "", 3, "", func(h *Hull) float64 { return h.ClassFactor }),
		lang.NumberField("air_area", "m²", 2, "None: bodies and oars computed",
			func(h *Hull) float64 { return h.AirArea }),
		lang.NumberField("body_area", "m²", 3, "of the first rower, with rigger and boat",
			func(h *Hull) float64 { return h.BodyArea }),
		lang.NumberField("sheltered_area", "m²", 3, "of each rower behind", func(h *Hull) float64 {
			return h.Sheltered
		}),
		lang.NumberField("transition", "", -1, "0: rough from the bow", func(h *Hull) float64 {
			return h.Transition
		}),
		lang.NumberField("wetted_area", "m²", 2, "None: from the weight", func(h *Hull) float64 {
			return h.WettedArea
		}),
		lang.NumberField("seat_over_water", "cm", 1, "with the crew aboard", func(h *Hull) float64 {
			return seat(h)
		}),
	}
	HullType.Methods = []*lang.Record{
		ChangeRecord("hull", hullRecord, nil, func(v starlark.Value) Given {
			h, _ := HullType.From(v)
			return h.given
		}, nil),
	}
}
