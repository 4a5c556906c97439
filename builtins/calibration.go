package builtins

import (
	"context"
	"fmt"
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/stroke"
	"thole/engine/study"
	"thole/engine/table"
	"thole/engine/trial"
)

var calibrateRecord = &lang.Record{
	Name: "calibrate", Topic: "trials", Summary: "fits inputs of a function to measured strokes",
	Params: []lang.Param{
		{Name: "fn", Is: lang.Func, Needed: true, Help: "gives a stroke for its inputs"},
		{Name: "measured", Is: lang.Dict, Needed: true, Help: `{"speed": about(4.9, 0.02), "handle_force": table of angle and handle_force}`}},
	Rest:  &lang.Param{Name: "ranges", Is: lang.Any, Help: "a range by the name of each input: power=(330, 430), air=about(0.62, 0.08)"},
	Gives: "a fit: an estimate for each input, .stroke .misfit .unsettled",
	Errors: []string{
		"a measured thing that a stroke does not have", "a measurement without its error", "no stroke at any inputs",
	},
	Example: `calibrate(lambda power=360: usual.change(hold="handle_power", target=power), {"speed": about(4.9, 0.03)}, power=(250, 450))`,
	Sources: []string{"Gauss–Newton with Levenberg's damping; errors widened by the root of the mean squared miss"},
	Notes: []string{
		"a table's own column sd is its measurement error, else 4 % of its peak",
		"how badly the model misses beyond the errors widens all estimates",
	},
}

func init() { calibrateRecord.Do = calibrateDo }

// fitValue is a calibration of a study, with the stroke at its middle.
type fitValue struct {
	*trial.Fit
	stroke   starlark.Value // None where fn gave no stroke
	measured []trial.Quantity
}

// curves are the columns of a trace that can be measured along the stroke.
var curves = []string{"handle_force", "boat_speed", "handle_speed", "blade_force"}

func calibrateDo(c *lang.Call) (starlark.Value, error) {
	if err := needRanges(c, "power=(330, 430)"); err != nil {
		return nil, err
	}
	var names []string
	for _, n := range c.Rest {
		names = append(names, n.Name)
	}
	q, err := newQuestion(c, names, "fitting")
	if err != nil {
		return nil, err
	}
	ranges, err := q.ranges(c.Rest)
	if err != nil {
		return nil, err
	}
	measured, err := measuredOf(c)
	if err != nil {
		return nil, err
	}
	p := trial.CalibrateProblem{Measured: measured, Model: q.model(measured)}
	for i, r := range ranges {
		in := trial.Input{Name: r.Name, Unit: r.Unit, Digits: r.Digits, Low: r.Low, High: r.High, Start: r.Base}
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
	case q.ended != nil:
		return nil, q.ended
	case err != nil:
		if e := lang.AsError(err); e != nil {
			return nil, c.Wrong("fn", e)
		}
		return nil, spoken(err)
	}
	middle, err := q.at(fit.Mean)
	if err != nil {
		return nil, err
	}
	if _, ok := strokeType.From(middle); !ok {
		middle = starlark.None
	}
	cautions(c, fit.Cautions)
	return fitThing(&fitValue{Fit: fit, stroke: middle, measured: measured}), nil
}

// at calls the function at one set of inputs.
func (q *question) at(x []float64) (starlark.Value, error) {
	values := make([]starlark.Value, len(x))
	for i, v := range x {
		values[i] = starlark.Float(v)
	}
	return session.Of(q.c.Thread).Call(q.c, q.fn, q.c.Record.Name, session.Inputs(q.names, values))
}

// model turns the study's function into one that gives what was measured.
func (q *question) model(measured []trial.Quantity) trial.Model {
	return func(ctx context.Context, points [][]float64) ([]trial.Predicted, error) {
		inputs := func(i int) []starlark.Tuple {
			values := make([]starlark.Value, len(q.names))
			for k, x := range points[i] {
				values[k] = starlark.Float(x)
			}
			return session.Inputs(q.names, values)
		}
		done, err := session.Of(q.c.Thread).Each(q.c, q.fn, len(points), inputs, q.c.Record.Name, q.what)
		if err != nil {
			if ctx.Err() == nil {
				q.ended = err
			}
			return nil, err
		}
		out := make([]trial.Predicted, len(points))
		for i, p := range done {
			if p.Err != nil {
				out[i].Err = p.Err
				continue
			}
			values, err := predictedBy(q.fn, p.Value, measured)
			if _, no := lang.IsNoAnswer(err); no {
				out[i].Err = err
				continue
			}
			if err != nil {
				q.ended = err
				if e := lang.AsError(err); e != nil {
					q.ended = q.c.Wrong("fn", e)
				}
				return nil, q.ended
			}
			out[i].Values = values
		}
		return out, nil
	}
}

// predictedBy reads off a stroke (or a dict of numbers) what was measured.
func predictedBy(fn starlark.Callable, v starlark.Value, measured []trial.Quantity) ([]float64, error) {
	s, isStroke := strokeType.From(v)
	outcome, err := outcomeOf(fn, v)
	if err != nil {
		return nil, err
	}
	if len(outcome) != 1 {
		return nil, lang.Mistake("what was measured belongs to one stroke", "return that stroke", "%s gives %d strokes", fnName(fn), len(outcome))
	}
	var out []float64
	for _, m := range measured {
		if m.At == nil {
			x, ok := outcome[0].Get(m.Name)
			if !ok || x.IsText {
				return nil, lang.Mistake("what is measured is found in what "+fnName(fn)+" gives", "return a stroke, or {"+quote(m.Name)+": ...}", "%s gives no %q", fnName(fn), m.Name)
			}
			out = append(out, x.Number)
			continue
		}
		if !isStroke {
			return nil, lang.Mistake("a curve is measured along a stroke", "return the stroke itself", "%s gives no stroke to compare %s with", fnName(fn), m.Name)
		}
		curve, err := curveOf(s, m)
		if err != nil {
			return nil, err
		}
		out = append(out, curve...)
	}
	return out, nil
}

// curveOf reads a trace where it was measured: at oar angles, or at times since
// the catch. Out of the arc, and out of the water, there is no force.
func curveOf(s *strokeValue, m trial.Quantity) ([]float64, error) {
	if m.AtName == "angle" {
		t, err := s.Trace(m.At)
		if err != nil {
			return nil, noStroke(err)
		}
		out := append([]float64(nil), t.Column(m.Name).Nums...)
		for i, v := range out {
			if math.IsNaN(v) {
				if m.Name == "boat_speed" {
					return nil, lang.NoAnswer("boat_speed was measured there", "a table with angles inside the arc", "at %s deg the oar of this stroke does not come", show(m.At[i], 1))
				}
				out[i] = 0
			}
		}
		return out, nil
	}
	t, err := s.Trace(nil)
	if err != nil {
		return nil, noStroke(err)
	}
	time, values := t.Column("time").Nums, t.Column(m.Name).Nums
	out := make([]float64, len(m.At))
	for i, at := range m.At {
		out[i] = between(time, values, math.Mod(at, time[len(time)-1]))
	}
	return out, nil
}

// between reads a curve between its points, straight; blanks count as nothing.
func between(x, y []float64, at float64) float64 {
	k := 1
	for k < len(x)-1 && x[k] < at {
		k++
	}
	u := (at - x[k-1]) / (x[k] - x[k-1])
	v := y[k-1] + u*(y[k]-y[k-1])
	if math.IsNaN(v) {
		return 0
	}
	return v
}

// measuredOf reads the dict of what was measured.
func measuredOf(c *lang.Call) ([]trial.Quantity, error) {
	d := c.Value("measured").(*starlark.Dict)
	var list []trial.Quantity
	for _, kv := range d.Items() {
		name, ok := starlark.AsString(kv[0])
		if !ok {
			return nil, c.Wrong("measured", lang.Mistake("what was measured goes by a stroke's names", `{"speed": about(4.9, 0.03)}`, "measured= has %s for a name", kv[0]))
		}
		m, err := measuredAs(name, kv[1])
		if err != nil {
			return nil, c.Wrong("measured", err)
		}
		list = append(list, m)
	}
	if len(list) == 0 {
		return nil, c.Wrong("measured", lang.Mistake("a model is fitted to measurements", `{"speed": about(4.9, 0.03)}`, "nothing was measured"))
	}
	return list, nil
}

func measuredAs(name string, v starlark.Value) (trial.Quantity, *lang.Error) {
	q := trial.Quantity{Name: name, Digits: table.AutoDigits}
	if f, ok := stroke.FieldNamed(name); ok {
		q.Unit, q.Digits = f.Unit, f.Digits
	}
	if about, ok := lang.Ranges.From(v); ok {
		q.Value, q.SD = []float64{about.Value}, []float64{about.SD}
		return q, nil
	}
	switch v := v.(type) {
	case *lang.Estimate:
		q.Value, q.SD = []float64{v.E.Value}, []float64{(v.E.High - v.E.Low) / (2 * 1.96)}
		return q, nil
	case *lang.Table:
		return measuredCurve(name, v.T)
	}
	if x, ok := lang.AsNumber(v); ok {
		return q, lang.Mistake("without its error nobody knows how much it weighs", fmt.Sprintf("%q: about(%s, %s)", name, show(x, -1), show(math.Abs(x)/100, -1)), "%s is one number without its error", name)
	}
	return q, lang.Mistake("a number with its error, or a table along the stroke", fmt.Sprintf("%q: about(value, sd)", name), "%s= is %s", name, lang.KindOf(v))
}

func measuredCurve(name string, t *table.Table) (trial.Quantity, *lang.Error) {
	q := trial.Quantity{Name: name}
	if !contains(curves, name) {
		near := table.Nearest(name, curves)
		if near == "" {
			near = curves[0]
		}
		return q, lang.Mistake("along the stroke are measured "+listTexts(curves), quote(near)+": table", "a stroke has no curve %q", name)
	}
	column := t.Column(name)
	if column == nil || column.Kind != table.Number {
		return q, lang.Mistake("the table of "+name+" has a column of that name", fmt.Sprintf(`read_csv("force.csv", columns=["angle (deg)", %q])`, name+" ("+table.NewColumn(name, "", table.Number).Unit+")"), "the table has no column %s", name)
	}
	q.Unit, q.Digits = column.Unit, column.Digits
	for _, along := range []struct{ name, unit string }{{"angle", "deg"}, {"time", "s"}} {
		if at := t.Column(along.name); at != nil && at.Kind == table.Number {
			q.AtName, q.AtUnit, q.At = along.name, along.unit, at.Nums
			break
		}
	}
	if q.At == nil {
		return q, lang.Mistake("a curve is measured along the oar's angle, or along the time since the catch", `columns=["angle (deg)", ...]`, "the table of %s has neither angle nor time", name)
	}
	q.Value = column.Nums
	if sd := t.Column("sd"); sd != nil && sd.Kind == table.Number {
		q.SD = sd.Nums
	}
	for i := range q.Value {
		if math.IsNaN(q.Value[i]) || math.IsNaN(q.At[i]) || q.SD != nil && math.IsNaN(q.SD[i]) {
			return q, lang.Mistake("a measured curve has no blanks", ".complete() takes lines with blanks out", "line %d of the table of %s has a blank", i+1, name)
		}
	}
	if len(q.Value) == 0 {
		return q, lang.Mistake("a curve is a line each", "a table with lines", "the table of %s is empty", name)
	}
	return q, nil
}

// fitThing makes the value of a fit: its inputs are fields by their own names.
func fitThing(f *fitValue) starlark.Value {
	t := &lang.Type[*fitValue]{Name: "fit", Line: fitLine, Methods: nil}
	for i, name := range f.Names {
		t.Fields = append(t.Fields, value(name, "an input, as the measurements settle it", func(f *fitValue) starlark.Value { return lang.NewEstimate(f.Estimates[i]) }))
	}
	t.Fields = append(t.Fields, fitFields...)
	return t.New(f)
}

var fitFields = []lang.FieldOf[*fitValue]{
	value("stroke", "at the fitted inputs", func(f *fitValue) starlark.Value { return f.stroke }),
	value("misfit", "measured and fitted, value by value", func(f *fitValue) starlark.Value { return lang.NewTable(f.Misfit) }),
	value("unsettled", "inputs that these data cannot tell", func(f *fitValue) starlark.Value { return lang.Strings(f.Unsettled) }),
	number("widened", "", 2, "how much the errors grew because the model misses; 1: not at all", func(f *fitValue) float64 { return f.Widened }),
}

// fitType documents a fit for help; each fit's own type has its inputs besides.
var fitType = &lang.Type[*fitValue]{Name: "fit", Line: fitLine, Fields: fitFields}

func fitLine(f *fitValue) string {
	text := "fit:"
	for i, name := range f.Names {
		if i > 0 {
			text += ","
		}
		text += " " + name + " " + f.Estimates[i].String()
	}
	return text
}

// fitOf gives a fit, whatever inputs it has.
func fitOf(v starlark.Value) (*fitValue, bool) {
	t, ok := v.(*lang.Thing[*fitValue])
	if !ok {
		return nil, false
	}
	return t.Go, true
}

// jointOf gives the inputs of a fit to be drawn together.
func jointOf(v starlark.Value) (*study.Joint, bool) {
	f, ok := fitOf(v)
	if !ok {
		return nil, false
	}
	return &study.Joint{Names: f.Names, Mean: f.Mean, Cov: f.Covariance, Low: f.Low, High: f.High}, true
}
