package rowing

import (
	"fmt"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/stroke"
	"thole/engine/table"
)

// StrokeType is a steady stroke: its result fields are those of engine/stroke.
var StrokeType = &lang.Type[*Stroke]{
	Name:  "stroke",
	Label: (*Stroke).label,
	Line: func(s *Stroke) string {
		name := "stroke"
		if s.Name != "" {
			name += " " + s.Name
		}
		return fmt.Sprintf("%s: %s, %s, %s, %s/min, %s, heaviness %s", name, s.Hull.Boat,
			s.Said("speed"), s.Said("split"), table.Fixed(s.Crew.Rate, -1), s.Said("power"),
			s.Said("heaviness"))
	},
}

// Said gives a result field as a sentence says it: "4.288 m/s".
func (s *Stroke) Said(name string) string {
	f, ok := stroke.FieldNamed(name)
	if !ok {
		panic("no field " + name)
	}
	return table.Quantity(f.Of(s.Stroke), f.Name, f.Unit, f.Digits)
}

// Of gives a result field's value.
func (s *Stroke) Of(name string) float64 {
	f, ok := stroke.FieldNamed(name)
	if !ok {
		panic("no field " + name)
	}
	return f.Of(s.Stroke)
}

// energyType is the energy book of a stroke.
var energyType = &lang.Type[*Stroke]{
	Name: "energy",
	Line: func(s *Stroke) string { return "energy of a stroke: " + energyLine(s) },
}

// FieldDocs are the result fields as the language knows them.
func FieldDocs() []lang.Field {
	var out []lang.Field
	for _, f := range stroke.Fields {
		out = append(out, lang.Field{Name: f.Name, Unit: f.Unit, Digits: f.Digits, Change: f.Change,
			Clock: f.Clock, Help: f.Help})
	}
	return out
}

var timeRecord = &lang.Record{
	Name: "time", Of: "stroke", Topic: "doing",
	Summary: "time over a distance at the stroke's mean speed, s",
	Params: []lang.Param{
		{Name: "distance", Unit: "m", Is: lang.Number, Needed: true, Low: 1, High: 200000, Help: "how far"},
	},
	Gives:   "seconds",
	Example: `usual.time(1000)`,
	Sources: []string{"model 8"},
}

func init() {
	StrokeType.Fields = []lang.FieldOf[*Stroke]{
		lang.ValueField("hull", "", func(s *Stroke) starlark.Value { return things.HullType.New(s.Hull) }),
		lang.ValueField("crew", "", func(s *Stroke) starlark.Value { return things.CrewType.New(s.Crew) }),
		lang.ValueField("oar", "of bow where seats differ", func(s *Stroke) starlark.Value {
			return things.OarType.New(s.Oars[0])
		}),
		lang.ValueField("oars", "one a seat, bow first", func(s *Stroke) starlark.Value {
			items := make([]starlark.Value, s.Hull.Seats())
			for i := range items {
				items[i] = things.OarType.New(s.Oar(i))
			}
			return starlark.Tuple(items)
		}),
		lang.ValueField("rig", "None where none was given", func(s *Stroke) starlark.Value {
			if s.Rig == nil {
				return starlark.None
			}
			return things.RigType.New(s.Rig)
		}),
		lang.NumberField("wind", "m/s", 1, "from ahead counts up", func(s *Stroke) float64 {
			return s.Problem.Wind
		}),
		lang.ValueField("water", "", func(s *Stroke) starlark.Value { return things.WaterType.New(s.water) }),
		lang.TextField("name", "how tables and charts call it", (*Stroke).label),
	}
	for _, f := range stroke.Fields {
		StrokeType.Fields = append(StrokeType.Fields, lang.FieldOf[*Stroke]{
			Field: lang.Field{Name: f.Name, Unit: f.Unit, Digits: f.Digits, Change: f.Change, Clock: f.Clock,
				Help: f.Help},
			Get: func(s *Stroke) starlark.Value {
				return starlark.Float(units.Clean(f.Of(s.Stroke), f.Unit))
			},
		})
	}
	StrokeType.Fields = append(StrokeType.Fields,
		lang.ValueField("energy", "energy book of one stroke of the whole boat, J",
			func(s *Stroke) starlark.Value { return energyType.New(s) }),
		lang.ValueField("seats", "seat by seat, bow first", func(s *Stroke) starlark.Value {
			return lang.NewTable(s.seatTable())
		}),
	)
	for _, f := range stroke.EnergyFields {
		energyType.Fields = append(energyType.Fields, lang.NumberField(f.Name, "J", 0, f.Help,
			func(s *Stroke) float64 { return f.Of(&s.Energy) }))
	}

	timeRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		s, _ := StrokeType.From(c.Receiver)
		return starlark.Float(s.Over(c.Number("distance"))), nil
	}
	StrokeType.Methods = []*lang.Record{changeStroke, timeRecord, traceRecord}
	StrokeType.Elsewhere = elsewhere()
}

// elsewhere is what people ask of a stroke that its rig, its trace or a function has.
func elsewhere() map[string]lang.Gone {
	out := map[string]lang.Gone{}
	for _, m := range things.RigMeasures {
		out[m.Name] = lang.Gone{Why: m.Name + " is a measure of its rig", Type: ".rig." + m.Name}
	}
	for _, name := range Traces {
		out[name] = lang.Gone{Why: name + " changes over the stroke", Type: `.trace("angle", "` + name + `")`}
	}
	out["pitch"] = lang.Gone{Why: "the rig has one pitch, the blade another at each angle",
		Type: `.rig.pitch, or .trace("angle", "pitch")`}
	out["lift"] = out["lift_at_hands"]
	for name, of := range map[string]string{"hands": "hands", "handles_apart": "handles_apart",
		"yaw": "yaw_moment", "yaw_moment": "yaw_moment"} {
		out[name] = lang.Gone{Why: of + " is a function, with the stroke between its brackets",
			Type: of + "(s), s being the stroke"}
	}
	return out
}

// seatTable tells the seats apart, bow first.
func (s *Stroke) seatTable() *table.Table {
	n := s.Hull.Seats()
	at := func(i int) int { return min(i, len(s.Problem.Seats)-1) }
	seat, name := table.NewColumn("seat", "", table.Number), table.NewColumn("rower", "", table.Text)
	for i := range n {
		seat.Nums = append(seat.Nums, float64(i+1))
		name.Texts = append(name.Texts, s.Crew.Rowers[min(i, len(s.Crew.Rowers)-1)].Name)
	}
	t := &table.Table{Columns: []*table.Column{seat, name}}
	for _, f := range stroke.Fields {
		if f.Seat == nil {
			continue
		}
		col := &table.Column{Name: f.Name, Unit: f.Unit, Digits: f.Digits, Change: f.Change,
			Kind: table.Number}
		for i := range n {
			col.Nums = append(col.Nums, f.Seat(s.Stroke, at(i)))
		}
		t.Columns = append(t.Columns, col)
	}
	return t
}
