package asking

import (
	"context"
	"errors"
	"fmt"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/study"
	"thole/engine/table"
)

var uncertaintyRecord = &lang.Record{
	Name: "uncertainty", Topic: "asking", Says: "it draws what is in doubt and says how sure the answer is",
	Summary: "what a function gives when its inputs are in doubt: draws, pair by pair",
	Params: []lang.Param{fnParam,
		{Name: "draws", Is: lang.Whole, ByName: true, Default: 400, Low: 10, High: 100000, Help: "how many"},
		{Name: "seed", Is: lang.Whole, ByName: true, Default: 1, Low: 0, High: 1e9,
			Help: "the same seed gives the same draws"},
		{Name: "fit", Is: lang.ThingOf, Types: []string{"fit"}, ByName: true,
			Help: "a calibrate(): its inputs are drawn jointly"}},
	Rest: rangeParam,
	Gives: "an estimate for each output (u.shorter) and u.table; for a dict of strokes one of each " +
		"(u.now.speed), and compare(u) for the changes",
	Errors: []string{"more than half of the draws without an answer: with the commonest reason"},
	Example: `uncertainty(lambda wind: {"slower (s)": usual.change(wind=wind).time(2000) - ` +
		`usual.time(2000)}, draws=60, wind=(1, 3))`,
	Sources: []string{"scrambled Halton points: Owen 2017", "quantiles: Hyndman & Fan 1996, definition 8"},
	Notes: []string{"alternatives inside fn share each draw: their difference keeps an interval of its own",
		"doubt(\"blade\") gives ready ranges with their sources",
		"an input of a field's name that was rowed otherwise stands beside it, as inboard_asked"},
	Do: uncertaintyDo,
}

// fewDraws: of fewer not one lies beyond an end of the interval.
const fewDraws = 40

func uncertaintyDo(c *lang.Call) (starlark.Value, error) {
	LeaveOut(c)
	d := study.Doubt{Draws: c.Whole("draws"), Seed: uint64(c.Whole("seed"))}
	names := NamesOf(c.Rest)
	if c.Given("fit") {
		d.Joint = lang.GoOf(c.Value("fit")).(interface{ Joint() *study.Joint }).Joint()
		for _, n := range d.Joint.Names {
			for _, have := range names {
				if n == have {
					return nil,
						c.Wrong(n, lang.Mistake("the fit draws it already, together with its other inputs",
							"leave "+n+"= out", "%s is in doubt twice", n))
				}
			}
		}
		names = append(names, d.Joint.Names...)
	} else if err := NeedRanges(c, `**doubt("blade")`); err != nil {
		return nil, err
	}
	q, err := NewQuestion(c, names, "drawing")
	if err != nil {
		return nil, err
	}
	if d.Ranges, err = q.Ranges(c.Rest); err != nil {
		return nil, err
	}
	session.Of(c.Thread).Seed(int64(d.Seed))
	q.quiet = true
	drawn, err := study.Uncertainty(c.Context(), q.besideAsked, d)
	if err != nil {
		var unfinished *study.Unfinished
		if errors.As(err, &unfinished) && drawn != nil {
			session.Of(c.Thread).Keep(drawnTable(drawn))
		}
		return nil, q.Tell(err, "")
	}
	q.aloud(d.Base())
	if d.Draws < fewDraws {
		lang.HostOf(c.Thread).Caution(c.Thread,
			lang.Caution{Text: fmt.Sprintf("%d draws are few: the ends of a 95 %% interval rest on one or "+
				"two of them", d.Draws), Arg: "draws",
				Why: "one draw in forty lies beyond each end", Type: "draws=400"})
	}
	if f := drawn.Failed; f != nil {
		lang.HostOf(c.Thread).Caution(c.Thread,
			lang.Caution{Text: fmt.Sprintf("%d of %d draws have no answer and were left out, in every "+
				"alternative", f.Count, f.Of), Arg: "fn",
				Why: f.Reason.Error(), Type: "narrower ranges, if the doubt is not as wide"})
	}
	return &drawnValue{drawn, &drawnFrom{q.Fn, names, d.Base()}}, nil
}

// besideAsked answers as Batch does, with what was asked beside what was rowed where they differ.
func (q *Question) besideAsked(ctx context.Context, points []study.Point) []study.Result {
	results := q.Batch(ctx, points)
	study.PutAskedBeside(q.Names, points, results)
	return results
}

// drawnTable lays the estimates out, a line each.
func drawnTable(d *study.Drawn) *table.Table {
	kase, name := table.NewColumn("case", "", table.Text), table.NewColumn("quantity", "", table.Text)
	unit, value := table.NewColumn("unit", "", table.Text), table.NewColumn("value", "", table.Measured)
	low, high := table.NewColumn("low", "", table.Number), table.NewColumn("high", "", table.Number)
	asSet, verdict := table.NewColumn("as_set", "", table.Number), table.NewColumn("verdict", "", table.Text)
	for c := range d.Cases {
		for k, q := range d.Outputs {
			e := estimateOf(d, c, k)
			kase.Texts, name.Texts, unit.Texts = append(kase.Texts, d.Cases[c]), append(name.Texts, q.Name),
				append(unit.Texts, q.Unit)
			value.Estimates, verdict.Texts = append(value.Estimates, e), append(verdict.Texts, e.Verdict)
			for _, col := range []*table.Column{value, low, high, asSet} {
				col.Units, col.Places = append(col.Units, q.Unit), append(col.Places, q.Digits)
			}
			low.Nums, high.Nums, asSet.Nums = append(low.Nums, e.Low), append(high.Nums, e.High),
				append(asSet.Nums, e.AsSet)
		}
	}
	columns := []*table.Column{name, unit, value, low, high, asSet, verdict}
	if len(d.Cases) > 1 || d.Cases[0] != "" {
		columns = append([]*table.Column{kase}, columns...)
	}
	return &table.Table{Columns: columns, Side: fmt.Sprintf("%d draws, 95 %%", len(d.Values[0][0]))}
}
