package trials

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/table"
	"thole/engine/trial"
)

var judgeRecord = &lang.Record{
	Name: "judge", Topic: "trials", Summary: "what a morning's pieces told of two settings",
	Params: []lang.Param{
		{Name: "trial", Is: lang.ThingOf, Types: []string{"table"}, Needed: true,
			Help: "pieces, as read_trial gives them"},
		{Name: "a", Is: lang.Text, ByName: true, Needed: true, Help: "a setting"},
		{Name: "b", Is: lang.Text, ByName: true, Needed: true, Help: "the setting told against it"},
		{Name: "worthwhile", Unit: "%", Is: lang.Number, ByName: true, Default: 0.3, Low: 0.001, High: 20,
			Help: "smallest difference of speed that matters"},
		{Name: "predicted", Unit: "%", Is: lang.Number | lang.ThingOf, Types: []string{"estimate"},
			ByName: true, Help: "what the model said, to be set beside it"},
		{Name: "combine", Is: lang.Flag, ByName: true, Default: false,
			Help: "let what the model said share in .combined"}},
	Gives: "a judgement: .difference .pairs .drift .wind .chance .odd .more_pieces .all .verdict",
	Errors: []string{
		"a setting that was not rowed", "one setting only", "too few pieces to see their scatter",
	},
	Example: `judge(table([{"piece (-)": i + 1, "setting": s, "distance (m)": 500, "time (s)": t, "wind ` +
		`(m/s)": w} for i, (s, t, w) in enumerate([("long", 112.6, 1.0), ("short", 111.4, 1.2), ("short", ` +
		`112.7, 1.3), ("long", 112.9, 1.1), ("short", 112.3, 1.5), ("long", 113.9, 1.4)])]), a="long", ` +
		`b="short")`,
	Sources: []string{"model 14",
		"least squares by QR, Student's t; Marquardt 1970 for what cannot be told apart"},
	Notes: []string{"allowed for: drift, wind, rate, power, water, way, and from 12 pieces on blocks of " +
		"four; what did not vary is left out and said"},
}

func judgeDo(c *lang.Call) (starlark.Value, error) {
	set := trial.JudgeSettings{A: c.Text("a"), B: c.Text("b"), Worthwhile: c.Number("worthwhile"),
		Combine: c.Flag("combine")}
	switch p := c.Value("predicted").(type) {
	case nil:
		if set.Combine {
			return nil, c.Wrong("combine", lang.Mistake("there is nothing to combine with",
				"predicted=u.faster, combine=True", "combine=True needs predicted="))
		}
	case *lang.Estimate:
		if p.E.Unit != "%" && p.E.Unit != "" {
			return nil, c.Wrong("predicted", lang.Mistake("a judgement is in per cent of speed, b against a",
				`an output {"faster (%)": (b.speed / a.speed - 1) * 100} of uncertainty`,
				"predicted= is in %s", p.E.Unit))
		}
		set.Predicted = p.E
	default:
		x, _ := lang.AsNumber(p)
		set.Predicted = &table.Estimate{Value: x, Low: x, High: x, AsSet: math.NaN(), Unit: "%", Digits: 2,
			Signed: true}
	}
	j, err := trial.Judge(c.Value("trial").(*lang.Table).T, set)
	if err != nil {
		return nil, spoken(err)
	}
	cautions(c, j.Cautions)
	return judgementType.New(j), nil
}

// estimateOr gives an estimate, None where there is none.
func estimateOr(e *table.Estimate) starlark.Value {
	if e == nil {
		return starlark.None
	}
	return lang.NewEstimate(e)
}

var judgementType = &lang.Type[*trial.Judgement]{
	Name: "judgement",
	Line: func(j *trial.Judgement) string { return j.Verdict + ": " + j.Difference.String() },
	Fields: []lang.FieldOf[*trial.Judgement]{
		lang.ValueField("verdict", `"b faster" or "a faster" by their names, or "cannot tell"`,
			func(j *trial.Judgement) starlark.Value { return starlark.String(j.Verdict) }),
		lang.ValueField("difference", "% of speed, b against a, drift and wind allowed for",
			func(j *trial.Judgement) starlark.Value { return lang.NewEstimate(j.Difference) }),
		lang.ValueField("pairs", "neighbours as rowed, %, nothing allowed for",
			func(j *trial.Judgement) starlark.Value {
				items := make([]starlark.Value, len(j.Pairs))
				for i, p := range j.Pairs {
					items[i] = starlark.Float(p)
				}
				return starlark.Tuple(items)
			}),
		lang.ValueField("drift", "% of speed a piece", func(j *trial.Judgement) starlark.Value {
			return estimateOr(j.Drift)
		}),
		lang.ValueField("wind", "% of speed for each m/s of headwind; None where it was left out",
			func(j *trial.Judgement) starlark.Value { return estimateOr(j.Wind) }),
		lang.NumberField("chance", "", 2, "that the setting ahead is ahead by more than the worthwhile",
			func(j *trial.Judgement) float64 { return j.Chance }),
		lang.ValueField("odd", "pieces that stand apart, and the difference without each",
			func(j *trial.Judgement) starlark.Value { return lang.NewTable(oddTable(j)) }),
		lang.ValueField("more_pieces",
			"more of each setting that would tell a difference of this size; None: more than anybody rows",
			func(j *trial.Judgement) starlark.Value {
				if j.MorePieces < 0 {
					return starlark.None
				}
				return starlark.MakeInt(j.MorePieces)
			}),
		lang.ValueField("all", "every two settings, where there are more than two",
			func(j *trial.Judgement) starlark.Value {
				if j.All == nil {
					return starlark.None
				}
				return lang.NewTable(j.All)
			}),
		lang.NumberField("scatter", "%", 2, "of a piece, beyond all that was allowed for",
			func(j *trial.Judgement) float64 { return j.Scatter }),
		lang.TextField("agreement", "model and water beside each other", func(j *trial.Judgement) string {
			return j.Agreement
		}),
		lang.ValueField("combined", "model and water together, where asked",
			func(j *trial.Judgement) starlark.Value { return estimateOr(j.Combined) }),
		lang.ValueField("left_over", "each piece with what nothing explains, %",
			func(j *trial.Judgement) starlark.Value { return lang.NewTable(j.Used) }),
	},
}

// oddTable lists the pieces that stand apart.
func oddTable(j *trial.Judgement) *table.Table {
	piece, off := table.NewColumn("piece", "", table.Number), table.NewColumn("off", "%", table.Number)
	off.Digits, off.Signed = 2, true
	without, verdict := table.NewColumn("without", "%", table.Measured), table.NewColumn("verdict", "",
		table.Text)
	for _, o := range j.Odd {
		piece.Nums, off.Nums = append(piece.Nums, o.Piece), append(off.Nums, o.Off)
		without.Estimates, verdict.Texts = append(without.Estimates, o.Without), append(verdict.Texts,
			o.Verdict)
	}
	return &table.Table{Name: "odd pieces", Columns: []*table.Column{piece, off, without, verdict}}
}
