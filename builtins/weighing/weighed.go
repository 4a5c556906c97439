package weighing

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/trial"
	"thole/engine/weighing"
)

// weighedValue is what weigh gives.
type weighedValue struct{ w *weighing.Weighed }

var fields = []string{"table", "assumptions", "turns", "measure", "pieces", "crossed", "by_hold", "says"}

func (v *weighedValue) Type() string          { return "weighing" }
func (v *weighedValue) Freeze()               {} // cannot change anyway
func (v *weighedValue) Truth() starlark.Bool  { return true }
func (v *weighedValue) Hash() (uint32, error) { return starlark.String("weighing").Hash() }
func (v *weighedValue) Label() string         { return "" }
func (v *weighedValue) FieldNames() []string  { return fields }
func (v *weighedValue) AttrNames() []string   { return fields }

// String is the sentence on the speed.
func (v *weighedValue) String() string { return v.w.Sentence(v.w.Main()) }

// Field gives a part of the weighing.
func (v *weighedValue) Field(name string) (starlark.Value, lang.Field, bool) {
	f := lang.Field{Name: name}
	switch name {
	case "table":
		return lang.NewTable(verdictTable(v.w)), f, true
	case "assumptions":
		return lang.NewTable(assumptionTable(v.w)), f, true
	case "crossed":
		return lang.NewTable(crossedTable(v.w, v.w.Crossed)), f, true
	case "by_hold":
		return lang.NewTable(crossedTable(v.w, v.w.ByHold)), f, true
	case "turns":
		items := []starlark.Value{}
		for _, text := range v.w.Turns(v.w.Main()) {
			items = append(items, starlark.String(text))
		}
		return starlark.NewList(items), f, true
	case "measure":
		return starlark.String(v.w.Measure(v.w.Main())), f, true
	case "says":
		return starlark.String(v.String()), f, true
	case "pieces":
		if n := pieces(v.w); n > 0 {
			return starlark.MakeInt(n), f, true
		}
		return starlark.None, f, true
	}
	return nil, f, false
}

// Attr gives a part of the weighing.
func (v *weighedValue) Attr(name string) (starlark.Value, error) {
	if x, _, ok := v.Field(name); ok {
		return x, nil
	}
	return nil, lang.NoField("weighing", name, fields)
}

// Get gives w["speed"], the line of a quantity.
func (v *weighedValue) Get(k starlark.Value) (starlark.Value, bool, error) {
	name, _ := starlark.AsString(k)
	t := lang.NewTable(verdictTable(v.w))
	for i, q := range t.T.Column("quantity").Texts {
		if q == name {
			return t.Index(i), true, nil
		}
	}
	if v.w.Index(name) >= 0 {
		return nil, false, lang.Mistake("what changes nowhere has no line", `w["speed"]`,
			"%s is the same whatever was tried", name)
	}
	return nil, false, lang.NoField("weighing", name, t.T.Column("quantity").Texts)
}

// pieces are those that a trial needs with each rig to see the change in speed, by the
// arithmetic of trial_plan; 0: more than anybody rows.
func pieces(w *weighing.Weighed) int {
	change := math.Abs(w.Tries[0].Change[w.Index("speed")])
	if !(change > 0.01) {
		return 0
	}
	plan, err := trial.MakePlan(trial.PlanProblem{Settings: []string{"before", "after"}, Difference: change,
		TypicalError: 0.9, Pieces: 8, Distance: 500, Rest: 5, Change: 10, Seed: 1})
	if err != nil {
		return 0
	}
	return plan.Needed
}

var _ interface {
	lang.AnyThing
	starlark.Mapping
} = (*weighedValue)(nil)
