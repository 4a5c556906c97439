package builtins

import (
	"fmt"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/stroke"
	"thole/engine/table"
)

var strokeType = &lang.Type[*strokeValue]{
	Name:  "stroke",
	Label: (*strokeValue).label,
	Line: func(s *strokeValue) string {
		name := "stroke"
		if s.name != "" {
			name += " " + s.name
		}
		return fmt.Sprintf("%s: %s, %s, %s, %s/min, %s, heaviness %s", name, s.hull.Boat,
			s.said("speed"), s.said("split"), show(s.crew.rate, -1), s.said("power"), s.said("heaviness"))
	},
}

// said gives a result field as a sentence says it: "4.288 m/s".
func (s *strokeValue) said(name string) string {
	f, ok := stroke.FieldNamed(name)
	if !ok {
		panic("no field " + name)
	}
	return table.Quantity(f.Of(s.Stroke), f.Name, f.Unit, f.Digits)
}

// of gives a result field's value.
func (s *strokeValue) of(name string) float64 {
	f, ok := stroke.FieldNamed(name)
	if !ok {
		panic("no field " + name)
	}
	return f.Of(s.Stroke)
}

// energyType is the energy book of a stroke.
var energyType = &lang.Type[*strokeValue]{
	Name: "energy",
	Line: func(s *strokeValue) string { return "energy of a stroke: " + energyLine(s) },
}

// strokeFieldDocs are the result fields as the language knows them.
func strokeFieldDocs() []lang.Field {
	var out []lang.Field
	for _, f := range stroke.Fields {
		out = append(out, lang.Field{Name: f.Name, Unit: f.Unit, Digits: f.Digits, Change: f.Change, Clock: f.Clock, Help: f.Help})
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

var traceRecord = &lang.Record{
	Name: "trace", Of: "stroke", Topic: "doing",
	Summary: "a table over the stroke's time, or at given oar angles",
	More:    &lang.Param{Name: "names", Is: lang.Text, Choices: stroke.Traces, Help: "columns; all of them unless some are named"},
	Params: []lang.Param{
		{Name: "at", Unit: "deg", Is: lang.List, ByName: true, Help: "oar angles of the drive, before square below 0"},
	},
	Gives:   "table: " + strings.Join(stroke.Traces, " "),
	Example: `usual.trace("angle", "handle_force", at=steps(-60, 40, 5))`,
	Sources: []string{"model 6"},
}

func init() {
	strokeType.Fields = []lang.FieldOf[*strokeValue]{
		value("hull", "", func(s *strokeValue) starlark.Value { return hullType.New(s.hull) }),
		value("crew", "", func(s *strokeValue) starlark.Value { return crewType.New(s.crew) }),
		value("oar", "of bow where seats differ", func(s *strokeValue) starlark.Value { return oarType.New(s.oars[0]) }),
		value("oars", "one a seat, bow first", func(s *strokeValue) starlark.Value {
			items := make([]starlark.Value, s.hull.Seats())
			for i := range items {
				items[i] = oarType.New(s.oar(i))
			}
			return starlark.Tuple(items)
		}),
		value("rig", "None where none was given", func(s *strokeValue) starlark.Value {
			if s.rig == nil {
				return starlark.None
			}
			return rigType.New(s.rig)
		}),
		number("wind", "m/s", 1, "from ahead counts up", func(s *strokeValue) float64 { return s.Problem.Wind }),
		value("water", "", func(s *strokeValue) starlark.Value { return waterType.New(s.water) }),
		word("name", "how tables and charts call it", (*strokeValue).label),
	}
	for _, f := range stroke.Fields {
		strokeType.Fields = append(strokeType.Fields, lang.FieldOf[*strokeValue]{
			Field: lang.Field{Name: f.Name, Unit: f.Unit, Digits: f.Digits, Change: f.Change, Clock: f.Clock, Help: f.Help},
			Get:   func(s *strokeValue) starlark.Value { return starlark.Float(tidy(f.Of(s.Stroke))) },
		})
	}
	strokeType.Fields = append(strokeType.Fields,
		value("energy", "energy book of one stroke of the whole boat, J", func(s *strokeValue) starlark.Value { return energyType.New(s) }),
		value("seats", "seat by seat, bow first", func(s *strokeValue) starlark.Value { return lang.NewTable(s.seatTable()) }),
	)
	for _, f := range stroke.EnergyFields {
		energyType.Fields = append(energyType.Fields, number(f.Name, "J", 0, f.Help, func(s *strokeValue) float64 { return f.Of(&s.Energy) }))
	}

	change := changeRecord("stroke", rowRecord, nil, func(v starlark.Value) given { s, _ := strokeType.From(v); return s.given }, nil)
	change.Summary = "rows again with some values replaced; takes what row takes"
	timeRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		s, _ := strokeType.From(c.Receiver)
		return starlark.Float(s.Over(c.Number("distance"))), nil
	}
	traceRecord.Do = traceDo
	strokeType.Methods = []*lang.Record{change, timeRecord, traceRecord}
}

// seatTable tells the seats apart, bow first.
func (s *strokeValue) seatTable() *table.Table {
	n := s.hull.Seats()
	at := func(i int) int { return min(i, len(s.Problem.Seats)-1) }
	seat, name := table.NewColumn("seat", "", table.Number), table.NewColumn("rower", "", table.Text)
	for i := range n {
		seat.Nums = append(seat.Nums, float64(i+1))
		name.Texts = append(name.Texts, s.crew.rowers[min(i, len(s.crew.rowers)-1)].name)
	}
	t := &table.Table{Columns: []*table.Column{seat, name}}
	for _, f := range stroke.Fields {
		if f.Seat == nil {
			continue
		}
		col := &table.Column{Name: f.Name, Unit: f.Unit, Digits: f.Digits, Change: f.Change, Kind: table.Number}
		for i := range n {
			col.Nums = append(col.Nums, f.Seat(s.Stroke, at(i)))
		}
		t.Columns = append(t.Columns, col)
	}
	return t
}

func traceDo(c *lang.Call) (starlark.Value, error) {
	s, _ := strokeType.From(c.Receiver)
	names := make([]string, 0, len(c.More))
	for _, v := range c.More {
		name, ok := starlark.AsString(v)
		if !ok || !contains(stroke.Traces, name) {
			near := table.Nearest(name, stroke.Traces)
			if near == "" {
				near = stroke.Traces[0]
			}
			return nil, lang.Mistake("a trace has "+listTexts(stroke.Traces), fmt.Sprintf("trace(%q)", near), "a trace has no %q", name)
		}
		names = append(names, name)
	}
	var at []float64
	if c.Given("at") {
		var err error
		if at, err = c.Numbers("at"); err != nil {
			return nil, err
		}
	}
	t, err := s.Trace(at)
	if err != nil {
		return nil, noStroke(err)
	}
	if len(names) > 0 {
		if t, err = t.Only(names...); err != nil {
			return nil, err
		}
	}
	return lang.NewTable(t), nil
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
