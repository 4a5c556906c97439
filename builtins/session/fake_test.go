package session

import (
	"context"
	"math"
	"testing"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/document"
	"thole/engine/table"
)

// The tests' own little language: things with the names of the real ones, whose
// numbers are made up on the spot. Only what messages need is like the original.

type fakeThing struct {
	name  string
	nums  map[string]float64
	parts map[string]starlark.Value
}

var (
	fakeHulls   = fakeType("hull", "seats")
	fakeCrews   = fakeType("crew", "mass", "power", "rate")
	fakeOars    = fakeType("oar", "length", "inboard", "outboard")
	fakeStrokes = fakeType("stroke", "speed", "heaviness", "outboard", "drive_time")
)

var fakeUnits = map[string]string{"length": "cm", "inboard": "cm", "outboard": "cm", "speed": "m/s",
	"heaviness":  "N·s/m",
	"drive_time": "s", "mass": "kg", "power": "W", "rate": "1/min"}

func fakeField(name string) lang.Field {
	digits, change := table.DigitsFor(name, fakeUnits[name])
	return lang.Field{Name: name, Unit: fakeUnits[name], Digits: digits, Change: change}
}

func fakeType(kind string, fields ...string) *lang.Type[*fakeThing] {
	t := &lang.Type[*fakeThing]{Name: kind,
		Line:  func(f *fakeThing) string { return kind + " " + f.name },
		Label: func(f *fakeThing) string { return f.name }}
	for _, name := range fields {
		t.Fields = append(t.Fields,
			lang.FieldOf[*fakeThing]{Field: fakeField(name),
				Get: func(f *fakeThing) starlark.Value { return lang.Num(f.nums[name]) }})
	}
	for _, part := range map[string][]string{"stroke": {"oar", "crew"}}[kind] {
		t.Fields = append(t.Fields,
			lang.FieldOf[*fakeThing]{Field: lang.Field{Name: part},
				Get: func(f *fakeThing) starlark.Value { return f.parts[part] }})
	}
	return t
}

func number1(name, unit string, low, high float64, more ...func(*lang.Param)) lang.Param {
	p := lang.Param{Name: name, Unit: unit, Is: lang.Number, ByName: true, Low: low, High: high}
	for _, m := range more {
		m(&p)
	}
	return p
}

func needed(p *lang.Param) { p.Needed = true }

// fakeRow gives a stroke whose speed grows with the outboard; a rate over 37 at
// little power has none.
func fakeRow(c *lang.Call, oar, crew *fakeThing, name string) (starlark.Value, error) {
	drive := 1.3
	if crew.nums["power"] < 200 && crew.nums["rate"] > 37 {
		return nil, lang.NoAnswer("82 % leaves 0.28 s to come forward; a fifth, 0.32 s, is the least",
			"rate=37 (drive 79 %) or power=190 (80 %)",
			"the drive would take %.2f s of a %.2f s stroke", drive, 60/crew.nums["rate"])
	}
	out := oar.nums["outboard"]
	return fakeStrokes.New(&fakeThing{name: name,
		nums: map[string]float64{"speed": 3 + out/100, "heaviness": out - 20, "outboard": out,
			"drive_time": 0.8 + out/1000},
		parts: map[string]starlark.Value{"oar": fakeOars.New(oar), "crew": fakeCrews.New(crew)}}), nil
}

func fakeRecords() []*lang.Record {
	tells := func(name string, do func(s *Study, c *lang.Call) error, params ...lang.Param) *lang.Record {
		return &lang.Record{Name: name, Summary: "tells " + name, Topic: "telling", Tells: true, Fills: true,
			Params: params,
			Rest:   &lang.Param{Name: "names"},
			Do:     func(c *lang.Call) (starlark.Value, error) { return starlark.None, do(Of(c.Thread), c) }}
	}
	text := lang.Param{Name: "text", Is: lang.Text, Needed: true}
	fill := func(c *lang.Call, use func(string)) error {
		s, err := lang.Fill(c.Thread, c.Text("text"), c.Rest)
		if err == nil {
			use(s)
		}
		return err
	}
	return []*lang.Record{
		{Name: "hull", Summary: "a hull by its class", Makes: "hulls",
			Params: []lang.Param{{Name: "boat", Is: lang.Text, Needed: true,
				Choices: []string{"1x", "2x", "2-", "2+", "4x", "4-", "4+", "8+"},
				Meant:   map[string]lang.Meant{"quad": {Choice: "4x", Why: "four scullers are a 4x"}}}},
			Do: func(c *lang.Call) (starlark.Value, error) {
				return fakeHulls.New(&fakeThing{name: c.Text("boat"), nums: map[string]float64{"seats": 4}}),
					nil
			}},
		{Name: "crew", Summary: "rowers alike", Makes: "crews",
			Params: []lang.Param{number1("mass", "kg", 25, 160), number1("power", "W", 20, 1200),
				number1("rate", "1/min", 10, 55, needed),
				{Name: "seats", Is: lang.Whole, ByName: true}, {Name: "cox", Is: lang.Number, ByName: true},
				{Name: "name", Is: lang.Text, ByName: true}}, Do: func(c *lang.Call) (starlark.Value, error) {
				return fakeCrews.New(&fakeThing{name: c.Text("name"),
					nums: map[string]float64{"mass": c.Number("mass"), "power": c.Number("power"),
						"rate": c.Number("rate")}}), nil
			}},
		{Name: "oar", Summary: "an oar from its lengths and its " +
			"blade", Makes: "oars",
			Params: []lang.Param{number1("length", "cm", 150, 450, needed),
				number1("inboard", "cm", 50, 150, needed),
				{Name: "blade", Is: lang.Text, ByName: true}},
			Do: func(c *lang.Call) (starlark.Value, error) {
				return fakeOars.New(&fakeThing{nums: map[string]float64{"length": c.Number("length"),
						"inboard": c.Number("inboard"), "outboard": c.Number("length") - c.Number("inboard")}}),
					nil
			}},
		{Name: "rig", Summary: "a rig", Makes: "rigs", Params: []lang.Param{number1("span", "cm", 120, 200)},
			Do: func(c *lang.Call) (starlark.Value, error) { return starlark.None, nil }},
		{Name: "row", Summary: "a stroke", Says: "it rows a " +
			"stroke", Makes: "strokes",
			Params: []lang.Param{{Name: "hull", Is: lang.ThingOf, Types: []string{"hull"}, Needed: true},
				{Name: "crew", Is: lang.ThingOf, Types: []string{"crew"}, Needed: true},
				{Name: "oar", Is: lang.ThingOf, Types: []string{"oar"}, Needed: true},
				{Name: "name", Is: lang.Text, ByName: true}}, Do: func(c *lang.Call) (starlark.Value, error) {
				oar, _ := fakeOars.From(c.Value("oar"))
				crew, _ := fakeCrews.From(c.Value("crew"))
				return fakeRow(c, oar, crew, c.Text("name"))
			}},
		{Name: "vary", Summary: "a table over a grid", Says: "it rows one thing over many " +
			"values", Params: []lang.Param{{Name: "fn", Is: lang.Func, Needed: true}},
			Rest: &lang.Param{Name: "axes"}, Do: fakeVary},
		{Name: "read_csv", Summary: "a table from a " +
			"file", Reads: true,
			Params: []lang.Param{{Name: "path", Is: lang.Text, Needed: true},
				{Name: "columns", Is: lang.List, ByName: true}},
			Do: func(c *lang.Call) (starlark.Value, error) {
				data, err := Of(c.Thread).ReadFile(c.Text("path"))
				if err != nil {
					if e := lang.AsError(err); e != nil {
						return nil, c.Wrong("path", e)
					}
					return nil, err
				}
				return starlark.String(data), nil
			}},
		tells("title", func(s *Study, c *lang.Call) error { return fill(c, s.Title) }, text),
		tells("answer", func(s *Study, c *lang.Call) error { return fill(c, s.Answer) }, text),
		tells("note", func(s *Study, c *lang.Call) error {
			return fill(c, func(t string) { s.Tell(&document.Note{Markdown: t}) })
		}, text),
		tells("show", func(s *Study, c *lang.Call) error {
			s.Tell(&document.Shown{Line: c.Value("thing").String()})
			return nil
		}, lang.Param{Name: "thing", Needed: true}),
		tells("plot_curves", func(s *Study, c *lang.Call) error { return nil }),
		{Name: "fill", Summary: "a text with its places filled", Fills: true, Params: []lang.Param{text},
			Rest: &lang.Param{Name: "names"}, Do: func(c *lang.Call) (starlark.Value, error) {
				s, err := lang.Fill(c.Thread, c.Text("text"), c.Rest)
				return starlark.String(s), err
			}},
		{Name: "result", Summary: "a result", Tells: true,
			Params: []lang.Param{{Name: "name", Is: lang.Text, Needed: true}, {Name: "value", Needed: true}},
			Do: func(c *lang.Call) (starlark.Value, error) {
				f := lang.ParseName(c.Thread, c.Text("name"))
				x, _ := lang.AsNumber(c.Value("value"))
				return nil, Of(c.Thread).Result(document.Result{Name: f.Name, Unit: f.Unit, Value: x})
			}},
		{Name: "burst", Summary: "a fault of the tool", Do: func(c *lang.Call) (starlark.Value, error) {
			var none []int
			return starlark.MakeInt(none[len(none)]), nil
		}},
		ParamRecord,
	}
}

// fakeVary goes over a grid and gives the numbers that fn gives, blank where a
// point failed.
func fakeVary(c *lang.Call) (starlark.Value, error) {
	s := Of(c.Thread)
	axes := make([][]starlark.Value, len(c.Rest))
	names := make([]string, len(c.Rest))
	n := 1
	for i, a := range c.Rest {
		names[i] = a.Name
		axes[i], _ = lang.Items(a.Value)
		n *= len(axes[i])
	}
	point := func(k int) []starlark.Value {
		values := make([]starlark.Value, len(axes))
		for i := len(axes) - 1; i >= 0; i-- {
			values[i] = axes[i][k%len(axes[i])]
			k /= len(axes[i])
		}
		return values
	}
	points, err := s.Each(c, Calls{Fn: c.Func("fn"), N: n,
		Inputs: func(k int) []starlark.Tuple { return Inputs(names, point(k)) }, By: "vary", What: "rowing"})
	if err != nil {
		return nil, err
	}
	t := &table.Table{}
	for i, name := range names {
		col := table.NewColumn(name, fakeUnits[name], table.Number)
		for k := range points {
			x, _ := lang.AsNumber(point(k)[i])
			col.Nums = append(col.Nums, x)
		}
		t.Columns = append(t.Columns, col)
	}
	value := table.NewColumn("value", "", table.Number)
	reason := table.NewColumn("reason", "", table.Text)
	for _, p := range points {
		x := math.NaN()
		if p.Value != nil {
			if st, ok := fakeStrokes.From(p.Value); ok {
				x = st.nums["speed"]
			} else {
				x, _ = lang.AsNumber(p.Value)
			}
		}
		value.Nums = append(value.Nums, x)
		reason.Texts = append(reason.Texts, p.Reason)
	}
	t.Columns = append(t.Columns, value, reason)
	return lang.NewTable(t), nil
}

var fakeLibrary = func() *lang.Library {
	for _, t := range []*lang.Type[*fakeThing]{fakeOars, fakeCrews} {
		t.Methods = []*lang.Record{fakeChange(t)}
	}
	fakeStrokes.Methods = []*lang.Record{{Name: "change", Of: "stroke",
		Params: []lang.Param{{Name: "oar", Is: lang.ThingOf, Types: []string{"oar"}, ByName: true},
			{Name: "crew", Is: lang.ThingOf, Types: []string{"crew"}, ByName: true},
			{Name: "name", Is: lang.Text, ByName: true}}, Do: func(c *lang.Call) (starlark.Value, error) {
			st, _ := fakeStrokes.From(c.Receiver)
			oar, _ := fakeOars.From(st.parts["oar"])
			crew, _ := fakeCrews.From(st.parts["crew"])
			if c.Given("oar") {
				oar, _ = fakeOars.From(c.Value("oar"))
			}
			if c.Given("crew") {
				crew, _ = fakeCrews.From(c.Value("crew"))
			}
			return fakeRow(c, oar, crew, c.Text("name"))
		}}}
	l := &lang.Library{
		Records: append(fakeRecords(), lang.Basics()...),
		Things: []lang.ThingDoc{lang.TableDoc(), lang.EstimateDoc(), fakeHulls.Doc(), fakeCrews.Doc(),
			fakeOars.Doc(), fakeStrokes.Doc()},
		Values: starlark.StringDict{"math": lang.Math},
		Later:  []string{"find", "judge", "allocate"},
	}
	for _, name := range []string{"speed", "heaviness", "drive_time"} {
		l.Fields = append(l.Fields, fakeField(name))
	}
	return l.Seal()
}()

func fakeChange(t *lang.Type[*fakeThing]) *lang.Record {
	r := &lang.Record{Name: "change", Of: t.Name, Summary: "a copy, changed"}
	for _, f := range t.Fields {
		r.Params = append(r.Params, lang.Param{Name: f.Name, Unit: f.Unit, Is: lang.Number, ByName: true})
	}
	r.Do = func(c *lang.Call) (starlark.Value, error) {
		old, _ := t.From(c.Receiver)
		n := &fakeThing{name: old.name, nums: map[string]float64{}}
		for k, v := range old.nums {
			n.nums[k] = v
		}
		for _, p := range r.Params {
			if c.Given(p.Name) {
				n.nums[p.Name] = c.Number(p.Name)
			}
		}
		return t.New(n), nil
	}
	return r
}

// run runs a text with the tests' language.
func run(t *testing.T, name, text string, change ...func(*Config)) *Outcome {
	t.Helper()
	cfg := Config{Library: fakeLibrary, Jobs: 2}
	for _, c := range change {
		c(&cfg)
	}
	return Run(context.Background(), name, []byte(text), cfg)
}
