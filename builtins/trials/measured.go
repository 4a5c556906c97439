package trials

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/asking"
	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/engine/stroke"
	"thole/engine/table"
	"thole/engine/trial"
)

// curves are the columns of a trace that can be measured along the stroke.
var curves = []string{"handle_force", "boat_speed", "handle_speed", "blade_force"}

// predictedBy reads off a stroke (or a dict of numbers) what was measured.
func predictedBy(fn starlark.Callable, v starlark.Value, measured []trial.Quantity) ([]float64, error) {
	s, isStroke := rowing.StrokeType.From(v)
	outcome, err := asking.OutcomeOf(fn, v)
	if err != nil {
		return nil, err
	}
	if len(outcome) != 1 {
		return nil, lang.Mistake("what was measured belongs to one stroke", "return that stroke",
			"%s gives %d strokes", asking.FnName(fn), len(outcome))
	}
	var out []float64
	for _, m := range measured {
		if m.At == nil {
			x, ok := outcome[0].Get(m.Name)
			if !ok || x.IsText {
				return nil, lang.Mistake("what is measured is found in what "+asking.FnName(fn)+" gives",
					"return a stroke, or {"+strconv.Quote(m.Name)+": ...}", "%s gives no %q",
					asking.FnName(fn), m.Name)
			}
			out = append(out, x.Number)
			continue
		}
		if !isStroke {
			return nil, lang.Mistake("a curve is measured along a stroke", "return the stroke itself",
				"%s gives no stroke to compare %s with", asking.FnName(fn), m.Name)
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
func curveOf(s *rowing.Stroke, m trial.Quantity) ([]float64, error) {
	if m.AtName == "angle" {
		t, err := s.Trace(m.At)
		if err != nil {
			return nil, rowing.NoStroke(err)
		}
		out := append([]float64(nil), t.Column(m.Name).Nums...)
		for i, v := range out {
			if math.IsNaN(v) {
				if m.Name == "boat_speed" {
					return nil, lang.NoAnswer("boat_speed was measured there",
						"a table with angles inside the arc",
						"at %s deg the oar of this stroke does not come", table.Fixed(m.At[i], 1))
				}
				out[i] = 0
			}
		}
		return out, nil
	}
	t, err := s.Trace(nil)
	if err != nil {
		return nil, rowing.NoStroke(err)
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
			return nil, c.Wrong("measured", lang.Mistake("what was measured goes by a stroke's names",
				`{"speed": about(4.9, 0.03)}`, "measured= has %s for a name", kv[0]))
		}
		m, err := measuredAs(name, kv[1])
		if err != nil {
			return nil, c.Wrong("measured", err)
		}
		putRight(c, &m)
		list = append(list, m)
	}
	if len(list) == 0 {
		return nil, c.Wrong("measured", lang.Mistake("a model is fitted to measurements",
			`{"speed": about(4.9, 0.03)}`, "nothing was measured"))
	}
	return list, nil
}

// putRight sets sign, zero and angles of a measured pull right where its samples show them,
// and says so.
func putRight(c *lang.Call, q *trial.Quantity) {
	if q.Name != "handle_force" || q.AtName != "angle" {
		return
	}
	m := trial.ForceOverAngle(q.At, q.Value)
	q.At, q.Value = m.At, m.Force
	if q.SD != nil {
		sd := make([]float64, len(m.Rows))
		for k, i := range m.Rows {
			sd[k] = q.SD[i]
		}
		q.SD = sd
	}
	if len(m.Said) > 0 {
		cautions(c, []string{"measured force: " + strings.Join(m.Said, "; ")})
	}
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
		return q, lang.Mistake("without its error nobody knows how much it weighs",
			fmt.Sprintf("%q: about(%s, %s)", name, table.Fixed(x, -1), table.Fixed(math.Abs(x)/100, -1)),
			"%s is one number without its error", name)
	}
	return q, lang.Mistake("a number with its error, or a table along the stroke",
		fmt.Sprintf("%q: about(value, sd)", name), "%s= is %s", name, lang.KindOf(v))
}

func measuredCurve(name string, t *table.Table) (trial.Quantity, *lang.Error) {
	q := trial.Quantity{Name: name}
	if !slices.Contains(curves, name) {
		near := cmp.Or(table.Nearest(name, curves), curves[0])
		return q, lang.Mistake("along the stroke are measured "+strings.Join(curves, ", "),
			strconv.Quote(near)+": table", "a stroke has no curve %q", name)
	}
	column := t.Column(name)
	if column == nil && name == "handle_force" {
		column = t.Column("force")
	}
	if column == nil || column.Kind != table.Number {
		return q, lang.Mistake("the table of "+name+" has a column of that name",
			fmt.Sprintf(`read_csv("force.csv", columns=["angle (deg)", %q])`,
				name+" ("+table.NewColumn(name, "", table.Number).Unit+")"), "the table has no column %s",
			name)
	}
	q.Unit, q.Digits = column.Unit, column.Digits
	for _, along := range []struct{ name, unit string }{{"angle", "deg"}, {"time", "s"}} {
		if at := t.Column(along.name); at != nil && at.Kind == table.Number {
			q.AtName, q.AtUnit, q.At = along.name, along.unit, at.Nums
			break
		}
	}
	if q.At == nil {
		return q, lang.Mistake("a curve is measured along the oar's angle, or along the time since the catch",
			`columns=["angle (deg)", ...]`, "the table of %s has neither angle nor time", name)
	}
	q.Value = column.Nums
	if sd := t.Column("sd"); sd != nil && sd.Kind == table.Number {
		q.SD = sd.Nums
	}
	for i := range q.Value {
		if math.IsNaN(q.Value[i]) || math.IsNaN(q.At[i]) || q.SD != nil && math.IsNaN(q.SD[i]) {
			return q, lang.Mistake("a measured curve has no blanks",
				".complete() takes lines with blanks out", "line %d of the table of %s has a blank", i+1,
				name)
		}
	}
	if len(q.Value) == 0 {
		return q, lang.Mistake("a curve is a line each", "a table with lines", "the table of %s is empty",
			name)
	}
	return q, nil
}
