package rowing

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/blade"
	"thole/engine/oar"
	"thole/engine/rigging"
	"thole/engine/rounding"
	"thole/engine/table"
)

var (
	oarParam = lang.Param{Name: "oar", Is: lang.ThingOf, Types: []string{"oar"}, Needed: true,
		Help: "the oar"}
	rigParam = lang.Param{Name: "rig", Is: lang.ThingOf, Types: []string{"rig"}, Needed: true,
		Help: "where the pins stand"}
	gatesParam = lang.Param{Name: "gates", Is: lang.Flag, ByName: true, Default: true,
		Help: "count the gates' width, as survey sheets do"}
)

// rigFor gives the rig of a call, if it says what the oar's kind needs.
func rigFor(c *lang.Call, o *things.Oar) (*things.Rig, error) {
	r, _ := things.RigType.From(c.Value("rig"))
	if math.IsNaN(r.PinLine(o.Kind())) {
		if o.Kind() == blade.Scull {
			return nil, c.Wrong("rig", lang.Mistake("sculls are measured against the span, pin to pin",
				"rig(span=159)", "this rig has no span"))
		}
		return nil, c.Wrong("rig", lang.Mistake("sweep oars are measured against the spread, midline to pin",
			"rig(spread=85)", "this rig has no spread"))
	}
	return r, nil
}

const (
	exampleScull = `oar(length=288, inboard=88, blade="scull hatchet")`
	exampleSweep = `oar(length=376, inboard=115, blade="sweep hatchet")`
)

var gearingRecord = &lang.Record{
	Name: "gearing", Topic: "doing",
	Summary: "the four ratios that go by that name, in one line",
	Params: []lang.Param{oarParam,
		{Name: "rig", Is: lang.ThingOf, Types: []string{"rig"},
			Help: "for those that rest on span or spread"},
		{Name: "angle", Unit: "deg", Is: lang.Number, ByName: true, Default: 0, Low: 0, High: 85,
			Help: "from square, either way: there the hull goes by 1/cos more for the same way of the " +
				"hands"}},
	Gives: "a line: .lever outboard/inboard, .spread outboard/spread or outboard/half the span, .survey " +
		"the same with half a gate off the divisor, .effective pin to blade centre/pin to pull; without a " +
		"rig spread and survey are blank",
	Example: "gearing(" + exampleScull + ", rig(span=159))",
	Sources: []string{"model 12", "federation survey sheet"},
	Also:    []string{"gear", "ratio", "leverage", "ratios"},
}

var overlapRecord = &lang.Record{
	Name: "overlap", Topic: "doing",
	Summary: "how far the handles cross, cm",
	Params:  []lang.Param{oarParam, rigParam, gatesParam},
	Gives:   "cm: 2 inboard - span (+ 4 cm of gates) for sculls, inboard - spread (+ 2 cm) for sweep",
	Example: "overlap(" + exampleScull + ", rig(span=159))",
	Sources: []string{"model 12",
		"federation survey sheet; one of the federation handbooks leaves the gates out"},
}

var fitInboard = &lang.Record{
	Name: "fit_inboard", Topic: "doing", Makes: "oars",
	Summary: "the oar with the inboard that gives this overlap on this rig, length kept",
	Params: []lang.Param{oarParam, rigParam,
		{Name: "overlap", Unit: "cm", Is: lang.Number, ByName: true,
			Shown: "20 sculls, 32 sweep (16 and 30 with gates=False)", Low: -10, High: 60,
			Help: "how far the handles cross"},
		gatesParam},
	Gives: "an oar; with row(measured_on=) it answers what a centimetre of spread does: the hands keep " +
		"their reach",
	Example: "fit_inboard(" + exampleScull + ", rig(span=158))",
	Sources: []string{"model 12",
		"Nolte 2023, federation handbooks: sweep inboard = spread + 30, two scull inboards = span + 16, " +
			"gates left out"},
}

var arcRecord = &lang.Record{
	Name: "arc", Topic: "doing",
	Summary: "the angles of hands that keep their reach on another oar",
	Params: []lang.Param{oarParam,
		{Name: "measured_on", Is: lang.ThingOf, Types: []string{"oar"}, Needed: true, ByName: true,
			Help: "the oar on which the angles were measured"},
		{Name: "catch", Unit: "deg", Is: lang.Number, Needed: true, ByName: true, Low: 15, High: 80,
			Help: "measured there"},
		{Name: "finish", Unit: "deg", Is: lang.Number, Needed: true, ByName: true, Low: 5, High: 60,
			Help: "measured there"}},
	Gives: "a line: .catch .finish .arc deg",
	Example: "arc(oar(length=288, inboard=90, blade=\"scull hatchet\"), measured_on=" + exampleScull +
		", catch=62, finish=43)",
	Sources: []string{"model 1: L_in sin(angle) is kept; a reach circle about the hips would give two " +
		"thirds of the change"},
}

func init() {
	gearingRecord.Do = gearingDo
	overlapRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		o, _ := things.OarType.From(c.Value("oar"))
		r, err := rigFor(c, o)
		if err != nil {
			return nil, err
		}
		return starlark.Float(rounding.Clean(rigging.Overlap(&o.Oar, &r.Rig, c.Flag("gates")) / units.Cm)),
			nil
	}
	fitInboard.Do = func(c *lang.Call) (starlark.Value, error) {
		o, _ := things.OarType.From(c.Value("oar"))
		r, err := rigFor(c, o)
		if err != nil {
			return nil, err
		}
		gates := c.Flag("gates")
		fitted := rigging.FitInboard(o.Oar, &r.Rig, or(c.Number("overlap"), usualOverlap(&o.Oar, gates))*
			units.Cm, gates)
		return withInboard(c, o, fitted.Inboard/units.Cm)
	}
	arcRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		o, _ := things.OarType.From(c.Value("oar"))
		m, _ := things.OarType.From(c.Value("measured_on"))
		catch, finish, err := oar.KeepReach(&m.Oar, &o.Oar, c.Number("catch")*units.Deg, c.Number("finish")*
			units.Deg)
		if err != nil {
			return nil, c.Wrong("oar",
				lang.NoAnswer("the hands keep their reach: L_in sin(angle) at catch and finish",
					"a longer inboard", "%v", err))
		}
		return oneLine(
			lang.Field{Name: "catch", Unit: "deg", Digits: 1}, catch/units.Deg,
			lang.Field{Name: "finish", Unit: "deg", Digits: 1}, finish/units.Deg,
			lang.Field{Name: "arc", Unit: "deg", Digits: 1}, (catch+finish)/units.Deg), nil
	}
}

func gearingDo(c *lang.Call) (starlark.Value, error) {
	o, _ := things.OarType.From(c.Value("oar"))
	spread, survey := math.NaN(), math.NaN()
	if c.Given("rig") {
		r, err := rigFor(c, o)
		if err != nil {
			return nil, err
		}
		spread, survey = rigging.SpreadRatio(&o.Oar, &r.Rig), rigging.SurveyRatio(&o.Oar, &r.Rig)
	}
	ratio := func(name string) lang.Field { return lang.Field{Name: name, Digits: 3, Change: 3} }
	return oneLine(ratio("lever"), rigging.LeverRatio(&o.Oar), ratio("spread"), spread, ratio("survey"),
		survey,
		ratio("effective"), rigging.EffectiveRatio(&o.Oar, c.Number("angle")*units.Deg)), nil
}

// pinsName is what the pins of an oar are measured by.
func pinsName(o *things.Oar) string {
	if o.Kind() == blade.Scull {
		return "span"
	}
	return "spread"
}

// usualOverlap is the trade's, in cm. The gates add 4 cm to two sculls, 2 to a sweep oar.
func usualOverlap(o *oar.Oar, gates bool) float64 {
	x := things.Fact("rig", "overlap", o.Kind().String())
	if gates {
		return x
	}
	if o.Kind() == blade.Scull {
		return x - 2*o.Gate/units.Cm
	}
	return x - o.HalfGate()/units.Cm
}

// oneLine makes a line of a table out of fields and numbers in turn.
func oneLine(pairs ...any) starlark.Value {
	t := &table.Table{}
	for i := 0; i < len(pairs); i += 2 {
		f := pairs[i].(lang.Field)
		t.Columns = append(t.Columns, &table.Column{Name: f.Name, Unit: f.Unit, Digits: f.Digits,
			Change: f.Change, Kind: table.Number, Nums: []float64{pairs[i+1].(float64)}})
	}
	return lang.NewTable(t).Line(0)
}

// or gives the argument, or another value where it is unset.
func or(x, otherwise float64) float64 {
	if math.IsNaN(x) {
		return otherwise
	}
	return x
}
