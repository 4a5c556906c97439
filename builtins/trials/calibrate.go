package trials

import (
	"context"

	"go.starlark.net/starlark"

	"thole/builtins/asking"
	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/session"
	"thole/engine/trial"
)

var calibrateRecord = &lang.Record{
	Name: "calibrate", Topic: "trials", Summary: "fits inputs of a function to measured strokes",
	Params: []lang.Param{
		{Name: "fn", Is: lang.Func, Needed: true, Help: "gives a stroke for its inputs"},
		{Name: "measured", Is: lang.Dict, Needed: true,
			Help: `{"speed": about(4.9, 0.02), "handle_force": table of angle and handle_force}`}},
	Rest: &lang.Param{Name: "ranges", Is: lang.Any,
		Help: "a range by the name of each input: power=(330, 430), air=about(0.62, 0.08)"},
	Gives: "a fit: an estimate for each input, .stroke .misfit .unsettled",
	Errors: []string{
		"a measured thing that a stroke does not have", "a measurement without its error",
		"no stroke at any inputs",
	},
	Example: `calibrate(lambda power=360: usual.change(hold="handle_power", target=power), {"speed": ` +
		`about(4.9, 0.03)}, power=(250, 450))`,
	Sources: []string{"derived: Gauss–Newton with Levenberg's damping; errors widened by the root of the " +
		"mean squared miss"},
	Notes: []string{
		"of a handle_force over angles there and back the way back gives the zero; sign and direction are " +
			"found, too: all said",
		"a table's own column sd is its measurement error, else 4 % of its peak",
		"how badly the model misses beyond the errors widens all estimates",
	},
	Do: calibrateDo,
}

func calibrateDo(c *lang.Call) (starlark.Value, error) {
	if err := asking.NeedRanges(c, "power=(330, 430)"); err != nil {
		return nil, err
	}
	var names []string
	for _, n := range c.Rest {
		names = append(names, n.Name)
	}
	q, err := asking.NewQuestion(c, names, "fitting")
	if err != nil {
		return nil, err
	}
	ranges, err := q.Ranges(c.Rest)
	if err != nil {
		return nil, err
	}
	measured, err := measuredOf(c)
	if err != nil {
		return nil, err
	}
	p := trial.CalibrateProblem{Measured: measured, Model: modelOf(q, measured)}
	for i, r := range ranges {
		in := trial.Input{Name: r.Name, Unit: r.Unit, Digits: r.Digits, Low: r.Low, High: r.High,
			Start: r.Base}
		if about, ok := lang.Ranges.From(c.Rest[i].Value); ok {
			in.Mean, in.SD, in.Start = about.Value, about.SD, about.Value
			// as far as anybody would believe it, and never through nothing
			in.Low, in.High = about.Value-4*about.SD, about.Value+4*about.SD
			if about.Value > 0 && in.Low <= 0 {
				in.Low = about.Value / 100
			}
		}
		p.Inputs = append(p.Inputs, in)
	}
	fit, err := trial.Calibrate(c.Context(), p)
	switch {
	case q.Ended != nil:
		return nil, q.Ended
	case err != nil:
		if e := lang.AsError(err); e != nil {
			return nil, c.Wrong("fn", e)
		}
		return nil, spoken(err)
	}
	middle, err := callAt(q, fit.Mean)
	if err != nil {
		return nil, err
	}
	if _, ok := rowing.StrokeType.From(middle); !ok {
		middle = starlark.None
	}
	cautions(c, fit.Cautions)
	return fitThing(&fitValue{Fit: fit, stroke: middle, measured: measured}), nil
}

// callAt calls the function at one set of inputs.
func callAt(q *asking.Question, x []float64) (starlark.Value, error) {
	values := make([]starlark.Value, len(x))
	for i, v := range x {
		values[i] = starlark.Float(v)
	}
	return session.Of(q.C.Thread).Call(q.C, q.Fn, q.C.Record.Name, session.Inputs(q.Names, values))
}

// model turns the study's function into one that gives what was measured.
func modelOf(q *asking.Question, measured []trial.Quantity) trial.Model {
	return func(ctx context.Context, points [][]float64) ([]trial.Predicted, error) {
		inputs := func(i int) []starlark.Tuple {
			values := make([]starlark.Value, len(q.Names))
			for k, x := range points[i] {
				values[k] = starlark.Float(x)
			}
			return session.Inputs(q.Names, values)
		}
		done, err := session.Of(q.C.Thread).Each(q.C, session.Calls{Fn: q.Fn, N: len(points), Inputs: inputs,
			By: q.C.Record.Name, What: q.What})
		if err != nil {
			if ctx.Err() == nil {
				q.Ended = err
			}
			return nil, err
		}
		out := make([]trial.Predicted, len(points))
		for i, p := range done {
			if p.Err != nil {
				out[i].Err = p.Err
				continue
			}
			values, err := predictedBy(q.Fn, p.Value, measured)
			if _, no := lang.IsNoAnswer(err); no {
				out[i].Err = err
				continue
			}
			if err != nil {
				q.Ended = err
				if e := lang.AsError(err); e != nil {
					q.Ended = q.C.Wrong("fn", e)
				}
				return nil, q.Ended
			}
			out[i].Values = values
		}
		return out, nil
	}
}
