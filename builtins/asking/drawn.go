package asking

import (
	"fmt"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/views"
	"thole/engine/document"
	"thole/engine/stroke"
	"thole/engine/study"
	"thole/engine/table"
)

// drawnValue is what uncertainty gives: an estimate for each output by its
// name, or for each case one thing with an estimate for each output.
type drawnValue struct {
	d    *study.Drawn
	from *drawnFrom
}

func init() {
	views.ByKind["uncertainty"] = func(v, _ starlark.Value) []document.Block {
		t := drawnTable(v.(*drawnValue).d)
		return []document.Block{&document.Shown{Table: t, Side: t.Side}}
	}
}

func (u *drawnValue) Type() string          { return "uncertainty" }
func (u *drawnValue) Freeze()               {} // cannot change anyway
func (u *drawnValue) Truth() starlark.Bool  { return true }
func (u *drawnValue) Hash() (uint32, error) { return starlark.String("uncertainty").Hash() }
func (u *drawnValue) Label() string         { return "" }

// String is the estimates in a row, or the cases' names.
func (u *drawnValue) String() string {
	if u.cases() {
		return fmt.Sprintf("uncertainty of %s, %d draws: compare() tells them apart", strings.Join(u.d.Cases,
			", "), len(u.d.Values[0][0]))
	}
	if u.single() {
		return estimateOf(u.d, 0, 0).String()
	}
	parts := make([]string, len(u.d.Outputs))
	for k, q := range u.d.Outputs {
		parts[k] = q.Name + " " + estimateOf(u.d, 0, k).String()
	}
	return strings.Join(parts, "; ")
}

// cases says whether the function gave several things by name.
func (u *drawnValue) cases() bool { return len(u.d.Cases) > 1 || u.d.Cases[0] != "" }

// single says whether there is one bare number only: then its estimate's own
// fields are the thing's too.
func (u *drawnValue) single() bool { return !u.cases() && len(u.d.Outputs) == 1 }

// FieldNames lists outputs or cases, then table.
func (u *drawnValue) FieldNames() []string {
	var names []string
	if u.cases() {
		names = append(names, u.d.Cases...)
	} else {
		names = outputNames(u.d)
	}
	if u.single() {
		for _, n := range []string{"value", "low", "high", "as_set", "unit", "verdict"} {
			if n != names[0] {
				names = append(names, n)
			}
		}
	}
	return append(names, "table")
}

func outputNames(d *study.Drawn) []string {
	names := make([]string, len(d.Outputs))
	for k, q := range d.Outputs {
		names[k] = q.Name
	}
	return names
}

// AttrNames lists the fields.
func (u *drawnValue) AttrNames() []string { return u.FieldNames() }

// Field gives an estimate, a case, or the table of all.
func (u *drawnValue) Field(name string) (starlark.Value, lang.Field, bool) {
	f := lang.Field{Name: name, Digits: table.AutoDigits, Change: table.AutoDigits}
	if u.cases() {
		for i, c := range u.d.Cases {
			if c == name {
				return &drawnCase{u.d, i}, f, true
			}
		}
	} else if v, field, ok := estimateField(u.d, 0, name); ok {
		return v, field, true
	}
	if name == "table" {
		return lang.NewTable(drawnTable(u.d)), f, true
	}
	if u.single() {
		return lang.NewEstimate(estimateOf(u.d, 0, 0)).Field(name)
	}
	return nil, f, false
}

// Attr gives a field.
func (u *drawnValue) Attr(name string) (starlark.Value, error) {
	if v, _, ok := u.Field(name); ok {
		return v, nil
	}
	return nil, noOutput("uncertainty", name, u.FieldNames())
}

// Get gives u["shorter"], for names that are no words.
func (u *drawnValue) Get(k starlark.Value) (starlark.Value, bool, error) {
	name, _ := starlark.AsString(k)
	if v, _, ok := u.Field(name); ok {
		return v, true, nil
	}
	return nil, false, noOutput("uncertainty", name, u.FieldNames())
}

// noOutput is the error of a name that was not among the outputs.
func noOutput(kind, name string, names []string) error {
	if near := table.Nearest(name, names); near != "" {
		return lang.Mistake("the nearest name is "+near, "."+near, "this %s has no %q", kind, name)
	}
	return lang.Mistake("it has "+fewNames(names), "."+names[0], "this %s has no %q", kind, name)
}

// drawnCase is one alternative of an uncertainty.
type drawnCase struct {
	d    *study.Drawn
	kase int
}

func (c *drawnCase) String() string {
	return fmt.Sprintf("%s: estimates of %s", c.Label(), fewNames(outputNames(c.d)))
}
func (c *drawnCase) Type() string          { return "drawn case" }
func (c *drawnCase) Freeze()               {} // cannot change anyway
func (c *drawnCase) Truth() starlark.Bool  { return true }
func (c *drawnCase) Hash() (uint32, error) { return starlark.String(c.Label()).Hash() }
func (c *drawnCase) Label() string         { return c.d.Cases[c.kase] }
func (c *drawnCase) FieldNames() []string  { return outputNames(c.d) }
func (c *drawnCase) AttrNames() []string   { return outputNames(c.d) }

// Field gives an estimate.
func (c *drawnCase) Field(name string) (starlark.Value, lang.Field, bool) {
	return estimateField(c.d, c.kase, name)
}

// Attr gives an estimate.
func (c *drawnCase) Attr(name string) (starlark.Value, error) {
	if v, _, ok := c.Field(name); ok {
		return v, nil
	}
	return nil, noOutput("case", name, c.FieldNames())
}

// estimateOf is an output's estimate. A result field of a stroke is a level, not
// a change: that it lies above 0 is no verdict.
func estimateOf(d *study.Drawn, kase, output int) *table.Estimate {
	e := d.Estimate(kase, output)
	if _, level := stroke.FieldNamed(d.Outputs[output].Name); level {
		e.Verdict = ""
	}
	return e
}

func estimateField(d *study.Drawn, kase int, name string) (starlark.Value, lang.Field, bool) {
	for k, q := range d.Outputs {
		if q.Name == name {
			return lang.NewEstimate(estimateOf(d, kase, k)), lang.Field{Name: name, Unit: q.Unit,
				Digits: q.Digits, Change: q.Change}, true
		}
	}
	return nil, lang.Field{}, false
}

var (
	_ lang.AnyThing    = (*drawnValue)(nil)
	_ lang.AnyThing    = (*drawnCase)(nil)
	_ starlark.Mapping = (*drawnValue)(nil)
)
