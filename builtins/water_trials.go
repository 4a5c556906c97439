package builtins

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/builtins/session/message"
	"thole/engine/table"
	"thole/engine/trial"
)

// Trials on the water: what a morning can tell, its sheet, and what it told.
// Fitting the model to measured strokes is in calibration.go, the views in
// trialviews.go.

var trialPlan = &lang.Record{
	Name: "trial_plan", Topic: "trials", Summary: "what a morning's pieces can tell, and the order to row them in",
	Params: []lang.Param{
		{Name: "settings", Is: lang.List, ByName: true, Needed: true, Help: "names of what is tried, two or more"},
		{Name: "difference", Unit: "%", Is: lang.Number, ByName: true, Default: 0.3, Low: 0.01, High: 20, Help: "the difference of speed that matters"},
		{Name: "typical_error", Unit: "%", Is: lang.Number, ByName: true, Default: 0.9, Low: 0.02, High: 20, Help: "of a piece from the next with the same rig"},
		{Name: "pieces", Is: lang.Whole, ByName: true, Low: 2, High: 1000, Shown: "by time or chance", Help: "all settings together"},
		{Name: "minutes", Unit: "min", Is: lang.Number, ByName: true, Low: 5, High: 100000, Help: "time at hand, instead of pieces"},
		{Name: "distance", Unit: "m", Is: lang.Number, ByName: true, Default: 500, Low: 50, High: 20000, Usual: []lang.Usual{{Low: 250, High: 2000}}, Help: "of a piece"},
		{Name: "rest", Unit: "min", Is: lang.Number, ByName: true, Default: 5, Low: 0.1, High: 240, Help: "between two pieces"},
		{Name: "change", Unit: "min", Is: lang.Number, ByName: true, Default: 10, Low: 0.1, High: 240, Help: "to change the rig; the crew rests meanwhile"},
		{Name: "learn", Is: lang.ThingOf, Types: []string{"table"}, ByName: true, Help: "pieces with one rig, to learn the typical error from"},
		{Name: "seed", Is: lang.Whole, ByName: true, Default: 1, Low: 0, High: 1e9, Help: "of the drawn order; the same seed gives the same order"}},
	Gives: "a plan: .pieces .resolves .chance .order .needed",
	Errors: []string{
		"fewer than two pieces of each setting", "one setting only", "a time that does not hold four pieces",
	},
	Example: `trial_plan(settings=("long", "short"), difference=0.5, typical_error=0.6, pieces=8, seed=11)`,
	Sources: []string{"facts 7", "Smith & Hopkins 2011", "Lenth 1989 (non-central t)"},
	Notes:   []string{"settings of which a block is rowed: ABBA, then BAAB, so that a crew that tires takes from both alike; who begins is drawn"},
}

var readTrial = &lang.Record{
	Name: "read_trial", Topic: "trials", Summary: "the filled sheet of a morning, a CSV", Reads: true,
	Params: []lang.Param{{Name: "path", Is: lang.Text, Needed: true, Help: "file in the study's folder: piece, setting, distance (m), time (s)"}},
	Gives:  "a table; times are read as 1:52.3, 112.3 and 0:01:52,3; rate, wind, power, stream, water, way (out or back) and remarks may stand in it too",
	Errors: []string{"a missing time", "a piece that stands twice", "a speed no boat has"},
}

var readTrack = &lang.Record{
	Name: "read_track", Topic: "trials", Summary: "a watch's track, GPX or FIT, smoothed", Reads: true,
	Params:  []lang.Param{{Name: "path", Is: lang.Text, Needed: true, Help: "file in the study's folder"}},
	Gives:   "a table: time (s), distance (m), speed (m/s) and the number of the piece found; pieces, gaps and jumps are told",
	Errors:  []string{"a track without times", "a watch's file cut short"},
	Sources: []string{"Vincenty 1975", "Cleveland 1979 (local regression)"},
}

var judgeRecord = &lang.Record{
	Name: "judge", Topic: "trials", Summary: "what a morning's pieces told of two settings",
	Params: []lang.Param{
		{Name: "trial", Is: lang.ThingOf, Types: []string{"table"}, Needed: true, Help: "pieces, as read_trial gives them"},
		{Name: "a", Is: lang.Text, ByName: true, Needed: true, Help: "a setting"},
		{Name: "b", Is: lang.Text, ByName: true, Needed: true, Help: "the setting told against it"},
		{Name: "worthwhile", Unit: "%", Is: lang.Number, ByName: true, Default: 0.3, Low: 0.001, High: 20, Help: "smallest difference of speed that matters"},
		{Name: "predicted", Unit: "%", Is: lang.Number | lang.ThingOf, Types: []string{"estimate"}, ByName: true, Help: "what the model said, to be set beside it"},
		{Name: "combine", Is: lang.Flag, ByName: true, Default: false, Help: "let what the model said share in .combined"}},
	Gives: "a judgement: .difference .pairs .drift .wind .chance .odd .more_pieces .all .verdict",
	Errors: []string{
		"a setting that was not rowed", "one setting only", "too few pieces to see their scatter",
	},
	Example: `judge(table([{"piece (-)": i + 1, "setting": s, "distance (m)": 500, "time (s)": t, "wind (m/s)": w} for i, (s, t, w) in enumerate([("long", 112.6, 1.0), ("short", 111.4, 1.2), ("short", 112.7, 1.3), ("long", 112.9, 1.1), ("short", 112.3, 1.5), ("long", 113.9, 1.4)])]), a="long", b="short")`,
	Sources: []string{"facts 7", "least squares by QR, Student's t; Marquardt 1970 for what cannot be told apart"},
	Notes:   []string{"allowed for: drift, wind, rate, power, water, way, and from 12 pieces on blocks of four; what did not vary is left out and said"},
}

func trialRecords() []*lang.Record {
	return []*lang.Record{trialPlan, readTrial, readTrack, judgeRecord, calibrateRecord}
}

func init() {
	trialPlan.Do = trialPlanDo
	readTrial.Do = readTrialDo
	readTrack.Do = readTrackDo
	judgeRecord.Do = judgeDo
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
	p := trial.PlanProblem{Settings: settings, Difference: c.Number("difference"), TypicalError: c.Number("typical_error"),
		Pieces: c.Whole("pieces"), Minutes: or0("minutes"), Distance: c.Number("distance"), Rest: c.Number("rest"), Change: c.Number("change"), Seed: uint64(c.Whole("seed"))}
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
	cautions(c, plan.Cautions)
	return planType.New(plan), nil
}

// spoken turns a mistake of the engine's into one of the study.
func spoken(err error) error {
	if e, ok := err.(*table.Error); ok && e.File == "" {
		return lang.Mistake(e.Why, e.Type, "%s", e.What)
	}
	return err
}

func cautions(c *lang.Call, texts []string) {
	for _, text := range texts {
		lang.HostOf(c.Thread).Caution(c.Thread, lang.Caution{Text: text, Key: text})
	}
}

var planType = &lang.Type[*trial.Plan]{
	Name: "plan",
	Line: func(p *trial.Plan) string { return p.Says[0] },
	Fields: []lang.FieldOf[*trial.Plan]{
		number("pieces", "", 0, "all settings together", func(p *trial.Plan) float64 { return float64(p.Pieces) }),
		number("resolves", "%", 1, "half the 95 % interval that judge will give", func(p *trial.Plan) float64 { return p.Resolves }),
		number("chance", "", 2, "that a true difference is told from nothing", func(p *trial.Plan) float64 { return p.Chance }),
		value("order", "the sheet: order of the pieces, and what is to be written in", func(p *trial.Plan) starlark.Value { return lang.NewTable(p.Order) }),
		value("needed", "pieces a setting for a chance of 0.80; None: more than anybody rows", func(p *trial.Plan) starlark.Value {
			if p.Needed == 0 {
				return starlark.None
			}
			return starlark.MakeInt(p.Needed)
		}),
		number("degrees", "", 0, "of freedom that are left for the scatter", func(p *trial.Plan) float64 { return float64(p.Degrees) }),
		number("minutes", "min", 0, "on the water, with rest and changes of rig", func(p *trial.Plan) float64 { return p.Minutes }),
		value("typical_error", "% of speed; an estimate where it was learned", func(p *trial.Plan) starlark.Value { return lang.NewEstimate(p.TypicalError) }),
		number("seed", "", 0, "of the drawn order", func(p *trial.Plan) float64 { return float64(p.Seed) }),
	},
}

// fileOf reads a file of the study's folder.
func fileOf(c *lang.Call) (*session.Study, string, []byte, error) {
	path := c.Text("path")
	s := session.Of(c.Thread)
	if s == nil {
		return nil, path, nil, lang.Mistake("there is no folder here to read from", "", "%s cannot be read", path)
	}
	data, err := s.ReadFile(path)
	if e := lang.AsError(err); e != nil {
		return nil, path, nil, c.Wrong("path", e)
	}
	return s, path, data, err
}

func readTrialDo(c *lang.Call) (starlark.Value, error) {
	s, path, data, err := fileOf(c)
	if err != nil {
		return nil, err
	}
	t, notes, err := trial.ReadTrial(path, data)
	if err != nil {
		return nil, spoken(err)
	}
	return readIn(s, path, t, notes)
}

// readIn notes a table that was read, and says how.
func readIn(s *session.Study, path string, t *table.Table, notes []string) (starlark.Value, error) {
	if err := s.Check("a table", t.Len()*len(t.Columns)); err != nil {
		return nil, err
	}
	s.NoteTable(path, t)
	for _, note := range notes {
		s.Remark(message.Message{File: path, What: note})
	}
	return lang.NewTable(t), nil
}

func readTrackDo(c *lang.Call) (starlark.Value, error) {
	s, path, data, err := fileOf(c)
	if err != nil {
		return nil, err
	}
	track, err := trial.ReadTrack(path, data)
	if err != nil {
		return nil, spoken(err)
	}
	cautions(c, prefixed(path+": ", track.Cautions))
	return readIn(s, path, track.Table, track.Notes)
}

func prefixed(by string, texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = by + t
	}
	return out
}

func judgeDo(c *lang.Call) (starlark.Value, error) {
	set := trial.JudgeSettings{A: c.Text("a"), B: c.Text("b"), Worthwhile: c.Number("worthwhile"), Combine: c.Flag("combine")}
	switch p := c.Value("predicted").(type) {
	case nil:
		if set.Combine {
			return nil, c.Wrong("combine", lang.Mistake("there is nothing to combine with", "predicted=u.faster, combine=True", "combine=True needs predicted="))
		}
	case *lang.Estimate:
		if p.E.Unit != "%" && p.E.Unit != "" {
			return nil, c.Wrong("predicted", lang.Mistake("a judgement is in per cent of speed, b against a", `an output {"faster (%)": (b.speed / a.speed - 1) * 100} of uncertainty`, "predicted= is in %s", p.E.Unit))
		}
		set.Predicted = p.E
	default:
		x, _ := lang.AsNumber(p)
		set.Predicted = &table.Estimate{Value: x, Low: x, High: x, AsSet: math.NaN(), Unit: "%", Digits: 2, Signed: true}
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
		value("verdict", `"b faster" or "a faster" by their names, or "cannot tell"`, func(j *trial.Judgement) starlark.Value { return starlark.String(j.Verdict) }),
		value("difference", "% of speed, b against a, drift and wind allowed for", func(j *trial.Judgement) starlark.Value { return lang.NewEstimate(j.Difference) }),
		value("pairs", "neighbours as rowed, %, nothing allowed for", func(j *trial.Judgement) starlark.Value {
			items := make([]starlark.Value, len(j.Pairs))
			for i, p := range j.Pairs {
				items[i] = starlark.Float(p)
			}
			return starlark.Tuple(items)
		}),
		value("drift", "% of speed a piece", func(j *trial.Judgement) starlark.Value { return estimateOr(j.Drift) }),
		value("wind", "% of speed for each m/s of headwind; None where it was left out", func(j *trial.Judgement) starlark.Value { return estimateOr(j.Wind) }),
		number("chance", "", 2, "that the setting ahead is ahead by more than the worthwhile", func(j *trial.Judgement) float64 { return j.Chance }),
		value("odd", "pieces that stand apart, and the difference without each", func(j *trial.Judgement) starlark.Value { return lang.NewTable(oddTable(j)) }),
		value("more_pieces", "more of each setting that would tell a difference of this size; None: more than anybody rows", func(j *trial.Judgement) starlark.Value {
			if j.MorePieces < 0 {
				return starlark.None
			}
			return starlark.MakeInt(j.MorePieces)
		}),
		value("all", "every two settings, where there are more than two", func(j *trial.Judgement) starlark.Value {
			if j.All == nil {
				return starlark.None
			}
			return lang.NewTable(j.All)
		}),
		number("scatter", "%", 2, "of a piece, beyond all that was allowed for", func(j *trial.Judgement) float64 { return j.Scatter }),
		word("agreement", "model and water beside each other", func(j *trial.Judgement) string { return j.Agreement }),
		value("combined", "model and water together, where asked", func(j *trial.Judgement) starlark.Value { return estimateOr(j.Combined) }),
		value("left_over", "each piece with what nothing explains, %", func(j *trial.Judgement) starlark.Value { return lang.NewTable(j.Used) }),
	},
}

// oddTable lists the pieces that stand apart.
func oddTable(j *trial.Judgement) *table.Table {
	piece, off := table.NewColumn("piece", "", table.Number), table.NewColumn("off", "%", table.Number)
	off.Digits, off.Signed = 2, true
	without, verdict := table.NewColumn("without", "%", table.Measured), table.NewColumn("verdict", "", table.Text)
	for _, o := range j.Odd {
		piece.Nums, off.Nums = append(piece.Nums, o.Piece), append(off.Nums, o.Off)
		without.Estimates, verdict.Texts = append(without.Estimates, o.Without), append(verdict.Texts, o.Verdict)
	}
	return &table.Table{Name: "odd pieces", Columns: []*table.Column{piece, off, without, verdict}}
}
