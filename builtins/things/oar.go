package things

import (
	"fmt"
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/units"
	"thole/engine/oar"
	"thole/engine/rounding"
	"thole/engine/table"
)

// Oar is an oar of a study.
type Oar struct {
	oar.Oar
	blade *Blade
	Name  string
	Note  string // what equal_load matched
	Given Given
}

// OarType is an oar: its fields, and what compares two.
var OarType = &lang.Type[*Oar]{
	Name:  "oar",
	Label: func(o *Oar) string { return o.Name },
	Same:  func(a, b *Oar) bool { return a.Name == b.Name && a.Oar.Equal(&b.Oar) },
	Line: func(o *Oar) string {
		return fmt.Sprintf("oar %s / %s cm, outboard %s; %s; hand weight %s N",
			table.Fixed(o.Length/units.Cm, -1), table.Fixed(o.Inboard/units.Cm, -1),
			table.Fixed(o.Outboard()/units.Cm, -1), BladeText(&o.Blade), table.Fixed(o.HandWeight(), 1))
	},
}

// OarRecord is oar(...); its windows and usual ranges are those of every oar.
var OarRecord = &lang.Record{
	Name: "oar", Topic: "things", Makes: "oars",
	Summary: "an oar from its lengths and its blade",
	Params: []lang.Param{
		{Name: "length", Unit: "cm", Is: lang.Number, Needed: true, ByName: true, Low: 150, High: 450,
			Usual: []lang.Usual{{Low: 281, High: 293, Of: "scull"}, {Low: 366, High: 378, Of: "sweep"},
				{Low: 288, High: 302, Of: "scull tulip"}, {Low: 375, High: 385, Of: "sweep tulip"}},
			Help: "handle end to blade end"},
		{Name: "inboard", Unit: "cm", Is: lang.Number, Needed: true, ByName: true, Low: 50, High: 150,
			Usual: []lang.Usual{{Low: 83, High: 89, Of: "scull"}, {Low: 112, High: 118, Of: "sweep"}},
			Help:  "handle end to the collar face"},
		{Name: "blade", Is: lang.ThingOf | lang.Text, Types: []string{"blade"}, Needed: true, ByName: true,
			Choices: nil, Help: `a blade(), or "scull hatchet" "sweep hatchet" ...`},
		{Name: "name", Is: lang.Text, ByName: true, Help: "how it is called"},
		{Name: "mass", Unit: "kg", Is: lang.Number, ByName: true, Shown: "by kind", Low: 0.5, High: 6,
			Help: "1.45 a scull, 2.5 a sweep oar unless given", Also: []string{"weight"}},
		{Name: "balance", Unit: "cm", Is: lang.Number, ByName: true, Low: -20, High: 150,
			Help: "from the collar face out; else from lengths"},
		{Name: "swing_weight", Unit: "kg·m²", Is: lang.Number, ByName: true, Low: 0.1, High: 20,
			Help: "about the pin; else from mass and lengths"},
		{Name: "stiffness", Unit: "mm", Is: lang.Number, ByName: true, Low: 5, High: 200,
			Help: "bend under 10 kg at the blade centre; none: rigid"},
		{Name: "hand", Unit: "cm", Is: lang.Number, ByName: true, Shown: "by kind", Low: 0, High: 40,
			Help: "handle end to the pull: 6 a scull, 15 a sweep oar"},
		{Name: "gate", Unit: "cm", Is: lang.Number, ByName: true, Default: Fact("oar", "gate", ""), Low: 2,
			High: 8, Help: "width of the gate along the shaft"},
		{Name: "diameter", Unit: "cm", Is: lang.Number, ByName: true, Shown: "by kind", Low: 1, High: 15,
			Help: "of the shaft in the air: 4 a scull, 5 a sweep oar"},
	},
	Gives: "an oar: .outboard .kind .hand_weight .change(); span and spread belong to rig()",
	Gone: map[string]lang.Gone{"outboard": {Why: "outboard is length less inboard: 288 and 88 make 200",
		Type: "oar(length=288, inboard=88)"}},
	Errors:  []string{"an inboard longer than the oar", "a perfect grip on a flexible shaft"},
	Example: `oar(length=288, inboard=88, blade="scull hatchet")`,
	Sources: []string{"model 1", "model 4", "oar mass: from memory, medium sure",
		"usual lengths: federation handbooks"},
}

// OutboardParam is what change takes besides: outboard sets the length.
var OutboardParam = lang.Param{Name: "outboard", Unit: "cm", Is: lang.Number, ByName: true, Low: 90,
	High: 320, Help: "length less inboard; alone it keeps the inboard"}

func init() {
	OarRecord.Do = makeOar
	OarType.Fields = []lang.FieldOf[*Oar]{
		lang.NumberField("length", "cm", 1, "handle end to blade end", func(o *Oar) float64 {
			return o.Length
		}),
		lang.NumberField("inboard", "cm", 1, "handle end to the collar face", func(o *Oar) float64 {
			return o.Inboard
		}),
		lang.NumberField("outboard", "cm", 1, "length less inboard", func(o *Oar) float64 {
			return o.Outboard()
		}),
		lang.ValueField("blade", "", func(o *Oar) starlark.Value { return bladeType.New(o.blade) }),
		lang.TextField("name", "how it is called", func(o *Oar) string { return o.Name }),
		lang.TextField("kind", "scull or sweep", func(o *Oar) string { return o.Kind().String() }),
		lang.NumberField("hand_weight", "N", 1, "what the hands carry with the oar level",
			func(o *Oar) float64 { return o.HandWeight() }),
		lang.NumberField("mass", "kg", 2, "", func(o *Oar) float64 { return o.Mass }),
		lang.NumberField("balance", "cm", 1, "centre of mass from the collar face out",
			func(o *Oar) float64 { return o.MassArm() + o.HalfGate() }),
		lang.NumberField("swing_weight", "kg·m²", 3, "about the pin", func(o *Oar) float64 {
			return o.Inertia()
		}),
		lang.NumberField("stiffness", "mm", 1, "None: rigid", func(o *Oar) float64 { return o.Deflection }),
		lang.TextField("note", "what equal_load matched; None for an oar as made",
			func(o *Oar) string { return o.Note }),
		lang.NumberField("hand", "cm", 1, "handle end to the pull", func(o *Oar) float64 { return o.Hand }),
		lang.NumberField("gate", "cm", 1, "", func(o *Oar) float64 { return o.Gate }),
		lang.NumberField("diameter", "cm", 1, "of the shaft", func(o *Oar) float64 { return o.Diameter }),
	}
	change := ChangeRecord("oar", OarRecord, []lang.Param{OutboardParam}, nil, nil)
	change.Do = changeOar
	change.Notes = []string{"outboard= and length= keep the inboard, inboard= keeps the length; two set " +
		"the third"}
	OarType.Methods = []*lang.Record{change}
}

func makeOar(c *lang.Call) (starlark.Value, error) {
	b, err := bladeOf(c)
	if err != nil {
		return nil, err
	}
	o := oar.New(c.SI("length"), c.SI("inboard"), b.Blade)
	kind := o.Kind().String()
	c.Put("mass", &o.Mass)
	c.Put("balance", &o.Balance)
	c.Put("swing_weight", &o.SwingWeight)
	c.Put("hand", &o.Hand)
	c.Put("gate", &o.Gate)
	c.Put("diameter", &o.Diameter)
	if c.Given("stiffness") {
		o = o.WithStiffness(c.SI("stiffness"))
	}
	if err := o.Check(); err != nil {
		return nil, lang.NoAnswer("the inboard is handle end to collar, the outboard the rest of the length",
			"length=288, inboard=88", "%v", err)
	}
	usualOar(c, &o)
	for _, name := range []string{"mass", "hand", "gate", "diameter"} {
		account.Used(c, "oar", kind, name)
	}
	b = &Blade{o.Blade, b.name, b.given} // settled by the oar it sits on
	return OarType.New(&Oar{Oar: o, blade: b, Name: c.Text("name"), Given: GivenOf(c)}), nil
}

// usualOar cautions of lengths outside the trade's.
func usualOar(c *lang.Call, o *oar.Oar) {
	kind := o.Kind().String()
	if !math.IsNaN(o.Length) {
		c.CheckUsual("length", rounding.Clean(o.Length/units.Cm), UsualOf(o, "length"),
			map[string]string{"scull": "a scull of", "sweep": "a sweep oar of"}[kind])
	}
	c.CheckUsual("inboard", rounding.Clean(o.Inboard/units.Cm), kind,
		map[string]string{"scull": "a scull's inboard of", "sweep": "a sweep oar's inboard of"}[kind])
}

// bladeOf gives the blade of an oar: a blade, or a shape's name.
func bladeOf(c *lang.Call) (*Blade, error) {
	v := c.Value("blade")
	if s, ok := starlark.AsString(v); ok {
		made, err := Given{{Name: "shape", Value: starlark.String(s)}}.Make(c, bladeRecord)
		if err != nil {
			if e := lang.AsError(err); e != nil {
				return nil, c.Wrong("blade", e)
			}
			return nil, err
		}
		v = made
	}
	b, _ := bladeType.From(v)
	return b, nil
}

// changeOar makes the oar again. outboard= and length= keep the inboard,
// inboard= keeps the length, two of them set the third.
func changeOar(c *lang.Call) (starlark.Value, error) {
	old, _ := OarType.From(c.Receiver)
	g := old.Given.With(c, OarRecord).Without("outboard")
	if c.Given("outboard") && !c.IsNone("outboard") {
		out := c.Number("outboard")
		switch {
		case c.Given("length") && c.Given("inboard"):
			if math.Abs(c.Number("length")-c.Number("inboard")-out) > 1e-9 {
				return nil, c.Wrong("outboard",
					lang.Mistake("outboard is length less inboard: two of them set the third",
						fmt.Sprintf("outboard=%s", table.Fixed(c.Number("length")-c.Number("inboard"), -1)),
						"length %s, inboard %s and outboard %s do not fit", table.Fixed(c.Number("length"),
							-1), table.Fixed(c.Number("inboard"), -1), table.Fixed(out, -1)))
			}
		case c.Given("length"):
			g = append(g.Without("inboard"), lang.Named{Name: "inboard",
				Value: lang.Num(rounding.Clean(c.Number("length") - out))})
		default:
			in, _ := lang.AsNumber(g.value("inboard"))
			g = append(g.Without("length"), lang.Named{Name: "length",
				Value: lang.Num(rounding.Clean(in + out))})
		}
	}
	v, err := g.Make(c, OarRecord)
	if err != nil {
		return nil, err
	}
	// a shaft keeps its own stiffness when it is cut or the blade is changed
	if made, _ := OarType.From(v); made.Flexible() && !c.Given("stiffness") {
		made.Made = old.Made
	}
	return v, nil
}
