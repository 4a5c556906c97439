package things

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/units"
	"thole/engine/blade"
	"thole/engine/rounding"
	"thole/engine/table"
)

// Blade is a blade of a study.
type Blade struct {
	blade.Blade
	name  string
	given Given
}

var bladeType = &lang.Type[*Blade]{
	Name:  "blade",
	Label: func(b *Blade) string { return b.name },
	Same:  func(a, b *Blade) bool { return a.name == b.name && a.Blade.Equal(&b.Blade) },
	Line:  func(b *Blade) string { return "blade " + BladeText(&b.Blade) },
}

// BladeText says a blade in a few words: "scull hatchet 820 cm² x 46 cm".
func BladeText(b *blade.Blade) string {
	if b.Law == blade.Perfect {
		if math.IsNaN(b.Length) {
			return "perfect grip"
		}
		return fmt.Sprintf("perfect grip, %s cm long", table.Fixed(b.Length/units.Cm, 0))
	}
	s := fmt.Sprintf("%s %s cm² x %s cm", b.Shape, table.Fixed(b.Area/units.Cm2, 0),
		table.Fixed(b.Length/units.Cm, -1))
	if b.Law != blade.Plate {
		s += ", law " + b.Law.String()
	}
	if b.Grip != 1 {
		s += ", grip " + table.Fixed(b.Grip, -1)
	}
	return s
}

var bladeRecord = &lang.Record{
	Name: "blade", Topic: "things", Makes: "blades",
	Summary: "a blade from its shape; every value may be given",
	Params: []lang.Param{
		{Name: "shape", Is: lang.Text, Needed: true, Choices: blade.Shapes,
			Help: "what its size and drag start from"},
		{Name: "name", Is: lang.Text, ByName: true, Help: "how it is called"},
		{Name: "area", Unit: "cm²", Is: lang.Number, ByName: true, Shown: "by shape", Low: 200, High: 2500,
			Usual: []lang.Usual{{Low: 700, High: 940, Of: "scull hatchet"},
				{Low: 1060, High: 1440, Of: "sweep hatchet"}, {Low: 580, High: 780, Of: "scull tulip"},
				{Low: 880, High: 1180, Of: "sweep tulip"}},
			Help: "planform", Also: []string{"size"}},
		{Name: "length", Unit: "cm", Is: lang.Number, ByName: true, Shown: "by shape", Low: 20, High: 90,
			Help: "along the shaft, neck to tip"},
		{Name: "law", Is: lang.Text, ByName: true, Default: "plate", Choices: blade.Laws,
			Help: "how the water's force follows from the flow"},
		{Name: "grip", Is: lang.Number, ByName: true, Default: Fact("blade", "grip", ""), Low: 0.3, High: 3,
			Help: "how much more water it holds than a flat plate of its size"},
		{Name: "early", Is: lang.Number, ByName: true, Default: Fact("blade", "early", ""), Low: -0.9,
			High: 0.9, Help: "above 0: holds early, more lift before square; below 0: lets go late, more " +
				"past it; law plate only"},
		{Name: "drag", Is: lang.Number, ByName: true, Shown: "by shape", Low: 0.2, High: 4,
			Help: "drag coefficient square to the flow"},
		{Name: "lift", Is: lang.Number, ByName: true, Shown: "drag/2", Low: 0, High: 4,
			Help: "lift coefficient; drag/2 keeps the force normal to the blade"},
		{Name: "table", Is: lang.List, ByName: true,
			Help: "measured rows (degrees, lift, drag), 0 to 90 tip leads, 90 to 180 neck leads; for law " +
				"table"},
		{Name: "added_mass", Is: lang.Number, ByName: true, Default: Fact("blade", "added_mass", ""), Low: 0,
			High: 1.5, Help: "share of the water a deep blade would push along"},
		{Name: "bury", Unit: "deg", Is: lang.Number, ByName: true, Default: Fact("blade", "bury", ""), Low: 0,
			High: 40, Help: "arc over which it goes in"},
		{Name: "release", Unit: "deg", Is: lang.Number, ByName: true, Default: Fact("blade", "release", ""),
			Low: 0, High: 40, Help: "arc over which it comes out"},
		{Name: "along", Is: lang.Number, ByName: true, Default: Fact("blade", "along", ""), Low: 0, High: 0.2,
			Help: "friction of the blade's way along the shaft: plain friction is about 0.01, 0.033 gives " +
				"the loss that was reported"},
		{Name: "strips", Is: lang.Whole, ByName: true, Default: int(Fact("blade", "strips", "")), Low: 1,
			High: blade.MaxStrips, Help: "blade elements; 1 is a blade without length"},
	},
	Gives: "a blade: .change() and what it takes",
	Errors: []string{"early with a law other than plate is refused: only the plate's lift knows tip and " +
		"neck", "law table without table="},
	Example: `blade("scull hatchet", area=780, length=42)`,
	Sources: []string{"model 3", "drag: Caplan & Gardner 2007, second-hand; spans 1.2 to 2.1",
		"force normal to the plate: Ortiz, Rival & Wood 2015",
		"usual areas: 15 % either way of the shape's own, common practice, no source"},
}

func init() {
	bladeRecord.Do = makeBlade
	bladeType.Fields = []lang.FieldOf[*Blade]{
		lang.TextField("shape", "", func(b *Blade) string { return b.Shape }),
		lang.TextField("name", "how it is called", func(b *Blade) string { return b.name }),
		lang.NumberField("area", "cm²", 0, "planform", func(b *Blade) float64 { return b.Area }),
		lang.NumberField("length", "cm", 1, "neck to tip", func(b *Blade) float64 { return b.Length }),
		lang.TextField("law", "", func(b *Blade) string { return b.Law.String() }),
		lang.NumberField("grip", "", 3, "", func(b *Blade) float64 { return b.Grip }),
		lang.NumberField("early", "", 3, "", func(b *Blade) float64 { return b.Early }),
		lang.NumberField("drag", "", 3, "", func(b *Blade) float64 { return b.Drag }),
		lang.NumberField("lift", "", 3, "drag/2 unless given", func(b *Blade) float64 {
			if math.IsNaN(b.Lift) {
				return b.Drag / 2
			}
			return b.Lift
		}),
		lang.ValueField("table", "measured rows", func(b *Blade) starlark.Value {
			return coefficientRows(b.Coefficients)
		}),
		lang.NumberField("added_mass", "", 2, "", func(b *Blade) float64 { return b.AddedMass }),
		lang.NumberField("bury", "deg", 1, "", func(b *Blade) float64 { return b.Bury }),
		lang.NumberField("release", "deg", 1, "", func(b *Blade) float64 { return b.Release }),
		lang.NumberField("along", "", 3, "friction of the way along the shaft",
			func(b *Blade) float64 { return b.Along }),
		lang.NumberField("strips", "", 0, "", func(b *Blade) float64 { return float64(b.Strips) }),
	}
	bladeType.Methods = []*lang.Record{
		ChangeRecord("blade", bladeRecord, nil, func(v starlark.Value) Given {
			b, _ := bladeType.From(v)
			return b.given
		}, nil),
	}
}

func makeBlade(c *lang.Call) (starlark.Value, error) {
	b, err := blade.New(c.Text("shape"))
	if err != nil {
		return nil, c.Wrong("shape", lang.Mistake("shapes are "+strings.Join(blade.Shapes, ", "),
			`blade("scull hatchet")`, "%v", err))
	}
	if c.Receiver == nil && c.Text("law") == "perfect" && b.Shape != "perfect" {
		return nil, c.Wrong("law", lang.Mistake("no blade of any shape holds so; it is a blade of its "+
			"own, or a limit to compare a blade with", fmt.Sprintf(`blade("perfect"), or `+
			`blade(%q).change(law="perfect")`, b.Shape), `law="perfect" is called blade("perfect") now`))
	}
	if c.Given("law") {
		b.Law = blade.Law(slices.Index(blade.Laws, c.Text("law")))
	}
	if b.Shape == "perfect" {
		b.Law = blade.Perfect
	}
	c.Put("area", &b.Area)
	c.Put("length", &b.Length)
	c.Put("grip", &b.Grip)
	c.Put("early", &b.Early)
	c.Put("drag", &b.Drag)
	c.Put("lift", &b.Lift)
	c.Put("added_mass", &b.AddedMass)
	c.Put("bury", &b.Bury)
	c.Put("release", &b.Release)
	c.Put("along", &b.Along)
	b.Strips = c.Whole("strips")
	if b.Coefficients, err = coefficients(c); err != nil {
		return nil, err
	}
	switch {
	case b.Early != 0 && b.Law != blade.Plate:
		return nil, c.Wrong("early", lang.Mistake("early moves the plate's lift between tip and neck; the "+
			"law here is "+b.Law.String(), `law="plate", or leave early out`, "early acts in law plate only"))
	case b.Along != 0 && b.Law == blade.Perfect:
		return nil, c.Wrong("along", lang.Mistake("a perfect grip leaves nothing in the water",
			"along=0, or another blade", "along= on a perfect blade does nothing"))
	case b.Law == blade.Table && b.Coefficients == nil:
		return nil, c.Wrong("law", lang.Mistake("law table rests on measured rows (degrees, lift, drag)",
			`table=[(0, 0, 0.1), (45, 1.0, 1.0), (90, 0, 2.0)]`, `law "table" needs table=`))
	case b.Law != blade.Table && b.Coefficients != nil:
		return nil, c.Wrong("table", lang.Mistake("the rows act in law table only", `law="table"`,
			"table= is given, but the law is %s", b.Law))
	}
	if b.Law != blade.Perfect {
		c.CheckUsual("area", rounding.Clean(b.Area/units.Cm2), b.Shape, "a "+b.Shape+" of")
		account.Used(c, "blade", b.Shape, "area", "length", "drag", "grip", "added_mass", "bury", "release")
	}
	return bladeType.New(&Blade{b, c.Text("name"), GivenOf(c)}), nil
}

// coefficients reads the rows of a measured blade.
func coefficients(c *lang.Call) ([]blade.Coefficient, error) {
	if !c.Given("table") {
		return nil, nil
	}
	const like = `table=[(0, 0, 0.1), (45, 1.0, 1.0), (90, 0, 2.0)]`
	var rows []blade.Coefficient
	for _, item := range c.Items("table") {
		x, ok := numbersOf(item, 3)
		if !ok {
			return nil, c.Wrong("table", lang.Mistake("a row is (degrees, lift, drag)", like,
				"a row of table= is not three numbers"))
		}
		if x[0] < 0 || x[0] > 180 {
			return nil, c.Wrong("table",
				lang.Mistake("0 to 90 while the tip leads, 90 to 180 while the neck leads", like,
					"an angle of %s in table= is outside 0 to 180", table.Fixed(x[0], -1)))
		}
		if n := len(rows); n > 0 && rows[n-1].Angle >= x[0]*units.Deg {
			return nil, c.Wrong("table", lang.Mistake("the rows go up from 0 to 180 degrees, no angle twice",
				like, "the angles of table= do not rise"))
		}
		rows = append(rows, blade.Coefficient{Angle: x[0] * units.Deg, Lift: x[1], Drag: x[2]})
	}
	if len(rows) < 2 {
		return nil, c.Wrong("table", lang.Mistake("a curve needs two rows or more", like,
			"table= has too few rows"))
	}
	return rows, nil
}

func coefficientRows(rows []blade.Coefficient) starlark.Value {
	if rows == nil {
		return starlark.None
	}
	items := make([]starlark.Value, len(rows))
	for i, r := range rows {
		items[i] = starlark.Tuple{lang.Num(rounding.Clean(r.Angle / units.Deg)), lang.Num(r.Lift),
			lang.Num(r.Drag)}
	}
	return starlark.Tuple(items)
}

// numbersOf gives the n numbers of a list or tuple.
func numbersOf(v starlark.Value, n int) ([]float64, bool) {
	items, ok := lang.Items(v)
	if !ok || len(items) != n {
		return nil, false
	}
	out := make([]float64, n)
	for i, item := range items {
		if out[i], ok = lang.AsNumber(item); !ok {
			return nil, false
		}
	}
	return out, true
}
