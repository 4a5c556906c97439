package trials

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/trial"
)

var trialPlan = &lang.Record{
	Name: "trial_plan", Topic: "trials",
	Summary: "what a morning's pieces can tell, and the order to row them in",
	Params: []lang.Param{
		{Name: "settings", Is: lang.List, ByName: true, Needed: true,
			Help: "names of what is tried, two or more"},
		{Name: "worthwhile", Unit: "%", Is: lang.Number, ByName: true, Default: 0.3, Low: 0.01, High: 20,
			Help: "the difference of speed that matters"},
		{Name: "typical_error", Unit: "%", Is: lang.Number, ByName: true, Default: 0.9, Low: 0.02, High: 20,
			Help: "of a piece from the next with the same rig"},
		{Name: "pieces", Is: lang.Whole, ByName: true, Low: 2, High: 1000, Shown: "by time or chance",
			Help: "all settings together"},
		{Name: "minutes", Unit: "min", Is: lang.Number, ByName: true, Low: 5, High: 100000,
			Help: "time at hand, instead of pieces"},
		{Name: "distance", Unit: "m", Is: lang.Number, ByName: true, Default: 500, Low: 50, High: 20000,
			Usual: []lang.Usual{{Low: 250, High: 2000}}, Help: "of a piece"},
		{Name: "rest", Unit: "min", Is: lang.Number, ByName: true, Default: 5, Low: 0.1, High: 240,
			Help: "between two pieces"},
		{Name: "change", Unit: "min", Is: lang.Number, ByName: true, Default: 10, Low: 0.1, High: 240,
			Help: "to change the rig; the crew rests meanwhile"},
		{Name: "learn", Is: lang.ThingOf, Types: []string{"table"}, ByName: true,
			Help: "pieces with one rig, to learn the typical error from"},
		{Name: "category", Is: lang.Text, ByName: true, Default: account.NotSaid, Choices: account.Categories,
			Help: "who rows it, for the cautions"},
		{Name: "seed", Is: lang.Whole, ByName: true, Default: 1, Low: 0, High: 1e9,
			Help: "of the drawn order; the same seed gives the same order"}},
	Gives: "a plan: .pieces .resolves .chance .order .needed",
	Errors: []string{
		"fewer than two pieces of each setting", "one setting only", "a time that does not hold four pieces",
	},
	Example: `trial_plan(settings=("long", "short"), worthwhile=0.5, typical_error=0.6, pieces=8, seed=11)`,
	Sources: []string{"model 14", "Smith & Hopkins 2011", "Lenth 1989 (non-central t)"},
	Notes: []string{"settings of which a block is rowed: ABBA, then BAAB, so that a crew that tires " +
		"takes from both alike; who begins is drawn"},
}

func trialPlanDo(c *lang.Call) (starlark.Value, error) {
	settings, err := c.Texts("settings")
	if err != nil {
		return nil, err
	}
	or0 := func(name string) float64 {
		if x := c.Number(name); !math.IsNaN(x) {
			return x
		}
		return 0
	}
	p := trial.PlanProblem{Settings: settings, Difference: c.Number("worthwhile"),
		TypicalError: c.Number("typical_error"),
		Pieces:       c.Whole("pieces"), Minutes: or0("minutes"), Distance: c.Number("distance"),
		Rest: c.Number("rest"), Change: c.Number("change"), Seed: uint64(c.Whole("seed"))}
	if t, ok := c.Value("learn").(*lang.Table); ok {
		p.Learn = t.T
	}
	plan, err := trial.MakePlan(p)
	if err != nil {
		return nil, spoken(err)
	}
	if s := session.Of(c.Thread); s != nil {
		s.Seed(int64(p.Seed))
	}
	account.WillRow(c.Thread, c.Text("category"))
	cautions(c, plan.Cautions)
	return planType.New(plan), nil
}

var planType = &lang.Type[*trial.Plan]{
	Name: "plan",
	Line: func(p *trial.Plan) string { return p.Says[0] },
	Fields: []lang.FieldOf[*trial.Plan]{
		lang.NumberField("pieces", "", 0, "all settings together", func(p *trial.Plan) float64 {
			return float64(p.Pieces)
		}),
		lang.NumberField("resolves", "%", 1, "half the 95 % interval that judge will give",
			func(p *trial.Plan) float64 { return p.Resolves }),
		lang.NumberField("chance", "", 2, "that a true difference is told from nothing",
			func(p *trial.Plan) float64 { return p.Chance }),
		lang.ValueField("order", "the sheet: order of the pieces, and what is to be written in",
			func(p *trial.Plan) starlark.Value { return lang.NewTable(p.Order) }),
		lang.ValueField("needed", "pieces a setting for a chance of 0.80; None: more than anybody rows",
			func(p *trial.Plan) starlark.Value {
				if p.Needed == 0 {
					return starlark.None
				}
				return starlark.MakeInt(p.Needed)
			}),
		lang.NumberField("degrees", "", 0, "of freedom that are left for the scatter",
			func(p *trial.Plan) float64 { return float64(p.Degrees) }),
		lang.NumberField("minutes", "min", 0, "on the water, with rest and changes of rig",
			func(p *trial.Plan) float64 { return p.Minutes }),
		lang.ValueField("typical_error", "% of speed; an estimate where it was learned",
			func(p *trial.Plan) starlark.Value { return lang.NewEstimate(p.TypicalError) }),
		lang.NumberField("seed", "", 0, "of the drawn order", func(p *trial.Plan) float64 {
			return float64(p.Seed)
		}),
	},
}
