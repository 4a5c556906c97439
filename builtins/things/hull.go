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
	Same:  func(a, b *Hull) bool { return a.name == b.name && sameHull(a.Hull, b.Hull) && seat(a) == seat(b) },
	Line: func(h *Hull) string {
		return fmt.Sprintf("hull %s, %s kg, waterline %s m", h.Boat, table.Fixed(h.Mass, table.AutoDigits), table.Fixed(h.Waterline, 2))
	},
}

func seat(h *Hull) float64 {
	x, _ := h.SeatHeight()
	return x
}

// sameHull compares hulls, a wetted area left open being equal to itself.
func sameHull(a, b hull.Hull) bool {
	if math.IsNaN(a.WettedArea) && math.IsNaN(b.WettedArea) {
		a.WettedArea, b.WettedArea = 0, 0
	}
	return a == b
}

var hullRecord = &lang.Record{
	Name: "hull", Topic: "things", Makes: "hulls",
	Summary: "a boat by its class",
	Params: []lang.Param{
		{Name: "boat", Is: lang.Text, Needed: true, Choices: hull.Boats, Help: "class: 1x 2x 2- 2+ 4x 4- 4+ 8+", Also: []string{"kind"}, Meant: boatsMeant},
		{Name: "name", Is: lang.Text, ByName: true, Help: "how it is called"},
		{Name: "mass", Unit: "kg", Is: lang.Number, ByName: true, Shown: "by boat", Low: 5, High: 300, Help: "without crew and oars", Also: []string{"weight"}},
		{Name: "waterline", Unit: "m", Is: lang.Number, ByName: true, Shown: "by boat", Low: 3, High: 25, Help: "length in the water", Also: []string{"length"}},
		{Name: "form_factor", Is: lang.Number, ByName: true, Default: Fact("hull", "form_factor", ""), Low: 0, High: 1, Help: "resistance of the shape over that of a flat plate"},
		{Name: "wave_factor", Is: lang.Number, ByName: true, Default: Fact("hull", "wave_factor", ""), Low: 0, High: 1, Help: "resistance of waves over that of friction"},
		{Name: "drag_factor", Is: lang.Number, ByName: true, Shown: "by boat", Low: 0.5, High: 2, Help: "calibration of the class; 1 is bare theory"},
		{Name: "air_area", Unit: "m²", Is: lang.Number, ByName: true, Shown: "by boat", Low: 0.1, High: 6, Help: "drag area of crew and boat in the air"},
		{Name: "wetted_area", Unit: "m²", Is: lang.Number, ByName: true, Shown: "from the weight", Low: 0.5, High: 20, Help: "wetted surface"},
		{Name: "seat_over_water", Unit: "cm", Is: lang.Number, ByName: true, Shown: "by boat", Low: 0, High: 40, Help: "the seat's top over the water, the crew aboard: for hands and heights only"},
	},
	Gives:   "a hull: .seats .sculling .change() and what it takes",
	Example: `hull("4x", name="Otter's boat")`,
	Sources: []string{"model 6", "masses: World Rowing minimum masses", "drag_factor: a calibration, derived"},
	Also:    []string{"boat", "shell"},
}

// boatsMeant are what people call the classes.
var boatsMeant = map[string]lang.Meant{
	"single": {Choice: "1x", Why: "one sculler is a 1x"}, "skiff": {Choice: "1x", Why: "one sculler is a 1x"},
	"double": {Choice: "2x", Why: "two scullers are a 2x"}, "quad": {Choice: "4x", Why: "four scullers are a 4x"},
	"pair":         {Choice: "2-", Why: "two with an oar each are a 2-, with a cox a 2+"},
	"four":         {Choice: "4-", Why: "four with an oar each are a 4-, with a cox a 4+"},
	"coxless four": {Choice: "4-", Why: "four with an oar each and no cox are a 4-"}, "coxed four": {Choice: "4+", Why: "four with an oar each and a cox are a 4+"},
	"coxless pair": {Choice: "2-", Why: "two with an oar each and no cox are a 2-"}, "coxed pair": {Choice: "2+", Why: "two with an oar each and a cox are a 2+"},
	"eight": {Choice: "8+", Why: "eight with a cox are an 8+"}, "8": {Choice: "8+", Why: "an eight has a cox: 8+"},
}

func init() {
	hullRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		h, err := hull.New(c.Text("boat"))
		if err != nil {
			return nil, lang.Mistake("boats are 1x 2x 2- 2+ 4x 4- 4+ 8+", `hull("1x")`, "%v", err)
		}
		boat := h.Boat
		for name, field := range map[string]*float64{
			"mass": &h.Mass, "waterline": &h.Waterline, "form_factor": &h.FormFactor, "wave_factor": &h.WaveFactor,
			"drag_factor": &h.DragFactor, "air_area": &h.AirArea, "wetted_area": &h.WettedArea,
		} {
			if c.Given(name) {
				*field = c.Number(name)
			}
		}
		account.Used(c, "hull", boat, "mass", "waterline", "form_factor", "wave_factor", "drag_factor", "air_area")
		return HullType.New(&Hull{h, c.Number("seat_over_water") * units.Cm, c.Text("name"), GivenOf(c)}), nil
	}
	HullType.Fields = []lang.FieldOf[*Hull]{
		lang.TextField("boat", "class", func(h *Hull) string { return h.Boat }),
		lang.TextField("name", "how it is called", func(h *Hull) string { return h.name }),
		lang.NumberField("seats", "", 0, "rowers", func(h *Hull) float64 { return float64(h.Seats()) }),
		lang.ValueField("sculling", "two oars a rower", func(h *Hull) starlark.Value { return starlark.Bool(h.Sculling()) }),
		lang.NumberField("mass", "kg", 1, "without crew and oars", func(h *Hull) float64 { return h.Mass }),
		lang.NumberField("waterline", "m", 2, "length in the water", func(h *Hull) float64 { return h.Waterline }),
		lang.NumberField("form_factor", "", 3, "", func(h *Hull) float64 { return h.FormFactor }),
		lang.NumberField("wave_factor", "", 3, "", func(h *Hull) float64 { return h.WaveFactor }),
		lang.NumberField("drag_factor", "", 3, "", func(h *Hull) float64 { return h.DragFactor }),
		lang.NumberField("air_area", "m²", 2, "", func(h *Hull) float64 { return h.AirArea }),
		lang.NumberField("wetted_area", "m²", 2, "None: from the weight", func(h *Hull) float64 { return h.WettedArea }),
		lang.NumberField("seat_over_water", "cm", 1, "with the crew aboard", func(h *Hull) float64 { return seat(h) / units.Cm }),
	}
	HullType.Methods = []*lang.Record{
		ChangeRecord("hull", hullRecord, nil, func(v starlark.Value) Given { h, _ := HullType.From(v); return h.given }, nil),
	}
}
